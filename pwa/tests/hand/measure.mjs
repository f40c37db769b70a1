// Measures one screen that stands open: sizes, gaps, ink and edges by day and at night, twice the
// text size, the rules of WCAG 2.2 AA. Gives sentences; an empty list means that nothing is wrong.
import { readFileSync } from 'node:fs';
import { axeFaults } from '../browser.mjs';

const inPage = readFileSync(new URL('./in-page.mjs', import.meta.url), 'utf8');
const lowerPart = 0.6;

export const sizes = [
  { width: 360, height: 640 },
  { width: 390, height: 844 },
];

const ask = (page, what) =>
  page.evaluate(`(() => { ${inPage}; return faults(${JSON.stringify(what)}); })()`);

/** Changes the theme of the open page and gives the way back. */
async function inTheme(page, theme, work) {
  const set = (to) => page.evaluate((t) => (document.documentElement.dataset.theme = t), to);
  const before = await page.evaluate(() => document.documentElement.dataset.theme);
  await set(theme);
  try {
    return await work();
  } finally {
    await set(before);
  }
}

async function inLargeText(page, work) {
  const set = (to) => page.evaluate((s) => (document.documentElement.style.fontSize = s), to);
  await set('36px');
  try {
    return await work();
  } finally {
    await set('');
  }
}

const under = (label, list) => list.map((fault) => `${label}: ${fault}`);

/** quick leaves out the second size and axe's second theme. */
export async function measure(page, { flow = false, place = 'phone', quick = false }) {
  const found = [];
  // On the desk a mouse points: the rules' own 24 px hold there.
  const least = place === 'desk' ? 24 : 48;
  const own = page.viewportSize();
  for (const size of place === 'desk' ? [own] : quick ? sizes.slice(0, 1) : sizes) {
    await page.setViewportSize(size);
    const label = `${size.width}x${size.height}`;
    const lower = flow && size.height === 640 ? lowerPart : 0;
    found.push(...under(label, await ask(page, { least, flow: lower })));
    if (place !== 'phone') continue;
    const lost = await inLargeText(page, () => ask(page, { large: true }));
    found.push(...under(`${label} 200 %`, lost));
  }
  for (const theme of ['light', 'night']) {
    await inTheme(page, theme, async () => {
      found.push(...under(theme, await ask(page, { ink: true })));
      if (!quick || theme === 'light') found.push(...under(theme, await axeFaults(page)));
    });
  }
  await page.setViewportSize(own);
  return [...new Set(found)];
}
