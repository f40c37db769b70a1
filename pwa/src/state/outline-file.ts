// Files with outlines: GeoJSON as it is; KML and shapefiles by libraries that come in at first use.
import { featuresIn, featuresOf, type Found, type Refused } from '../outline/read';
import { parseXML } from '../trust';
import { t, type Key } from './words';

/** A season's fields of a large farm are a tenth of it. */
export const mostFileBytes = 20 << 20;

const broken = (fault: Refused['fault']): Found => ({
  features: [],
  refused: [{ fault, feature: 0 }],
  others: 0,
});

/** Reads any of the kinds by its content, not by its name: phones change names. */
export async function readFile(file: File): Promise<Found> {
  if (file.size > mostFileBytes) return broken('tooLarge');
  const bytes = await file.arrayBuffer();
  const head = new Uint8Array(bytes.slice(0, 4));
  if (head[0] === 0x50 && head[1] === 0x4b) return shapes(bytes);
  // A bare .shp begins with 9994; without its companions it has neither names nor a grid.
  if (head[2] === 0x27 && head[3] === 0x0a) return broken('bareShape');
  const text = new TextDecoder().decode(bytes);
  return text.trimStart().startsWith('<') ? kml(text) : featuresOf(text);
}

/** A ZIP ends with its directory, "PK" 5 6, and a note of at most 65,535 bytes behind it. */
function hasDirectory(bytes: ArrayBuffer): boolean {
  const most = 65_535 + 22;
  const tail = new Uint8Array(bytes, Math.max(0, bytes.byteLength - most));
  return tail.some(
    (b, i) => b === 0x50 && tail[i + 1] === 0x4b && tail[i + 2] === 5 && tail[i + 3] === 6,
  );
}

async function shapes(bytes: ArrayBuffer): Promise<Found> {
  // Without one the library looks for it for ever.
  if (!hasDirectory(bytes)) return broken('badShape');
  const { default: shp } = await import('shpjs');
  try {
    return featuresIn(await shp(bytes));
  } catch {
    return broken('badShape');
  }
}

async function kml(text: string): Promise<Found> {
  const { kml: read } = await import('@tmcw/togeojson');
  const page = parseXML(text);
  if (page.querySelector('parsererror')) return broken('badXML');
  return featuresIn(read(page));
}

/** "Shape 3: ...": what is wrong and where. */
export function refusedWords({ fault, feature }: Refused): string {
  const why = t(`outline.${fault}` as Key);
  return feature === 0 ? why : `${t('outline.feature', { n: feature })}: ${why}`;
}
