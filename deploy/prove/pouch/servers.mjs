// Starts the three servers of the measurement, each with the same records in it.
import { spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, mkdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { floorServer } from './floor-server.mjs';

const here = import.meta.dirname;
const startMS = 90_000;
const json = { 'Content-Type': 'application/json', 'X-Hilum': '1' };

/** Starts a program and waits until it prints what is looked for. */
function started(command, args, env, wanted) {
  // The farm server refuses settings it does not know, and must not find somebody's database.
  const { HILUM_BINARY: _binary, DATABASE_URL: _database, ...outside } = process.env;
  const child = spawn(command, args, { env: { ...outside, ...env } });
  let out = '';
  return new Promise((done, failed) => {
    const late = setTimeout(() => failed(new Error(`${command} said only:\n${out}`)), startMS);
    const note = (chunk) => {
      out += chunk;
      const found = wanted.exec(out);
      if (!found) return;
      clearTimeout(late);
      done({ child, found });
    };
    child.stdout.on('data', note);
    child.stderr.on('data', note);
    child.on('exit', () => failed(new Error(`${command} ended:\n${out}`)));
  });
}

async function asked(url, init) {
  const res = await fetch(url, init);
  if (!res.ok) throw new Error(`${url} answered ${res.status}: ${await res.text()}`);
  return res.json();
}

const stopped = (child) =>
  new Promise((done) => {
    child.once('exit', done);
    child.kill('SIGTERM');
  });

/** The program under test, empty but for one owner. */
export class Farm {
  static async start(port) {
    const farm = new Farm();
    farm.dir = mkdtempSync(join(tmpdir(), 'hilum-peer-'));
    chmodSync(farm.dir, 0o755); // started as root, the database runs as a user of its own
    const binary = process.env.HILUM_BINARY ?? join(here, '../../../.build/hilum');
    const env = { PORT: String(port), HILUM_DATA: join(farm.dir, 'data') };
    const { child, found } = await started(binary, ['serve'], env, /\/first-owner#(\S+)/);
    Object.assign(farm, { child, port, url: `http://localhost:${port}`, n: 0 });
    farm.device = crypto.randomUUID();
    const owner = { login: 'owner', password: 'pod-and-tendril-and-root' };
    const place = { timeZone: 'America/Regina', currency: 'CAD' };
    const account = { account: 'An account', name: 'Owner', ...place };
    const body = { ...owner, ...account, link: found[1], device: farm.device, deviceName: 'Desk' };
    await farm.awake();
    farm.session = await farm.post('/api/v1/first-owner', body);
    farm.owner = owner;
    return farm;
  }

  async awake() {
    for (let i = 0; i < 300; i++) {
      const up = await fetch(`${this.url}/readyz`).then((res) => res.ok, () => false);
      if (up) return;
      await new Promise((done) => setTimeout(done, 100));
    }
    throw new Error('the farm server did not come up');
  }

  post(path, body, access) {
    const headers = access ? { ...json, Authorization: `Bearer ${access}` } : json;
    return asked(this.url + path, { method: 'POST', headers, body: JSON.stringify(body) });
  }

  /** A device of the owner's own, signed in. */
  async enrol(name) {
    const device = crypto.randomUUID();
    const body = { ...this.owner, device, deviceName: name };
    const { farm, access } = await this.post('/api/v1/signin', body);
    return { farm, access, device };
  }

  /** Sends edits past the measured link, from the owner's desk. */
  async put(edits) {
    const { farm, access } = this.session;
    for (let at = 0; at < edits.length; at += 500) {
      const push = edits.slice(at, at + 500).map((e) => ({
        n: ++this.n, schema: 1, base: 0, ...e, phoneTime: '2027-06-14T12:00:00Z',
      }));
      const head = this.head ?? 0;
      const body = { proto: 1, schema: 1, device: this.device, epoch: '', cursor: head, push };
      const res = await this.post(`/api/v1/farms/${farm}/sync`, body, access);
      const wrong = res.acks.find((a) => a.outcome === 'quarantined');
      if (wrong) throw new Error(`the farm server set one aside: ${JSON.stringify(wrong)}`);
      this.head = res.head;
    }
  }

  async stop() {
    await stopped(this.child);
    rmSync(this.dir, { recursive: true, force: true });
  }
}

export const docOf = ({ rec, kind, set }) => ({ _id: rec, kind, ...set });

/** The peer. */
export class Peer {
  static async start() {
    const peer = new Peer();
    peer.dir = mkdtempSync(join(tmpdir(), 'hilum-pouch-'));
    mkdirSync(peer.dir, { recursive: true });
    const script = join(here, 'peer-server.mjs');
    const { child, found } = await started(process.execPath, [script, peer.dir], {}, /port (\d+)/);
    Object.assign(peer, { child, port: Number(found[1]) });
    peer.url = `http://localhost:${peer.port}/db/farm`;
    await asked(peer.url, { method: 'PUT' });
    return peer;
  }

  async put(docs) {
    for (let at = 0; at < docs.length; at += 1000) {
      const body = JSON.stringify({ docs: docs.slice(at, at + 1000) });
      await asked(`${this.url}/_bulk_docs`, { method: 'POST', headers: json, body });
    }
  }

  /** The same change to the first so many records. */
  async change(ids, change) {
    const body = JSON.stringify({ keys: ids });
    const path = `${this.url}/_all_docs?include_docs=true`;
    const { rows } = await asked(path, { method: 'POST', headers: json, body });
    await this.put(rows.map((row) => ({ ...row.doc, ...change })));
  }

  async count() {
    return (await asked(this.url)).doc_count;
  }

  async stop() {
    await stopped(this.child);
    rmSync(this.dir, { recursive: true, force: true });
  }
}

export class Floor {
  static async start(files) {
    const floor = new Floor();
    floor.server = await floorServer(files);
    floor.port = floor.server.address().port;
    return floor;
  }

  async stop() {
    this.server.closeAllConnections();
    this.server.close();
  }
}
