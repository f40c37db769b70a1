// Where published rules differ, the account's choice among them; the first of each is the default.
import { useEffect } from 'preact/hooks';
import type { Rules } from '../wire.gen';
import { editSettings } from '../state/edit';
import { settings } from '../state/records';
import { loadEngineWords, sayCode, t, type Key } from '../state/words';
import { Choice } from '../ui/form';

interface Rule {
  name: keyof Rules;
  /** The family of the engine's words that names its values; without one they are the screen's. */
  family?: string;
  values: readonly [string, ...string[]];
}

const rules: readonly Rule[] = [
  { name: 'credit', family: 'credit', values: ['byZone', 'flat40', 'byYield', 'none'] },
  { name: 'root', family: 'root', values: ['none', 'greenhouse', 'thirtyPercent'] },
  { name: 'fallTest', values: ['asSampled', 'addManitoba'] },
  { name: 'rescueRate', family: 'rescueRate', values: ['limited', 'uptakeLessSoil'] },
  { name: 'soybeanCount', family: 'soyCount', values: ['tenAnySize', 'sevenPink2mm'] },
  { name: 'dryBeanN', family: 'beanRule', values: ['total70', 'total80', 'yieldBased', 'none'] },
];

const valueWords = ({ name, family }: Rule, value: string): string =>
  family ? sayCode(`${family}.${value}`) : t(`rules.${name}.${value}` as Key);

export function RulesForm() {
  useEffect(loadEngineWords, []);
  const chosen = settings.value?.rules ?? {};
  return (
    <section class="edit">
      <h3>{t('rules.title')}</h3>
      <p class="aside">{t('rules.why')}</p>
      <div class="entries">
        {rules.map((rule) => (
          <Choice
            key={rule.name}
            label={t(`rules.${rule.name}` as Key)}
            value={chosen[rule.name] ?? rule.values[0]}
            options={rule.values.map((v) => [v, valueWords(rule, v)] as const)}
            put={(v) => editSettings((now) => ({ rules: { ...now.rules, [rule.name]: v } }))}
          />
        ))}
      </div>
    </section>
  );
}
