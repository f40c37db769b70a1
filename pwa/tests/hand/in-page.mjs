// Runs inside the page: what a thumb can hit and an eye can read, measured. Plain functions, put
// into the page as text; faults() gives a sentence for each thing that falls short.

const rules = {
  control: 48,
  primary: 64,
  tally: 72,
  gap: 8,
  contrast: 7,
  keyContrast: 12,
  edgeContrast: 4.5,
};

const within = (v, least) => v >= least - 0.5; // half a pixel is rounding

function boxOf(e) {
  const label = /checkbox|radio|file/.test(e.type ?? '') ? e.closest('label') : null;
  return (label ?? e).getBoundingClientRect();
}

function seen(e) {
  const box = e.getBoundingClientRect();
  return (
    box.width > 1.5 &&
    box.height > 1.5 &&
    e.checkVisibility({ visibilityProperty: true, opacityProperty: true })
  );
}

const say = (e) => {
  const words = e.textContent.trim() || e.getAttribute('aria-label') || e.id || e.tagName;
  return `“${words.replace(/\s+/g, ' ').slice(0, 40)}”`;
};

/** A link in the middle of a sentence is as high as its line; one alone is a control. */
function inSentence(e) {
  if (e.tagName !== 'A' || getComputedStyle(e).display !== 'inline') return false;
  return [...e.parentElement.childNodes].some(
    (n) => n !== e && n.nodeType === 3 && n.textContent.trim() !== '',
  );
}

function stuck(e) {
  for (let at = e; at; at = at.parentElement)
    if (/sticky|fixed/.test(getComputedStyle(at).position)) return at;
  return null;
}

function controls() {
  const all = document.querySelectorAll(
    'button, a[href], input, select, textarea, summary, [tabindex="0"]',
  );
  return [...all]
    .filter((e) => seen(e) || (e.closest('label') && seen(e.closest('label'))))
    .filter((e) => boxOf(e).width > 1.5 && !inSentence(e))
    .map((e) => ({ e, box: boxOf(e), stuck: stuck(e) }));
}

function sizes(list, least) {
  return list.flatMap(({ e, box }) => {
    const key = e.classList.contains('key-button');
    const high = key
      ? Math.max(rules.tally, least)
      : e.classList.contains('loud')
        ? Math.max(rules.primary, least)
        : least;
    const faults = [];
    if (!within(box.height, high))
      faults.push(`size: ${say(e)} is ${Math.round(box.height)} px high, least ${high}`);
    if (!within(box.width, least))
      faults.push(`size: ${say(e)} is ${Math.round(box.width)} px wide, least ${least}`);
    return faults;
  });
}

/** Distance between two boxes along the axis on which they face each other. */
function gapOf(a, b) {
  const dx = Math.max(a.left - b.right, b.left - a.right);
  const dy = Math.max(a.top - b.bottom, b.top - a.bottom);
  return Math.max(dx, dy);
}

function gaps(list) {
  const faults = [];
  for (let i = 0; i < list.length; i++) {
    for (let j = i + 1; j < list.length; j++) {
      const [a, b] = [list[i], list[j]];
      if (a.stuck !== b.stuck || a.e.contains(b.e) || b.e.contains(a.e)) continue;
      const gap = gapOf(a.box, b.box);
      if (!within(gap, rules.gap))
        faults.push(
          `gap: ${say(a.e)} and ${say(b.e)} are ${Math.round(gap)} px apart, least ${rules.gap}`,
        );
    }
  }
  return faults;
}

function reach(list, lower) {
  const from = innerHeight * (1 - lower);
  return list.flatMap(({ e, box }) => {
    if (e.closest('.back, .leave')) return []; // leaving is not part of the flow
    const faults = [];
    const [top, least] = [Math.round(box.top), Math.round(from)];
    if (!within(box.top, from))
      faults.push(`reach: ${say(e)} starts at ${top} px, the thumb reaches from ${least}`);
    if (!within(innerHeight, box.bottom)) faults.push(`reach: ${say(e)} ends below the screen`);
    return faults;
  });
}

function colour(text) {
  const found = text.match(/[\d.]+/g)?.map(Number) ?? [];
  const scale = text.startsWith('color(') ? 255 : 1;
  const [r = 0, g = 0, b = 0, a = 1] = found;
  return { r: r * scale, g: g * scale, b: b * scale, a };
}

const over = (top, under) => ({
  r: top.r * top.a + under.r * (1 - top.a),
  g: top.g * top.a + under.g * (1 - top.a),
  b: top.b * top.a + under.b * (1 - top.a),
  a: 1,
});

function ground(e) {
  const layers = [];
  for (let at = e; at; at = at.parentElement) {
    const c = colour(getComputedStyle(at).backgroundColor);
    layers.push(c);
    if (c.a === 1) break;
  }
  return layers.reduceRight((under, c) => over(c, under), { r: 255, g: 255, b: 255, a: 1 });
}

/** A figure on a filled disc lies on the last filled shape before it that holds its middle. */
function shapeUnder(e) {
  const text = e.closest('text');
  const { left, right, top, bottom } = e.getBoundingClientRect();
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  const holds = (shape) => {
    const { fill, fillOpacity } = getComputedStyle(shape);
    const box = shape.getBoundingClientRect();
    return (
      colour(fill).a > 0 &&
      fill !== 'none' &&
      fillOpacity !== '0' &&
      box.left <= x &&
      x <= box.right &&
      box.top <= y &&
      y <= box.bottom
    );
  };
  const before = [...e.closest('svg').querySelectorAll('path, circle, ellipse, rect, polygon')]
    .filter((s) => text && s.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING)
    .filter(holds);
  const under = before.at(-1);
  return under ? over(colour(getComputedStyle(under).fill), ground(e)) : ground(e);
}

/** Relative luminance and contrast as WCAG 2 defines them. */
function luminance({ r, g, b }) {
  const part = (v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
  return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
}

function contrast(a, b) {
  const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
  return (x + 0.05) / (y + 0.05);
}

function* texts() {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const e = node.parentElement;
    if (
      node.textContent.trim() === '' ||
      /SCRIPT|STYLE|NOSCRIPT|OPTION/.test(e.tagName) ||
      !seen(e)
    )
      continue;
    if (e.closest('.hidden')) continue;
    yield { node, e };
  }
}

function inks() {
  const faults = new Set();
  const judge = (e, ink, what) => {
    const under = e.closest('svg') ? shapeUnder(e) : ground(e);
    const found = contrast(over(colour(ink), under), under);
    const least = e.closest('.count, .key') ? rules.keyContrast : rules.contrast;
    if (found < least) faults.add(`contrast: ${what} ${found.toFixed(1)} to 1, least ${least}`);
  };
  for (const { e } of texts()) {
    const style = getComputedStyle(e);
    judge(e, e.closest('svg') ? style.fill : style.color, say(e));
  }
  for (const e of document.querySelectorAll('input, textarea, select')) {
    if (!seen(e)) continue;
    judge(e, getComputedStyle(e).color, `what is typed in ${say(e)}`);
    if (e.placeholder)
      judge(e, getComputedStyle(e, '::placeholder').color, `the hint in ${say(e)}`);
  }
  return [...faults];
}

/** A control's edge, or its filled ground, has to stand out from what is around it. */
function edges(list) {
  return list.flatMap(({ e }) => {
    const style = getComputedStyle(e);
    if (!/BUTTON|INPUT|SELECT|TEXTAREA/.test(e.tagName) && !/button|loud/.test(e.className))
      return [];
    if (/checkbox|radio|file/.test(e.type ?? '')) return [];
    const around = ground(e.parentElement);
    const edge =
      parseFloat(style.borderTopWidth) > 0 ? contrast(colour(style.borderTopColor), around) : 0;
    const fill = contrast(ground(e), around);
    const bare = edge === 0 && fill < 1.05; // text alone: its ink is what is judged
    const best = Math.max(edge, fill);
    return bare || best >= rules.edgeContrast
      ? []
      : [`edge: ${say(e)} ${best.toFixed(1)} to 1, least ${rules.edgeContrast}`];
  });
}

const scrolls = (e) => {
  for (let at = e; at && at !== document.body; at = at.parentElement)
    if (/auto|scroll/.test(getComputedStyle(at).overflowX)) return true;
  return false;
};

function lineBoxes() {
  const out = [];
  for (const { node, e } of texts()) {
    if (e.closest('svg')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const held = stuck(e);
    for (const r of range.getClientRects()) if (r.width > 1) out.push({ e, held, r });
  }
  return out;
}

/** What gets lost: text cut off, pushed out sideways, or one on top of the other. */
function losses() {
  const faults = new Set();
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 1) faults.add(`loss: the page is ${wide} px too wide`);
  const boxes = lineBoxes();
  for (const { e, r } of boxes) {
    if (r.right > innerWidth + 1 && !scrolls(e)) faults.add(`loss: ${say(e)} runs out of the page`);
    for (let at = e; at; at = at.parentElement) {
      const { overflowX, overflowY, display } = getComputedStyle(at);
      if (display === 'inline' || !/hidden|clip/.test(overflowX + overflowY)) continue;
      const b = at.getBoundingClientRect();
      if (r.right > b.right + 1 || r.bottom > b.bottom + 1)
        faults.add(`loss: ${say(e)} is cut off`);
    }
  }
  boxes.sort((a, b) => a.r.top - b.r.top);
  for (let i = 0; i < boxes.length; i++) {
    for (let j = i + 1; j < boxes.length && boxes[j].r.top < boxes[i].r.bottom; j++) {
      const [a, b] = [boxes[i], boxes[j]];
      if (
        a.held !== b.held ||
        a.e === b.e ||
        a.e.closest('.hidden') ||
        scrolls(a.e) !== scrolls(b.e)
      )
        continue;
      const across = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left);
      const down = Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top);
      if (across > 2 && down > 0.45 * Math.min(a.r.height, b.r.height))
        faults.add(`loss: ${say(a.e)} lies over ${say(b.e)}`);
    }
  }
  return [...faults];
}

/** What sticks to the screen may not take it away from what scrolls. */
function curtain() {
  let covered = 0;
  for (const e of document.body.querySelectorAll('*'))
    if (/sticky|fixed/.test(getComputedStyle(e).position) && seen(e))
      covered += Math.min(e.getBoundingClientRect().height, innerHeight);
  const share = covered / innerHeight;
  return share > 0.5 ? [`loss: what sticks covers ${Math.round(share * 100)} % of the screen`] : [];
}

/** Who asks the device for less motion gets none. */
function motions() {
  if (!matchMedia('(prefers-reduced-motion: reduce)').matches) return [];
  const moves = (style) =>
    style.animationName !== 'none' || style.transitionDuration.split(', ').some((d) => parseFloat(d) > 0);
  return [...document.body.querySelectorAll('*')]
    .filter((e) => moves(getComputedStyle(e)))
    .map((e) => `motion: ${say(e)} moves`);
}

function faults({ least, flow, ink, large }) {
  if (large) return [...losses(), ...curtain()];
  if (ink) return [...inks(), ...edges(controls())];
  const list = controls();
  return [
    ...sizes(list, least),
    ...(least >= rules.control ? gaps(list) : []),
    ...(flow ? reach(list, flow) : []),
    ...losses(),
    ...motions(),
  ];
}
