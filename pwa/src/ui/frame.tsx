// The page around every screen: a running head, the sheet, and on the phone a foot with the way on.
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { spaceShort } from '../state/keep';
import { conflicts } from '../state/review';
import { t, tn } from '../state/words';
import { atDesk } from '../state/place';
import { open, mayPlan, tally } from '../state/session';
import { SyncLine } from './sync-line';

interface Props {
  title: string;
  /** Where the way back leads; without it this is a first screen. */
  back?: string;
  backWords?: string;
  foot?: ComponentChildren;
  children: ComponentChildren;
  wide?: boolean;
}

export function Frame({ title, back, backWords, foot, children, wide }: Props) {
  return (
    <div class={wide ? 'sheet wide' : 'sheet'}>
      <header class="head">
        {back ? (
          <a class="back" href={back}>
            <span>←&nbsp;{backWords ?? t('nav.fields')}</span>
          </a>
        ) : (
          <Mark />
        )}
        {open.value && <SyncLine />}
      </header>
      {atDesk.value && open.value && <DeskNav />}
      <main id="page" tabIndex={-1}>
        <h1>{title}</h1>
        {spaceShort.value && (
          <p class="notice" role="alert">
            {t('space.short')}
          </p>
        )}
        {children}
      </main>
      {foot && <Foot>{foot}</Foot>}
    </div>
  );
}

/** The bar at the foot; the page leaves as much room below its last line. */
function Foot({ children }: { children: ComponentChildren }) {
  const bar = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    const own = bar.current;
    const { style } = document.documentElement;
    if (!own) return;
    const eye = new ResizeObserver(() => style.setProperty('--foot', `${own.offsetHeight}px`));
    eye.observe(own);
    return () => {
      eye.disconnect();
      style.removeProperty('--foot');
    };
  }, []);
  return (
    <footer class="foot" ref={bar}>
      {children}
    </footer>
  );
}

function Mark() {
  return (
    <span class="name">
      <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
        <ellipse class="seed" cx="12" cy="12" rx="10" ry="9" />
        <ellipse class="scar" cx="12" cy="12" rx="1.8" ry="5" />
      </svg>
      Hilum
    </span>
  );
}

function DeskNav() {
  return (
    <nav class="desk-nav" aria-label={t('nav.label')}>
      <a class="past" href="#page">
        {t('nav.past')}
      </a>
      <a href="/">{t('nav.fields')}</a>
      <a href="/today">{t('nav.today')}</a>
      {mayPlan.value && <a href="/people">{t('nav.people')}</a>}
      {mayPlan.value && <a href="/account">{t('nav.account')}</a>}
      <a href="/hand-in">{t('nav.handIn')}</a>
      {conflicts.value.length > 0 && (
        <a href="/review">{tn('review.nav', conflicts.value.length)}</a>
      )}
      {tally.value.look > 0 && <a href="/look">{t('nav.look')}</a>}
      <a href="/settings">{t('nav.settings')}</a>
      <a href="/about">{t('nav.about')}</a>
    </nav>
  );
}

/** The phone's foot on first screens: four words, no icons. */
export function PhoneNav() {
  if (atDesk.value) return null;
  return (
    <nav class="phone-nav" aria-label={t('nav.label')}>
      {firstScreens.map(([to, words]) => (
        <a key={to} href={to} aria-current={location.pathname === to ? 'page' : undefined}>
          {t(words)}
        </a>
      ))}
    </nav>
  );
}

const firstScreens = [
  ['/today', 'nav.today'],
  ['/', 'nav.fields'],
  ['/hand-in', 'nav.handIn'],
  ['/settings', 'nav.settings'],
] as const;
