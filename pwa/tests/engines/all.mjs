// The same day in the engines other than Chromium.
//   npm run engines [-- webkit | firefox]
// Ends with 1 if a day went wrong, with 77 if an engine is not installed.
import { existsSync } from 'node:fs';
import { Program } from '../server.mjs';
import { day } from './scenario.mjs';

const engines = {
  webkit: {
    needs: ['/usr/bin/WebKitWebDriver', '/usr/bin/xvfb-run'],
    start: async (url) => (await import('./webkit.mjs')).WebKit.start(url),
  },
  firefox: {
    needs: [process.env.FIREFOX ?? '/usr/bin/firefox-esr'],
    start: async (url) => (await import('./firefox.mjs')).Firefox.start(url),
  },
};

const asked = process.argv.slice(2);
for (const [name, engine] of Object.entries(engines)) {
  if (asked.length > 0 && !asked.includes(name)) continue;
  const lacking = engine.needs.filter((path) => !existsSync(path));
  if (lacking.length > 0) {
    console.log(`${name}: cannot run, ${lacking.join(' and ')} not there`);
    process.exitCode ||= 77;
    continue;
  }
  const program = await (await Program.make()).start('--demo');
  let driver;
  const began = Date.now();
  try {
    driver = await engine.start(program.url);
    await day(driver, program);
    console.log(`${driver.name} ${driver.version}: passed in ${Date.now() - began} ms`);
  } catch (error) {
    console.log(`${name}: FAILED ${error.stack ?? error}`);
    process.exitCode = 1;
  } finally {
    await driver?.stop();
    await program.stop();
  }
}
