// The made-up field of practice mode. Its values resemble the demo's fields and say nothing of real
// ground; the engine judges a practice dig with them as it judges any other.
import type { Field, Grower, Row, Season, Settings } from '../wire.gen';
import { t } from './words';

const id = (n: number): string => `00000000-0000-7000-8000-00000000000${n}`;

export const practiceField = id(2);

/** Mid-June of the year, when the digs that count are done; seeded as the demo's fields are. */
const day = (year: number, monthAndDay: string): string => `${year}-${monthAndDay}`;

function settings(year: number): Settings {
  return {
    name: t('practice.title'),
    timeZone: 'America/Regina',
    currency: 'CAD',
    units: 'imperial',
    starterRule: 'published',
    nodeCount: 'withScale',
    today: day(year, '06-14'),
  };
}

function season(year: number): Season {
  return {
    field: practiceField,
    cropYear: year,
    crop: 'pea',
    status: 'started',
    yield: { value: 42, unit: 'bu/ac' },
    price: { value: 9.5, unit: '$/bu' },
    rowSpacing: { value: 10, unit: 'in' },
    seedbed: 'moist',
    inoculants: [{ form: 'granular' }],
    seeded: day(year, '05-07'),
    emerged: day(year, '05-19'),
  };
}

export function practiceRows(year: number): Row[] {
  const grower: Grower = { name: t('practice.grower') };
  const field: Field = {
    grower: id(1),
    name: t('practice.field'),
    area: { value: 155, unit: 'ac' },
    soilZone: 'darkBrown',
    texture: 'medium',
  };
  const bodies: readonly (readonly [string, string, object])[] = [
    [id(9), 'settings', settings(year)],
    [id(1), 'grower', grower],
    [practiceField, 'field', field],
    [id(3), 'season', season(year)],
  ];
  return bodies.map(([rec, kind, body], i) => ({ id: rec, kind, seq: i + 1, body: { ...body } }));
}
