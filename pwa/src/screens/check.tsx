// What else may be wrong, one cause after the other: what its signs are, and whether they are there.
import { causes, look, lookedOf, type DigDraft, type Looked } from '../dig/draft';
import { put, turnTo } from '../state/dig';
import { t, within, type Key } from '../state/words';
import { tapped } from '../ui/once';

const answers = ['yes', 'notSeen', 'notLooked'] as const satisfies readonly Looked[];

export function Checks({ draft }: { draft: DigDraft }) {
  const at = Math.min(draft.check ?? 0, causes.length - 1);
  const cause = causes[at] ?? 'herbicide';
  const last = at === causes.length - 1;
  const tell = (looked: Looked) => {
    const told = look(draft, cause, looked);
    put(last ? { ...told, check: 0, page: 'finish' } : { ...told, check: at + 1 });
  };
  return (
    <>
      <div class="tally">
        <h2>
          {t('check.of', { n: at + 1, all: causes.length })} {t(`suspicion.${cause}`)}
        </h2>
        <p>{t(`check.sign.${cause}`)}</p>
        <Answered draft={draft} />
      </div>
      <div class="thumb">
        <p class="ask">{t('check.ask')}</p>
        <div class="keys one">
          {answers.map((looked) => (
            <button
              key={looked}
              type="button"
              class="key-button"
              data-looked={looked}
              aria-pressed={lookedOf(draft, cause) === looked}
              onClick={() => tapped(() => tell(looked))}
            >
              {t(`check.${looked}`)}
            </button>
          ))}
        </div>
        <div class="row">
          <button
            type="button"
            disabled={at === 0}
            onClick={() => put({ ...draft, check: at - 1 })}
          >
            {t('check.before')}
          </button>
          <button type="button" onClick={() => turnTo(draft, 'finish')}>
            {t('finish.back')}
          </button>
        </div>
      </div>
    </>
  );
}

/** What has been answered, in words; what nobody looked for is not named. */
function Answered({ draft }: { draft: DigDraft }) {
  const told = (looked: Looked) =>
    causes.filter((c) => lookedOf(draft, c) === looked).map((c) => t(`suspicion.${c}` as Key));
  const lines = [
    [t('dug.seen'), told('yes')],
    [t('dug.notSeen'), told('notSeen')],
  ] as const;
  return (
    <>
      {lines.map(([words, list]) =>
        list.length === 0 ? null : (
          <p key={words} class="in-hand">
            {words}: {list.map(within).join(', ')}
          </p>
        ),
      )}
    </>
  );
}
