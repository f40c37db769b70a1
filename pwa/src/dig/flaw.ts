// What is wrong with a picture as far as its dots tell: it is dark, or nothing in it is sharp. Said
// as a hint, never a wall: the person sees more than this does.

export type Flaw = 'dark' | 'blurred';

/** Mean brightness of 255 below which roots are hard to tell apart (ours). */
const darkMean = 45;

/** Variance of the second difference, of 255, below which not one edge is sharp (ours). */
const flatSpread = 12;

/** Judges dots as a canvas gives them: red, green, blue, alpha. */
export function flawOf(dots: Uint8ClampedArray, width: number, height: number): Flaw | undefined {
  const grey = new Float32Array(width * height);
  let sum = 0;
  for (let i = 0; i < grey.length; i++) {
    const [red = 0, green = 0, blue = 0] = dots.subarray(4 * i, 4 * i + 3);
    grey[i] = 0.299 * red + 0.587 * green + 0.114 * blue; // ITU-R BT.601, from memory
    sum += grey[i] ?? 0;
  }
  if (sum / grey.length < darkMean) return 'dark';
  return spreadOf(grey, width, height) < flatSpread ? 'blurred' : undefined;
}

/** The variance of the Laplacian: large where there are edges. */
function spreadOf(grey: Float32Array, width: number, height: number): number {
  const at = (i: number): number => grey[i] ?? 0;
  let [n, sum, squares] = [0, 0, 0];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const bend = at(i - 1) + at(i + 1) + at(i - width) + at(i + width) - 4 * at(i);
      n++;
      sum += bend;
      squares += bend * bend;
    }
  }
  return n === 0 ? Infinity : squares / n - (sum / n) ** 2;
}
