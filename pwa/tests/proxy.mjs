// Stands between browser and program, and can make the program look newer than it is: its worker's
// script gets a line more, which is all that a browser goes by.
import { readFileSync } from 'node:fs';
import { createServer, request } from 'node:https';

export class Proxy {
  static async to(program) {
    const proxy = new Proxy();
    proxy.newer = false;
    const [cert, key] = [program.env.TLS_CERT, program.env.TLS_KEY].map((path) =>
      readFileSync(path),
    );
    proxy.server = createServer({ cert, key }, (req, res) => proxy.pass(program.port, req, res));
    await new Promise((done) => proxy.server.listen(0, '127.0.0.1', done));
    proxy.url = `https://localhost:${proxy.server.address().port}`;
    return proxy;
  }

  pass(port, req, res) {
    const worker = req.url === '/sw.js';
    const headers = { ...req.headers };
    if (worker) {
      delete headers['accept-encoding'];
      delete headers['if-none-match'];
    }
    const to = { host: '127.0.0.1', port, path: req.url, method: req.method, headers };
    const onward = request({ ...to, rejectUnauthorized: false }, (answer) => {
      if (!worker) {
        res.writeHead(answer.statusCode, answer.headers);
        answer.pipe(res);
        return;
      }
      const { 'content-length': _size, etag: _etag, ...rest } = answer.headers;
      res.writeHead(answer.statusCode, rest);
      answer.on('data', (chunk) => res.write(chunk));
      answer.on('end', () => res.end(this.newer ? '\n// newer\n' : ''));
    });
    onward.on('error', () => res.destroy());
    req.on('close', () => req.complete || onward.destroy());
    res.on('close', () => onward.destroy());
    req.pipe(onward);
  }

  async close() {
    this.server.closeAllConnections();
    await new Promise((done) => this.server.close(done));
  }
}
