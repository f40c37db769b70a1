// A thumb inside the page that digs as fast as the program lets it, and tells what the screen shows.

/** Longer than the time within which a second tap is taken for a wet screen's. */
export const gapMS = 84;

/** Runs in the page; tell(word) is there. Answers are always the same: only their number counts. */
function dig({ gapMS, seed }) {
  const steps = ['vigorous', 'over5', 'pink', 'crownAndLateral'];
  // The keys of every question stand in the page; those of one show.
  const key = (answer) =>
    document.querySelector(`.keys:not([hidden]) [data-answer="${answer}"]`);
  const button = (words) =>
    [...document.querySelectorAll('button')].find((b) => words.test(b.textContent) && !b.disabled);
  let state = seed;
  const below = (n) => (state = (state * 48271) % 2147483647) % n;
  let [taps, wanted] = [0, 2 + below(5)];

  /** What the screen has: words and keys as they show, the number of plants as the tally holds it. */
  const look = () => {
    const kept = document.querySelector('.kept');
    return {
      path: location.pathname,
      kept: !!kept && !kept.classList.contains('waits'),
      refused: document.querySelector('.not-kept .key')?.textContent ?? '',
      plants: Number(document.querySelector('[data-plants]')?.dataset.plants ?? 0),
      step: steps.findIndex((answer) => key(answer)),
    };
  };
  let last = '';
  const told = () => {
    const shown = JSON.stringify(look());
    if (shown !== last) void globalThis.tell({ shown: JSON.parse((last = shown)) });
  };
  const all = { subtree: true, childList: true, attributes: true, characterData: true };
  new MutationObserver(told).observe(document.body, all);

  const inDig = () => {
    const { plants, step } = look();
    const done = button(/^Done$/);
    if (done) return [done, 'done'];
    if (step === 0 && plants >= wanted) {
      wanted = 2 + below(5);
      return [button(/^Finish$/), 'finish'];
    }
    if (step === 0 && plants > 0 && below(6) === 0) return [button(/^Next spot$/), 'spot'];
    return [key(steps[step]), 'tap'];
  };
  const next = () => {
    const { pathname } = location;
    const refused = document.querySelector('.not-kept button');
    if (refused) return [refused, 'read'];
    if (pathname === '/') {
      const open = document.querySelector('.open-digs a');
      const fields = document.querySelectorAll('.lines a[href^="/field/"]');
      return [open ?? fields[below(fields.length)], 'go'];
    }
    if (pathname === '/today') return [document.querySelector('a[href="/"]'), 'go'];
    if (pathname.endsWith('/dig')) return inDig();
    if (pathname.includes('/dug/')) return [document.querySelector('a.loud'), 'go'];
    return [button(/^(Dig roots here|Go on)/), 'go'];
  };
  setInterval(() => {
    const [target, what] = next();
    if (!target) return;
    const { plants } = look();
    target.click();
    void globalThis.tell({ did: what, taps: ++taps, plants, path: location.pathname });
  }, gapMS);
  told();
}

/** Lets the thumb loose; hear is called with each word of it, in order. */
export async function digWith(page, options, hear) {
  await page.exposeFunction('tell', hear);
  await page.evaluate(dig, options);
}
