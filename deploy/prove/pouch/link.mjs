// A link as in the yard, in front of one server: half of the round trip each way, so many bits a
// second each way over all connections together, and a count of what went through.
import { connect, createServer } from 'node:net';

export const shape = { halfTripMS: 30, down: 10e6 / 8, up: 2e6 / 8 }; // bytes a second

/**
 * One direction: bytes leave in order, none before the link is free. One queue and one timer, since
 * timers of their own may fire out of order when the event loop is late.
 */
class Lane {
  constructor(rate) {
    Object.assign(this, { rate, freeAtMS: 0, bytes: 0, queue: [], timer: undefined });
  }

  send(to, chunk) {
    this.bytes += chunk.length;
    this.freeAtMS = Math.max(performance.now(), this.freeAtMS) + (1000 * chunk.length) / this.rate;
    this.add(() => to.writable && to.write(chunk));
  }

  end(to) {
    this.freeAtMS = Math.max(performance.now(), this.freeAtMS);
    this.add(() => to.end());
  }

  add(work) {
    this.queue.push({ atMS: this.freeAtMS + shape.halfTripMS, work });
    this.timer ??= setTimeout(() => this.deliver(), this.queue[0].atMS - performance.now());
  }

  /** Hands over what is due; looks again when the next is. */
  deliver() {
    this.timer = undefined;
    while (this.queue.length > 0 && this.queue[0].atMS <= performance.now()) {
      this.queue.shift().work();
    }
    const [next] = this.queue;
    if (next) this.timer = setTimeout(() => this.deliver(), next.atMS - performance.now());
  }
}

const asks = /^(GET|POST|PUT|DELETE|HEAD|OPTIONS) \S+ HTTP\/1\.1\r\n/;
const pieceBytes = 16 * 1024; // a large write is handed on in pieces, as packets are

export class Link {
  static async to(port) {
    const link = new Link();
    Object.assign(link, { up: new Lane(shape.up), down: new Lane(shape.down), requests: 0 });
    link.server = createServer((near) => link.join(near, port));
    await new Promise((done) => link.server.listen(0, '127.0.0.1', done));
    link.url = `http://localhost:${link.server.address().port}`;
    return link;
  }

  join(near, port) {
    const far = connect(port, '127.0.0.1');
    near.setNoDelay(true);
    far.setNoDelay(true);
    near.on('data', (chunk) => {
      if (asks.test(chunk.subarray(0, 4096).toString('latin1'))) this.requests++;
      pieces(chunk, (piece) => this.up.send(far, piece));
    });
    far.on('data', (chunk) => pieces(chunk, (piece) => this.down.send(near, piece)));
    near.on('end', () => this.up.end(far));
    far.on('end', () => this.down.end(near));
    near.on('error', () => far.destroy());
    far.on('error', () => near.destroy());
  }

  /** Starts counting anew. */
  reset() {
    this.up.bytes = this.down.bytes = this.requests = 0;
  }

  counts() {
    return { requests: this.requests, up: this.up.bytes, down: this.down.bytes };
  }

  close() {
    this.server.close();
  }
}

function pieces(chunk, use) {
  for (let at = 0; at < chunk.length; at += pieceBytes) use(chunk.subarray(at, at + pieceBytes));
}
