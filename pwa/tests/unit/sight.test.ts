import { expect, test } from 'vitest';
import { withSight, type Sight } from '../../src/sight';

const page =
  '<html lang="en"><script src="/assets/a.js"></script><link href="/assets/b.css"><div id="app"></div></html>';
const sight: Sight = {
  of: ['/assets/a.js', '/assets/b.css'],
  day: '2027-06-12',
  root: [
    ['lang', 'fr'],
    ['data-theme', 'night'],
  ],
  html: '<a class="line">Champ $& $1</a>',
};

test('a sight stands in the page as it was seen', () => {
  const seen = withSight(page, sight, '2027-06-12');
  expect(seen).toContain('<html lang="fr" data-theme="night">');
  expect(seen).toContain('<div id="app"><a class="line">Champ $& $1</a></div>');
});

test('on another day, or made by another version, the page stays as it was', () => {
  expect(withSight(page, sight, '2027-06-13')).toBe(page);
  expect(withSight(page, { ...sight, of: ['/assets/old.js'] }, '2027-06-12')).toBe(page);
});

test('no word of the root leaves its quotes', () => {
  const root: Sight['root'] = [['data-x', '"><script>']];
  expect(withSight(page, { ...sight, root }, '2027-06-12')).toContain('data-x="&quot;>&lt;script>"');
});
