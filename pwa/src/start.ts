// The front door. Where the worker has put the last sight of a screen into the page, that is painted
// first, and a tap on one of its links or buttons is kept for the program, which is fetched meanwhile.
import './style/base.css';
import './style/sheet.css';
import './style/foot.css';
import './style/practice.css';
import './style/desk.css';
import './style/form.css';
import './style/dig.css';
import './style/map.css';
import './style/paper.css';
import './style/rescue.css';
import './style/today.css';
import './style/people.css';

const deskWidth = '(min-width: 900px)';

/** Resolves when what stands in the page now has been painted. */
const painted = (): Promise<void> =>
  new Promise((done) => requestAnimationFrame(() => setTimeout(done)));

let touched: { button: HTMLElement; words: string } | undefined;

/** What a button says, and of what; a number in it may be another by now. */
const wordsOf = (button: HTMLElement): string =>
  [button.getAttribute('aria-label'), button.textContent?.replace(/\d+/g, '').trim()].join(': ');

/** The program is not there yet: it will open where the finger pointed, or press what it pressed. */
function keepTap(event: MouseEvent): void {
  const at = event.target as Element;
  const link = at.closest('a');
  const button = at.closest('button');
  if (button) touched = { button, words: wordsOf(button) };
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  link.setAttribute('aria-busy', 'true');
  history.pushState(null, '', link.href);
}

/** What is drawn takes over what stood there: a button that is still the same is pressed now. */
function giveTap(): void {
  if (touched?.button.isConnected && wordsOf(touched.button) === touched.words)
    touched.button.click();
}

async function start(): Promise<void> {
  const root = document.getElementById('app');
  if (!root) return;
  if (matchMedia(deskWidth).matches) root.replaceChildren(); // what was seen was a phone's
  if (root.firstChild) {
    addEventListener('click', keepTap);
    await painted();
  }
  const { run } = await import('./main');
  await run(root, {
    opened: () => removeEventListener('click', keepTap),
    drawn: giveTap,
  });
}

void start();
