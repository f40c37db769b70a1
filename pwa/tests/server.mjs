// Starts the real program for a browser run: its own data folder, port and certificate, all gone
// afterwards. Nothing here knows more than a new user is told on the screen.
import { spawn, execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { get } from 'node:https';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const binary = process.env.HILUM_BINARY ?? resolve(import.meta.dirname, '../../.build/hilum');
const startMS = 90_000;

function freePort() {
  return new Promise((done) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => done(port));
    });
  });
}

/** The status of an answer under a certificate made a second ago; 0 for none. */
function status(url) {
  return new Promise((done) => {
    get(url, { rejectUnauthorized: false }, (res) => {
      res.resume();
      done(res.statusCode);
    }).on('error', () => done(0));
  });
}

function certificate(dir) {
  const [cert, key] = [join(dir, 'cert.pem'), join(dir, 'key.pem')];
  execFileSync(
    'openssl',
    [
      'req',
      '-x509',
      '-newkey',
      'ec',
      '-pkeyopt',
      'ec_paramgen_curve:P-256',
      '-nodes',
      '-days',
      '2',
      '-subj',
      '/CN=localhost',
      '-addext',
      'subjectAltName=DNS:localhost,IP:127.0.0.1',
      '-keyout',
      key,
      '-out',
      cert,
    ],
    { stdio: 'ignore' },
  );
  return { TLS_CERT: cert, TLS_KEY: key };
}

/** A server that can be killed and started again on the same data and port. */
export class Program {
  constructor(dir, port, env) {
    Object.assign(this, { dir, port, env, out: '' });
    this.url = `https://localhost:${port}`;
  }

  static async make() {
    const dir = mkdtempSync(join(tmpdir(), 'hilum-journey-'));
    chmodSync(dir, 0o755); // started as root, the database runs as a user of its own
    const port = await freePort();
    return new Program(dir, port, certificate(dir));
  }

  /** Starts it, maybe as another build, and waits until it says that it is ready. */
  async start(...asked) {
    const args = asked.filter((a) => typeof a === 'string');
    const from = asked.find((a) => typeof a === 'object')?.binary ?? binary;
    this.out = '';
    const env = {
      ...process.env,
      ...this.env,
      PORT: String(this.port),
      HILUM_DATA: join(this.dir, 'data'),
    };
    // The program refuses settings it does not know, and must not find somebody's database.
    delete env.DATABASE_URL;
    delete env.HILUM_BINARY;
    this.child = spawn(from, ['serve', ...args], { env });
    const note = (chunk) => (this.out += chunk);
    this.child.stdout.on('data', note);
    this.child.stderr.on('data', note);
    this.ended = new Promise((done) => this.child.on('exit', done));
    process.once('exit', () => this.child.kill('SIGKILL')); // also when what should stop it failed
    await this.ready();
    return this;
  }

  async ready() {
    const until = Date.now() + startMS;
    while (Date.now() < until) {
      if (this.child.exitCode !== null) break;
      if ((await status(`${this.url}/readyz`)) === 200) return;
      await new Promise((done) => setTimeout(done, 150));
    }
    throw new Error(`the server did not start:\n${this.out}`);
  }

  /** Kills it without warning, as a power cut does. */
  async kill() {
    this.child.kill('SIGKILL');
    await this.ended;
  }

  async stop() {
    if (this.child && this.child.exitCode === null && this.child.signalCode === null) {
      this.child.kill('SIGTERM');
      await this.ended;
    }
    rmSync(this.dir, { recursive: true, force: true });
  }

  /** A sign-in that the start printed: "scout: login=... password=...". */
  signIn(role) {
    const found = this.out.match(new RegExp(`^${role}: login=(\\S+) password=(.+)$`, 'm'));
    if (!found) throw new Error(`the start printed no ${role}:\n${this.out}`);
    return { login: found[1], password: found[2].trim() };
  }

  /** The one-time link of an empty database, on this run's address. */
  firstOwnerLink() {
    const found = this.out.match(/^first owner: \S*?(\/first-owner#\S+)$/m);
    if (!found) throw new Error(`the start printed no link:\n${this.out}`);
    return this.url + found[1];
  }
}
