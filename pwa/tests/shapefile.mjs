// Writes a small shapefile as its ZIP: polygons with one column, name. For tests of reading one.
import { crc32 } from 'node:zlib';

/** A main file (ESRI Shapefile Technical Description, 1998): rings wind with the clock. */
function shp(rings) {
  const records = rings.map((ring, i) => record(ring, i + 1));
  const body = Buffer.concat(records);
  return Buffer.concat([header(100 + body.length, rings.flat()), body]);
}

function header(bytes, positions) {
  const h = Buffer.alloc(100);
  h.writeInt32BE(9994, 0);
  h.writeInt32BE(bytes / 2, 24);
  h.writeInt32LE(1000, 28);
  h.writeInt32LE(5, 32);
  box(positions).forEach((v, i) => h.writeDoubleLE(v, 36 + 8 * i));
  return h;
}

const box = (positions) => {
  const [xs, ys] = [positions.map((p) => p[0]), positions.map((p) => p[1])];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};

function record(ring, number) {
  const r = Buffer.alloc(8 + 48 + 16 * ring.length);
  r.writeInt32BE(number, 0);
  r.writeInt32BE((r.length - 8) / 2, 4);
  r.writeInt32LE(5, 8);
  box(ring).forEach((v, i) => r.writeDoubleLE(v, 12 + 8 * i));
  r.writeInt32LE(1, 44);
  r.writeInt32LE(ring.length, 48);
  ring.forEach(([x, y], i) => {
    r.writeDoubleLE(x, 56 + 16 * i);
    r.writeDoubleLE(y, 64 + 16 * i);
  });
  return r;
}

/** A dBase III table with the column "name", 20 characters wide. */
function dbf(names) {
  const wide = 20;
  const head = Buffer.alloc(65);
  head[0] = 3;
  head.writeUInt32LE(names.length, 4);
  head.writeUInt16LE(65, 8);
  head.writeUInt16LE(wide + 1, 10);
  head.write('name', 32);
  head.write('C', 43);
  head[48] = wide;
  head[64] = 0x0d;
  return Buffer.concat([head, ...names.map((n) => Buffer.from(` ${n.padEnd(wide)}`)), Buffer.from([0x1a])]);
}

/** A ZIP whose files are stored as they are. */
function zip(files) {
  const [parts, index] = [[], []];
  let at = 0;
  for (const [name, data] of files) {
    const local = Buffer.alloc(30);
    const fields = [crc32(data) >>> 0, data.length, data.length];
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(20, 4);
    fields.forEach((v, i) => local.writeUInt32LE(v, 14 + 4 * i));
    local.writeUInt16LE(name.length, 26);
    const central = Buffer.alloc(46);
    central.writeUInt32LE(0x02014b50, 0);
    central.writeUInt16LE(20, 6);
    fields.forEach((v, i) => central.writeUInt32LE(v, 16 + 4 * i));
    central.writeUInt16LE(name.length, 28);
    central.writeUInt32LE(at, 42);
    index.push(central, Buffer.from(name));
    parts.push(local, Buffer.from(name), data);
    at += 30 + name.length + data.length;
  }
  const directory = Buffer.concat(index);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(files.length, 8);
  end.writeUInt16LE(files.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, directory, end]);
}

/** names and rings, a ring for each name, in degrees. */
export const shapefile = (names, rings) =>
  zip([
    ['fields.shp', shp(rings)],
    ['fields.dbf', dbf(names)],
  ]);
