// Writes a picture of every screen, phone and desk, in both languages, by day and at night, and
// what is printed as paper, to a folder that is not part of the repository.
//   npm run pictures [-- scout-phone | consultant-desk ...] [-- en | fr | night | fr-night] [-- small]
// `small` takes the smallest phone that is served.
import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { sizes } from '../hand/measure.mjs';
import { named, tours, walkTour } from '../screens.mjs';
import { Program } from '../server.mjs';

const out = resolve(import.meta.dirname, '../../../pictures');
const asked = process.argv.slice(2);
const size = asked.includes('small') ? sizes[0] : undefined;
const among = (names) =>
  names.filter((n) => !names.some((m) => asked.includes(m)) || asked.includes(n));
mkdirSync(out, { recursive: true });

const looks = {
  en: { language: 'en', theme: 'light' },
  fr: { language: 'fr', theme: 'light' },
  night: { language: 'en', theme: 'night' },
  'fr-night': { language: 'fr', theme: 'night' },
};

/** The paper as it leaves the printer; a picture of it where the tool for that is there. */
async function print(page, name) {
  const path = join(out, `${name}.pdf`);
  await page.pdf({ path, format: 'Letter', preferCSSPageSize: true });
  try {
    execFileSync('pdftoppm', ['-r', '80', '-png', path, join(out, name)]);
  } catch {
    console.log('pdftoppm is not there: the paper stays a PDF');
  }
}

/** What a browser still draws at once; folded-out reasons can be many times as long. */
const tallest = 6_000;
const patienceMS = 90_000;

/** As tall as the page, so that the bar at the foot stands at its foot; a dig is one screen. */
async function shoot(page, flow, path) {
  const own = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  const whole = !flow && height > own.height && height <= tallest;
  if (whole) await page.setViewportSize({ width: own.width, height });
  await page.screenshot({ path, fullPage: !flow && !whole, timeout: patienceMS });
  await page.setViewportSize(own);
}

async function picture(tour, lookName) {
  let no = 0;
  await walkTour(program, tour, { ...looks[lookName], size }, async (screen, { page }) => {
    const count = String(++no).padStart(2, '0');
    const name = `${named(tour)}-${lookName}${size ? '-small' : ''}-${count}-${screen.name}`;
    await page.waitForTimeout(250);
    await shoot(page, screen.flow, join(out, `${name}.png`));
    if (screen.print) await print(page, `${name}-print`);
  });
}

const program = await (await Program.make()).start('--demo');
try {
  for (const lookName of among(Object.keys(looks)))
    for (const tour of tours.filter((t) => among(tours.map(named)).includes(named(t))))
      await picture(tour, lookName);
} finally {
  await program.stop();
}
console.log(`pictures are in ${out}`);
