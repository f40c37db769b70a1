// The front door. Where the worker has put the last sight of a screen into the page, that is painted
// first, and a tap on one of its links is kept for the program, which is fetched meanwhile.
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

/** The program is not there yet: it will open where the finger pointed. */
function keepTap(event: MouseEvent): void {
  const link = (event.target as Element).closest('a');
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  link.setAttribute('aria-busy', 'true');
  history.pushState(null, '', link.href);
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
  await run(root, () => removeEventListener('click', keepTap));
}

void start();
