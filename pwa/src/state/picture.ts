// From the camera's file to what is kept: at most 1600 pixels, JPEG, without the camera's own notes
// (place, maker), since a canvas gives none on.
import { flawOf, type Flaw } from '../dig/flaw';

export type { Flaw };

const mostSide = 1600;
const thumbSide = 96;
const mostBytes = 1_000_000; // the server takes 1 MiB
const mostThumbBytes = 4096;
const qualities = [0.82, 0.7, 0.55, 0.4] as const;
const thumbQualities = [0.6, 0.4, 0.25, 0.1] as const;

export interface Drawn {
  bytes: ArrayBuffer;
  sha256: string;
  w: number;
  h: number;
  /** Base64, at most 4 KiB before it. */
  thumb: string;
  flaw?: Flaw;
}

/** The middle of a picture is looked at dot by dot: that is where the roots are held. */
const lookedAt = 320;

function flawIn(canvas: HTMLCanvasElement): Flaw | undefined {
  const [w, h] = [Math.min(lookedAt, canvas.width), Math.min(lookedAt, canvas.height)];
  const [x, y] = [Math.floor((canvas.width - w) / 2), Math.floor((canvas.height - h) / 2)];
  const dots = canvas.getContext('2d')?.getImageData(x, y, w, h).data;
  return dots && flawOf(dots, w, h);
}

function scaled(image: ImageBitmap, side: number): HTMLCanvasElement {
  const factor = Math.min(1, side / Math.max(image.width, image.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(image.width * factor));
  canvas.height = Math.max(1, Math.round(image.height * factor));
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas;
}

async function jpeg(
  canvas: HTMLCanvasElement,
  tries: readonly number[],
  most: number,
): Promise<ArrayBuffer | undefined> {
  for (const quality of tries) {
    const blob = await new Promise<Blob | null>((done) =>
      canvas.toBlob(done, 'image/jpeg', quality),
    );
    if (blob && blob.size <= most) return blob.arrayBuffer();
  }
  return undefined;
}

const hex = (bytes: ArrayBuffer): string =>
  [...new Uint8Array(bytes)].map((b) => b.toString(16).padStart(2, '0')).join('');

/** Draws a picture anew; undefined where the file is none or will not get small enough. */
export async function draw(file: Blob): Promise<Drawn | undefined> {
  try {
    const image = await createImageBitmap(file);
    const canvas = scaled(image, mostSide);
    const bytes = await jpeg(canvas, qualities, mostBytes);
    if (!bytes) return undefined;
    const small = await jpeg(scaled(image, thumbSide), thumbQualities, mostThumbBytes);
    const thumb = small ? btoa(String.fromCharCode(...new Uint8Array(small))) : '';
    const sha256 = hex(await crypto.subtle.digest('SHA-256', bytes));
    const flaw = flawIn(canvas);
    return { bytes, sha256, w: canvas.width, h: canvas.height, thumb, ...(flaw ? { flaw } : {}) };
  } catch {
    return undefined;
  }
}
