// The last sight of a screen, as it stands in the worker's page: see state/sight.

/** The cache of the sights, one entry for each address of the program. */
export const sights = 'sights';

export interface Sight {
  /** The script and style that it was made with: no other version of the program shows it. */
  of: string[];
  /** The local day it was made on; the day after, "today" is another. */
  day: string;
  /** What the page's root element says of language, look and hand. */
  root: [name: string, value: string][];
  html: string;
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;');

/** The program's page with the sight in it; the page as it was where the sight does not fit. */
export function withSight(page: string, { of, day, root, html }: Sight, today: string): string {
  if (day !== today || !of.every((name) => page.includes(`"${name}"`))) return page;
  const words = root.map(([name, value]) => `${name}="${escaped(value)}"`).join(' ');
  return page
    .replace(/<html[^>]*>/, () => `<html ${words}>`)
    .replace('<div id="app"></div>', () => `<div id="app">${html}</div>`);
}
