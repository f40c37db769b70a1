// The money of the year. What is not entered stays unknown, and the answers say so.
import { editSettings } from '../state/edit';
import { settings } from '../state/records';
import { mayPlan } from '../state/session';
import { t, within, type Key } from '../state/words';
import type { Prices, Quantity } from '../wire.gen';
import { Amount } from '../ui/amount';
import { Frame } from '../ui/frame';
import { ProblemLine, useProblem } from '../ui/problem';
import { KeptLine } from '../ui/sync-line';

const products = [
  ['map', ['$/t', '$/short ton']],
  ['ammoniumSulphate', ['$/t', '$/short ton']],
  ['urea', ['$/t', '$/short ton']],
  ['coatedUrea', ['$/t', '$/short ton']],
  ['uan', ['$/t', '$/L', '$/US gal', '$/imp gal']],
] as const;
const forms = ['liquid', 'peat', 'granular'] as const;
const perArea = ['$/ac', '$/ha'] as const;

export function PricesScreen() {
  return (
    <Frame title={t('prices.title')} back="/account" backWords={t('nav.account')}>
      <KeptLine />
      {mayPlan.value ? <PricesForm whole /> : <p>{t('account.none')}</p>}
    </Frame>
  );
}

/** A list with the entry of one key set, or taken out. */
function withOne<T>(list: readonly T[] | undefined, isIt: (x: T) => boolean, next: T | undefined): T[] {
  const rest = (list ?? []).filter((x) => !isIt(x));
  return next === undefined ? rest : [...rest, next];
}

let saving: Promise<unknown> = Promise.resolve();

export function PricesForm({ whole = false }: { whole?: boolean }) {
  const { problem, run } = useProblem();
  const prices: Prices = settings.value?.prices ?? {};
  // One after the other, each on what the one before has left: the prices are one value.
  const put = (change: (now: Prices) => { [K in keyof Prices]?: Prices[K] | undefined }) => {
    const work = saving.then(() => {
      const now = settings.peek()?.prices ?? {};
      const entries = Object.entries({ ...now, ...change(now) });
      return editSettings({ prices: Object.fromEntries(entries.filter(([, v]) => v !== undefined)) });
    });
    saving = work.catch(() => undefined);
    run(work);
  };
  const single = (key: 'seed' | 'pass' | 'soilTest' | 'dig', units: readonly string[]) => (
    <Amount
      label={t(`prices.${key}`)}
      units={units}
      value={prices[key]}
      put={(v) => put(() => ({ [key]: v ?? undefined }))}
    />
  );
  return (
    <section class="edit">
      {!whole && <h3>{t('prices.title')}</h3>}
      <p class="aside">{t('prices.why')}</p>
      <div class="entries">
        {single('seed', ['$/lb', '$/kg'])}
        {single('pass', perArea)}
        {single('dig', ['$/field'])}
        {single('soilTest', ['$/field'])}
        <Products prices={prices} put={put} />
        <Forms prices={prices} put={put} />
      </div>
      <ProblemLine problem={problem} />
    </section>
  );
}

type Put = (change: (now: Prices) => Partial<Prices>) => void;

function Products({ prices, put }: { prices: Prices; put: Put }) {
  const set = (product: string, price: Quantity | null) =>
    put(({ products: list }) => ({
      products: withOne(list, (x) => x.product === product, price ? { product, price } : undefined),
    }));
  return (
    <>
      {products.map(([product, units]) => (
        <Amount
          key={product}
          label={t(`product.${product}` as Key)}
          units={units}
          value={prices.products?.find((x) => x.product === product)?.price}
          put={(v) => set(product, v)}
        />
      ))}
    </>
  );
}

function Forms({ prices, put }: { prices: Prices; put: Put }) {
  const set = (form: string, cost: Quantity | null) =>
    put(({ inoculant: list }) => ({
      inoculant: withOne(list, (x) => x.form === form, cost ? { form, cost } : undefined),
    }));
  return (
    <>
      {forms.map((form) => (
        <Amount
          key={form}
          label={t('prices.inoculant', { form: within(t(`form.${form}`)) })}
          units={perArea}
          value={prices.inoculant?.find((x) => x.form === form)?.cost}
          put={(v) => set(form, v)}
        />
      ))}
    </>
  );
}
