// The floor: the records as one brotli file, packed beforehand at the level that the farm server
// uses, and a door that takes a gzip body and answers in a word. Nothing is stored or checked.
import { createServer } from 'node:http';
import { brotliCompressSync, constants, gunzipSync } from 'node:zlib';

const quality = 5;

export function floorServer(rows) {
  const params = { [constants.BROTLI_PARAM_QUALITY]: quality };
  const packed = (list) => brotliCompressSync(JSON.stringify(list), { params });
  const files = new Map(Object.entries(rows).map(([name, list]) => [`/${name}`, packed(list)]));
  const server = createServer((req, res) => {
    const parts = [];
    req.on('data', (part) => parts.push(part));
    req.on('end', () => {
      if (req.method === 'POST') JSON.parse(gunzipSync(Buffer.concat(parts)));
      const body = files.get(req.url) ?? '{}';
      const type = { 'Content-Type': 'application/json', 'Cache-Control': 'no-store' };
      res.writeHead(200, files.has(req.url) ? { ...type, 'Content-Encoding': 'br' } : type);
      res.end(body);
    });
  });
  return new Promise((done) => server.listen(0, '127.0.0.1', () => done(server)));
}
