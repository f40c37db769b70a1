// The records that both sides carry: the same ids, the same values, about 400 bytes each as JSON.
// Made from a seed; nothing in them belongs to anybody. No field has a season, so that the farm
// server has no results to compute for them: the peer computes none either.

const words = `stand even low spot wet knoll stones rows crop rotation lentil pea barley canola drill
opener residue chaff salt slough fence corner yard gate north south east west half quarter trail seed
roots crown lateral nodules pink pale few many washed dug cut sample probe bag dry moist frozen cloddy
firm loose early late patchy green yellow short tall strip check again after rain before next to the
and with without along near above below`.split(/\s+/);

/** Thirty-two bits at a time from a seed (a Weyl sequence, mixed). */
function chanceOf(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
  const below = (n) => next() % n;
  return { next, below, pick: (list) => list[below(list.length)] };
}

export class Maker {
  constructor(seed) {
    this.chance = chanceOf(seed);
    this.at = Date.UTC(2027, 4, 1) + seed;
  }

  /** As a device makes ids: the millisecond, then noise. */
  id() {
    this.at += 1 + this.chance.below(60_000);
    const time = this.at.toString(16).padStart(12, '0');
    const noise = [0, 1, 2].map(() => this.chance.next().toString(16).padStart(8, '0')).join('');
    const parts = [time.slice(0, 8), time.slice(8), `7${noise.slice(0, 3)}`, `a${noise.slice(3, 6)}`];
    return `${parts.join('-')}-${noise.slice(6, 18)}`;
  }

  note(letters) {
    let text = this.chance.pick(words);
    while (text.length < letters) text += ` ${this.chance.pick(words)}`;
    return text;
  }

  day() {
    return `2027-06-${String(1 + this.chance.below(30)).padStart(2, '0')}`;
  }

  grower() {
    const set = { name: `Grower ${this.note(8)}`, note: this.note(290) };
    return { rec: this.id(), kind: 'grower', set };
  }

  field(grower) {
    const area = { value: 40 + this.chance.below(4000) / 10, unit: 'ac' };
    const name = `${this.note(10)} ${this.chance.below(99)}`;
    return { rec: this.id(), kind: 'field', set: { grower, name, area, note: this.note(200) } };
  }

  soilTest(field) {
    const depth = (value) => ({ value, unit: 'in' });
    const nitrate = () => ({ value: 4 + this.chance.below(400) / 10, unit: 'lb/ac' });
    const layers = [{ top: depth(0), bottom: depth(12), nitrate: nitrate() }];
    const set = { field, sampled: this.day(), layers, note: this.note(135) };
    return { rec: this.id(), kind: 'soilTest', set };
  }

  dig(field) {
    const { chance } = this;
    const plant = {
      id: this.id(),
      vigour: chance.pick(['vigorous', 'small', 'pale']),
      nodules: chance.pick(['over5', '3to5', 'under3']),
      inside: chance.pick(['pink', 'white', 'green']),
      position: chance.pick(['mostlyCrown', 'crownAndLateral', 'mostlyLateral']),
    };
    const spots = [{ id: this.id(), plants: [plant] }];
    const set = { field, cropYear: 2027, date: this.day(), spots, note: this.note(12) };
    return { rec: this.id(), kind: 'dig', set };
  }
}

/** An account: growers, their fields, and what was sampled and dug on them. */
export function account(maker, count) {
  const growers = Array.from({ length: Math.ceil(count / 200) }, () => maker.grower());
  const ids = growers.map((g) => g.rec);
  const fields = Array.from({ length: Math.ceil(count / 10.5) }, () =>
    maker.field(maker.chance.pick(ids)),
  );
  const places = fields.map((f) => f.rec);
  const rest = day(maker, count - growers.length - fields.length, places);
  return { fields: places, list: [...growers, ...fields, ...rest] };
}

/** What one phone brings home. */
export function day(maker, count, fields) {
  return Array.from({ length: count }, (_, i) => {
    const field = maker.chance.pick(fields);
    return i % 3 === 0 ? maker.dig(field) : maker.soilTest(field);
  });
}
