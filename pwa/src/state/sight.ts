// The last sight of the first screen, kept for the worker (sw.ts), which puts it into the page of the
// next start: it is painted while the program is still being fetched. It is never read back, says nothing
// of where a person's work is, and goes when the account is left.
import { localDay } from '../day';
import { sights, type Sight } from '../sight';

/** As many lines of a list as are drawn first: about a phone's screen. */
export const firstLines = 6;

/** Where the app opens from the home screen; the manifest names it. */
export const opening = '/start';

/** A list that somebody has unrolled further is not copied: the sight of before serves. */
const mostLines = 200;
const restMS = 2_000;

let turn = 0;

/** The page's root as words: without what a policy forbids in a page, and what may be untrue then. */
function htmlOf(app: Element): string {
  const copy = app.cloneNode(true) as Element;
  for (const live of copy.querySelectorAll('[data-live]')) live.replaceChildren();
  for (const styled of copy.querySelectorAll('[style]')) styled.removeAttribute('style');
  const lines = copy.querySelectorAll('.lines > li, .turns > li');
  [...lines].slice(firstLines).forEach((line) => line.remove());
  for (const list of copy.querySelectorAll(':is(.lines, .turns):empty')) list.parentElement?.remove();
  return copy.getHTML();
}

/** The script and the style that the page itself names; a later screen may have brought more. */
function program(): string[] {
  const script = document.querySelector('script[type=module]')?.getAttribute('src');
  const style = document.querySelector('link[rel=stylesheet]')?.getAttribute('href');
  return [script ?? '', style ?? ''];
}

/**
 * Keeps what the screen at this address shows, once the page has nothing else to do; also for the
 * address by which the app opens from the home screen, where that leads here.
 */
export function keepSight(opensHere: boolean): void {
  if (!('caches' in globalThis && 'getHTML' in Element.prototype)) return; // an older browser
  const mine = ++turn;
  const path = location.pathname;
  const work = () => {
    const app = document.getElementById('app');
    if (mine !== turn || !app || location.pathname !== path) return;
    if (app.querySelectorAll('li').length > mostLines) return;
    const { attributes } = document.documentElement;
    const root = [...attributes].filter((a) => a.name !== 'style').map((a) => [a.name, a.value]);
    const sight = { of: program(), day: localDay(new Date()), root, html: htmlOf(app) };
    const text = JSON.stringify(sight as Sight);
    // Where the disk is full, the next start is as slow as the first; killed in the middle of a write
    // it is too, so nothing is written twice.
    const put = async (cache: Cache) => {
      for (const at of opensHere ? [path, opening] : [path]) {
        const held = await (await cache.match(at))?.text();
        if (mine === turn && held !== text) await cache.put(at, new Response(text));
      }
    };
    void caches.open(sights).then(put).catch(() => undefined);
  };
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: restMS });
  else setTimeout(work, restMS / 2);
}

/** Lets it go: whoever opens the page next may be somebody else. */
export async function dropSight(): Promise<void> {
  turn++;
  if ('caches' in globalThis) await caches.delete(sights).catch(() => false);
}
