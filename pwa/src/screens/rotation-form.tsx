// The years behind the plan: what grew, whether it was inoculated, what the roots looked like.
import type { Season } from '../wire.gen';
import { editSeason } from '../state/edit';
import { planYear, seasons } from '../state/records';
import { t, type Key } from '../state/words';
import { chosen, crops, withOwn } from '../ui/crop';
import { Choice } from '../ui/form';
import type { Answer } from '../ui/refusal';

const fewestYears = 6;

export function RotationForm({ field }: { field: string }) {
  const list = seasons.value.get(field) ?? [];
  const first = Math.min(planYear.value - fewestYears, ...list.map((s) => s.body.cropYear));
  const years = Array.from({ length: planYear.value - first }, (_, i) => planYear.value - 1 - i);
  return (
    <section class="edit">
      <h3>{t('rotation.title')}</h3>
      <table class="rotation">
        <thead>
          <tr>
            <th>{t('year')}</th>
            <th>{t('crop')}</th>
            <th>{t('rotation.inoculated')}</th>
            <th>{t('rotation.nodules')}</th>
            <th>{t('rotation.flooded')}</th>
          </tr>
        </thead>
        <tbody>
          {years.map((year) => (
            <Year
              key={year}
              year={year}
              body={list.find((s) => s.body.cropYear === year)?.body}
              put={(set) => editSeason(field, year, set)}
            />
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface YearProps {
  year: number;
  body: Season | undefined;
  put: (set: Partial<Record<keyof Season, unknown>>) => Answer;
}

const yesNoOf = (said: boolean | undefined): string => (said === undefined ? '' : said ? 'yes' : 'no');

function Year({ year, body, put }: YearProps) {
  const yesNo = [
    ['', t('form.notSaid')],
    ['yes', t('form.yes')],
    ['no', t('form.no')],
  ] as const;
  const seen = ['good', 'poor'].map((k) => [k, t(`history.${k}` as Key)] as const);
  const of = (label: string) => t('rotation.of', { label, year });
  return (
    <tr>
      <th scope="row">{year}</th>
      <td>
        <Choice
          label={of(t('crop'))}
          value={chosen(body?.crop)}
          options={withOwn(body?.crop, crops)}
          needed={body !== undefined}
          put={(v) => put({ crop: v })}
        />
      </td>
      <td>
        <Choice
          label={of(t('rotation.inoculated'))}
          value={yesNoOf(body?.inoculated)}
          options={yesNo}
          put={(v) => put({ inoculated: v === '' ? null : v === 'yes' })}
        />
      </td>
      <td>
        <Choice
          label={of(t('rotation.nodules'))}
          value={body?.nodulation ?? ''}
          options={[['', t('form.notSaid')], ...seen]}
          put={(v) => put({ nodulation: v || null })}
        />
      </td>
      <td>
        <Choice
          label={of(t('rotation.flooded'))}
          value={yesNoOf(body?.flooded)}
          options={yesNo}
          put={(v) => put({ flooded: v === '' ? null : v === 'yes' })}
        />
      </td>
    </tr>
  );
}
