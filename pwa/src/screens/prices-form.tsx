// The money of the year. What is not entered stays unknown, and the answers say so.
import type { ComponentChildren } from 'preact';
import { editSettings } from '../state/edit';
import { settings } from '../state/records';
import { mayPlan } from '../state/session';
import { t, type Key } from '../state/words';
import type { Prices, Quantity } from '../wire.gen';
import { Amount } from '../ui/amount';
import { Frame } from '../ui/frame';
import type { Answer } from '../ui/refusal';
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

type Put = (change: (now: Prices) => { [K in keyof Prices]?: Prices[K] | undefined }) => Answer;

/** A list with the entry of one key set, or taken out. */
function withOne<T>(list: readonly T[] | undefined, isIt: (x: T) => boolean, next: T | undefined): T[] {
  const rest = (list ?? []).filter((x) => !isIt(x));
  return next === undefined ? rest : [...rest, next];
}

/** The prices are one value: what changes in it is said on what stands there by then. */
const put: Put = (change) =>
  editSettings((account) => {
    const now = account.prices ?? {};
    const entries = Object.entries({ ...now, ...change(now) });
    return { prices: Object.fromEntries(entries.filter(([, v]) => v !== undefined)) };
  });

export function PricesForm({ whole = false }: { whole?: boolean }) {
  const prices: Prices = settings.value?.prices ?? {};
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
      <Group title={t('prices.work')} whole={whole}>
        {single('seed', ['$/lb', '$/kg'])}
        {single('pass', perArea)}
        {single('dig', ['$/field'])}
        {single('soilTest', ['$/field'])}
      </Group>
      <Group title={t('prices.products')} whole={whole}>
        <Products prices={prices} />
      </Group>
      <Group title={t('prices.inoculant')} whole={whole}>
        <Forms prices={prices} />
      </Group>
    </section>
  );
}

interface GroupProps {
  title: string;
  whole: boolean;
  children: ComponentChildren;
}

/** Prices of one sort under a heading of the level that fits where they stand. */
function Group({ title, whole, children }: GroupProps) {
  return (
    <>
      {whole ? <h2>{title}</h2> : <h4>{title}</h4>}
      <div class="entries">{children}</div>
    </>
  );
}

function Products({ prices }: { prices: Prices }) {
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

function Forms({ prices }: { prices: Prices }) {
  const set = (form: string, cost: Quantity | null) =>
    put(({ inoculant: list }) => ({
      inoculant: withOne(list, (x) => x.form === form, cost ? { form, cost } : undefined),
    }));
  return (
    <>
      {forms.map((form) => (
        <Amount
          key={form}
          label={t(`form.${form}`)}
          units={perArea}
          value={prices.inoculant?.find((x) => x.form === form)?.cost}
          put={(v) => set(form, v)}
        />
      ))}
    </>
  );
}
