// Passes over a field: what went on, when it ended, and how long the label keeps people out.
import { useSignal } from '@preact/signals';
import { newId } from '../id';
import { edit, judge } from '../state/edit';
import { keep } from '../state/keep';
import { all, one, passes, planYear, today, type Rec } from '../state/records';
import { showDate, showNumber, t, type Key } from '../state/words';
import type { Pass } from '../wire.gen';
import { EntryLine } from '../ui/entry';
import { Act, Choice, drawn, isOpen, NumberField, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { useOnce } from '../ui/once';
import { ProblemLine, useProblem } from '../ui/problem';
import type { Answer } from '../ui/refusal';
import { KeptLine } from '../ui/sync-line';
import { useTyped } from '../ui/typed';
import { NotHere } from './not-here';

const loads = [
  'herbicide',
  'insecticide',
  'fungicide',
  'fertilizer',
  'desiccant',
  'other',
] as const;

/** More than a week is asked about, never refused (ours: a slip of a digit is likelier). */
const oddHours = 168;

export function PassScreen({ id = '' }: { id?: string }) {
  const field = one('field', id);
  if (!field) return <NotHere />;
  return (
    <Frame title={t('pass.title')} back={`/field/${id}`} backWords={field.body.name}>
      <EntryLine field={id} />
      <KeptLine />
      <Passes field={id} whole />
    </Frame>
  );
}

/** `whole`: it fills a screen, whose title says what it is. */
export function Passes({ field, whole = false }: { field: string; whole?: boolean }) {
  const list = (passes.value.get(field) ?? [])
    .filter((p) => p.body.cropYear === planYear.value)
    .sort((a, b) => whenOf(b).localeCompare(whenOf(a)));
  return (
    <section class="edit">
      {!whole && <h3>{t('pass.title')}</h3>}
      {list.length === 0 && <p>{t('pass.none')}</p>}
      <ul class="passes">
        {list.map((p) => (
          <One key={p.id} pass={p} />
        ))}
      </ul>
      <NewPass field={field} loud={whole} />
    </section>
  );
}

const whenOf = (p: Rec<'pass'>): string => `${p.body.date}T${p.body.time ?? '24:00'}`;

function One({ pass }: { pass: Rec<'pass'> }) {
  const asked = useSignal(false);
  const { body } = pass;
  const out = () => void keep([{ rec: pass.id, kind: 'pass', base: pass.seq, del: true }]);
  return (
    <li>
      <p>
        <b>{body.product}</b> · {t(`pass.${body.what}` as Key)} · {showDate(body.date)}{' '}
        {body.time ?? t('pass.noTime')}
        {body.note && ` · ${body.note}`}
      </p>
      <Hours
        value={body.reEntryHours}
        put={(v) => edit('pass', pass.id, { reEntryHours: v ?? null }, body.field)}
      />
      {asked.value ? (
        <div class="notice">
          <p>{t('pass.outWhat')}</p>
          <button type="button" onClick={out}>
            {t('pass.outNow')}
          </button>
          <button type="button" onClick={() => (asked.value = false)}>
            {t('form.cancel')}
          </button>
        </div>
      ) : (
        <button type="button" onClick={() => (asked.value = true)}>
          {t('pass.out')}
        </button>
      )}
    </li>
  );
}

/** Hours from the label; an odd number is asked about before it counts. */
function Hours({
  value,
  put,
}: {
  value: number | undefined;
  put: (hours: number | undefined) => Answer;
}) {
  const odd = useSignal<number | undefined>(undefined);
  const take = (hours: number | undefined) => {
    odd.value = hours !== undefined && hours > oddHours ? hours : undefined;
    return odd.value === undefined ? put(hours) : undefined;
  };
  const sure = async () => {
    const problem = await put(odd.value);
    if (!problem) odd.value = undefined;
    return problem;
  };
  return (
    <>
      <NumberField
        label={t('pass.hours')}
        unit="h"
        value={value}
        hint={value === undefined ? t('pass.hoursUnread') : t('pass.hoursHint')}
        put={take}
      />
      {odd.value !== undefined && (
        <p class="notice" role="alert" data-open tabIndex={-1}>
          {t('pass.odd', { hours: showNumber(odd.value), days: showNumber(odd.value / 24) })}{' '}
          <Act does={sure}>{t('pass.oddKeep')}</Act>
          <button type="button" onClick={() => (odd.value = undefined)}>
            {t('pass.oddChange')}
          </button>
        </p>
      )}
    </>
  );
}

/** The newest pass of its kind anywhere: offered, never assumed. */
function lastOf(what: string): Pass | undefined {
  return all('pass')
    .filter((p) => p.body.what === what)
    .sort((a, b) => whenOf(b).localeCompare(whenOf(a)))[0]?.body;
}

type Draft = Pick<Pass, 'what' | 'product' | 'date'> & Partial<Pass>;

const blank = (): Draft => ({ what: 'herbicide', product: '', date: today.value });

function NewPass({ field, loud }: { field: string; loud: boolean }) {
  const asked = useSignal(false);
  if (!asked.value) {
    return (
      <button type="button" class={loud ? 'loud' : ''} onClick={() => (asked.value = true)}>
        {t('pass.add')}
      </button>
    );
  }
  return <PassForm field={field} done={() => (asked.value = false)} />;
}

function PassForm({ field, done }: { field: string; done: () => void }) {
  const fresh = useSignal(blank()).value;
  const draft = useTyped<Draft>(`form/pass/${field}`, fresh);
  const leave = () => {
    draft.value = fresh;
    done();
  };
  const lacks = useSignal(false);
  const once = useOnce();
  const { problem, run } = useProblem();
  const d = draft.value;
  const set = (change: { [K in keyof Pass]?: Pass[K] | undefined }) =>
    (draft.value = Object.fromEntries(
      Object.entries({ ...draft.value, ...change }).filter(([, v]) => v !== undefined),
    ) as unknown as Draft);
  const keepIt = async (button: Element) => {
    lacks.value = draft.value.product.trim() === '';
    await drawn();
    if (isOpen(button.closest('.answer')) || lacks.value) return;
    const work = put();
    run(work);
    await work;
  };
  const put = async () => {
    const rec = newId(Date.now());
    const { product, ...rest } = draft.value;
    const body = { ...rest, product: product.trim(), field, cropYear: planYear.value };
    const wrong = await judge(field, rec, 'pass', body);
    if (!wrong && (await keep([{ rec, kind: 'pass', base: 0, set: body }]))) leave();
    return wrong;
  };
  const last = lastOf(d.what);
  const lacking = lacks.value && d.product.trim() === '';
  return (
    <div class="answer">
      <div class="entries">
        <Choice
          label={t('pass.what')}
          value={d.what}
          options={loads.map((w) => [w, t(`pass.${w}`)] as const)}
          onChange={(what) => set({ what })}
        />
        <TextField
          label={t('pass.product')}
          value={d.product}
          live
          error={lacking ? t('pass.needProduct') : undefined}
          open={lacking}
          onChange={(product) => set({ product })}
        />
        <TextField
          label={t('pass.date')}
          type="date"
          value={d.date}
          onChange={(date) => set({ date })}
        />
        <TextField
          label={t('pass.time')}
          hint={t('pass.timeHint')}
          placeholder="14:05"
          value={d.time ?? ''}
          onChange={(v) => set({ time: clockOf(v) })}
        />
        <Hours value={d.reEntryHours} put={(reEntryHours) => void set({ reEntryHours })} />
      </div>
      {last && last.product !== d.product && (
        <button type="button" onClick={() => set(offered(last))}>
          {t('pass.same', { product: last.product })}
        </button>
      )}
      <TextField
        label={t('pass.note')}
        value={d.note ?? ''}
        live
        onChange={(v) => set({ note: v || undefined })}
      />
      <ProblemLine problem={problem} />
      <div class="row">
        <button type="button" onClick={leave}>
          {t('form.cancel')}
        </button>
        <button type="button" class="loud" onClick={(e) => {
            const button = e.currentTarget;
            once(() => keepIt(button));
          }}>
          {t('pass.keep')}
        </button>
      </div>
    </div>
  );
}

const offered = ({ product, reEntryHours }: Pass) => ({ product, reEntryHours });

/** "14:05" from 14:05, 14h05, 1405 or 9:30; anything else goes on as typed and is refused. */
function clockOf(typed: string): string | undefined {
  const found = /^(\d{1,2})[:h ]?(\d{2})$/.exec(typed.trim());
  if (typed.trim() === '') return undefined;
  return found ? `${(found[1] ?? '').padStart(2, '0')}:${found[2]}` : typed.trim();
}
