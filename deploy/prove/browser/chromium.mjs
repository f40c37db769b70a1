// A Chromium that this program starts itself, in a process group of its own, so that all of it can
// be killed at once and at any moment. Playwright talks to it as a debugger, and does not own it.
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const { chromium } = createRequire(new URL('../../../pwa/package.json', import.meta.url))(
  'playwright-core',
);

const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--ignore-certificate-errors',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--lang=en-CA',
  '--window-size=390,844',
  '--remote-debugging-port=0',
];
const startMS = 60_000;

export const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

/** Processes that were started with this profile and still live: children may leave the group. */
function ofProfile(profile) {
  return readdirSync('/proc').filter((pid) => {
    if (!/^\d+$/.test(pid)) return false;
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(`--user-data-dir=${profile}`);
    } catch {
      return false;
    }
  });
}

export class Chromium {
  constructor(profile) {
    this.profile = profile ?? mkdtempSync(join(tmpdir(), 'hilum-prove-'));
  }

  async start() {
    const told = join(this.profile, 'DevToolsActivePort');
    rmSync(told, { force: true });
    const binary = process.env.CHROMIUM ?? '/usr/bin/chromium';
    const args = [...flags, `--user-data-dir=${this.profile}`, 'about:blank'];
    this.child = spawn(binary, args, { detached: true, stdio: 'ignore' });
    this.ended = new Promise((done) => this.child.on('exit', done));
    const port = await this.port(told);
    this.browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
    this.context = this.browser.contexts()[0];
    this.page = this.context.pages()[0] ?? (await this.context.newPage());
    this.page.setDefaultTimeout(30_000);
    await this.page.setViewportSize({ width: 390, height: 844 });
    return this.page;
  }

  async port(told) {
    for (const until = Date.now() + startMS; Date.now() < until; await sleep(20)) {
      try {
        const [port, path] = readFileSync(told, 'utf8').split('\n');
        if (port && path) return port;
      } catch {
        // Not written yet.
      }
      if (this.child.exitCode !== null) break;
    }
    throw new Error(`Chromium did not start with the profile ${this.profile}`);
  }

  /** SIGKILL of the whole group at once, as when the system takes the memory back. */
  async kill() {
    try {
      process.kill(-this.child.pid, 'SIGKILL');
    } catch {
      // The group is gone already.
    }
    await this.ended;
    for (const until = Date.now() + startMS; Date.now() < until; await sleep(20)) {
      const left = ofProfile(this.profile);
      if (left.length === 0) break;
      for (const pid of left) killOne(Number(pid));
    }
    await this.browser?.close().catch(() => undefined);
  }

  /** Ends it as a person does: what it writes late, its cookies above all, gets to the disk. */
  async leave() {
    const session = await this.browser.newBrowserCDPSession();
    await session.send('Browser.close').catch(() => undefined);
    await Promise.race([this.ended, sleep(10_000)]);
    await this.kill().catch(() => undefined);
  }

  async close() {
    if (this.child?.exitCode === null && this.child.signalCode === null) await this.kill();
    rmSync(this.profile, { recursive: true, force: true });
  }
}

function killOne(pid) {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // Gone in the meantime.
  }
}
