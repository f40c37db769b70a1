// WebKitGTK by plain WebDriver: the engine of Safari's family that a Debian machine can have.
//   apt-get install webkit2gtk-driver xvfb
import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { createServer } from 'node:net';

const libraries = '/usr/lib';

/** The small browser that comes with the driver lies in a folder named after the processor. */
function browserPath() {
  const found = readdirSync(libraries).map(
    (dir) => `${libraries}/${dir}/webkit2gtk-4.1/MiniBrowser`,
  );
  return found.find((path) => existsSync(path));
}

const elementKey = 'element-6066-11e4-a52e-4f735466cecf';
const answerMS = 60_000;

const freePort = () =>
  new Promise((done) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => done(port));
    });
  });

export class WebKit {
  name = 'WebKitGTK';

  static async start(url) {
    const driver = new WebKit();
    driver.url = url;
    const port = await freePort();
    driver.base = `http://127.0.0.1:${port}`;
    const args = ['-a', 'WebKitWebDriver', `--port=${port}`];
    const env = { ...process.env, WEBKIT_DISABLE_COMPOSITING_MODE: '1' };
    driver.child = spawn('xvfb-run', args, { env, stdio: 'ignore', detached: true });
    await driver.session();
    return driver;
  }

  async session() {
    const options = { binary: browserPath(), args: ['--automation'] };
    const alwaysMatch = {
      browserName: 'MiniBrowser',
      acceptInsecureCerts: true,
      'webkitgtk:browserOptions': options,
    };
    const end = Date.now() + answerMS;
    while (!this.path) {
      try {
        const made = await this.ask('POST', '/session', { capabilities: { alwaysMatch } });
        this.path = `/session/${made.sessionId}`;
        this.version = made.capabilities.browserVersion;
      } catch (error) {
        if (Date.now() > end) throw error;
        await new Promise((done) => setTimeout(done, 300));
      }
    }
    await this.ask('POST', `${this.path}/window/rect`, { width: 390, height: 844 });
    await this.ask('POST', `${this.path}/timeouts`, { script: 30_000, pageLoad: 60_000 });
  }

  async ask(method, path, body) {
    const res = await fetch(this.base + path, {
      method,
      ...(body ? { body: JSON.stringify(body) } : {}),
      headers: { 'Content-Type': 'application/json' },
      signal: AbortSignal.timeout(answerMS),
    });
    const { value } = await res.json();
    if (value?.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  }

  open(path) {
    return this.ask('POST', `${this.path}/url`, { url: this.url + path });
  }

  look(expression) {
    const script = `return (${expression})`;
    return this.ask('POST', `${this.path}/execute/sync`, { script, args: [] });
  }

  async element(selector) {
    const query = { using: 'css selector', value: selector };
    return (await this.ask('POST', `${this.path}/element`, query))[elementKey];
  }

  async tap(selector) {
    const id = await this.element(selector);
    await this.ask('POST', `${this.path}/element/${id}/click`, {});
  }

  async type(selector, text) {
    const id = await this.element(selector);
    await this.ask('POST', `${this.path}/element/${id}/value`, { text });
  }

  /** Its driver has no log to read; the scenario sees what goes wrong. */
  complaints() {
    return [];
  }

  async stop() {
    if (this.path) await this.ask('DELETE', this.path).catch(() => undefined);
    // The whole group that was started here: the driver, its browser and their screen.
    process.kill(-this.child.pid, 'SIGTERM');
  }
}
