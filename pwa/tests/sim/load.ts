// A first load under way: the packed account comes in pieces, and may break off between two of them.
import { patienceMS, type Fate } from './sky';
import type { Phone } from './phone';
import type { World } from './world';

/** Cut anywhere, as bytes are. */
const pieces = (bytes: Uint8Array, at: number): Uint8Array[] =>
  [bytes.subarray(0, at), bytes.subarray(at)].filter((piece) => piece.length > 0);

type Piece = { done: boolean; value?: Uint8Array };

/** The fates that leave a person waiting until the browser gives up. */
const silent: readonly Fate[] = ['requestLost', 'replyLost', 'late'];

/** Answers the request for the packed account; what hangs for good is a phone that died. */
export function loadOver(
  world: World,
  phone: Phone,
  headers: Record<string, string>,
): Promise<Response> {
  const { sky, chance } = world;
  const fate = sky.fate();
  world.saw(`load.${fate}`);
  const { life } = phone;
  const later = (ms: number, work: () => void) =>
    sky.later(ms, () => (phone.life === life ? work() : undefined));
  return new Promise((resolve, reject) => {
    const lost = () => reject(new TypeError('no signal'));
    if (silent.includes(fate)) return later(patienceMS, lost);
    later(sky.delay(fate), () => {
      if (fate === 'crash') return lost();
      const known = fate !== 'tokenOver' && world.knows(phone.device) && !phone.revoked;
      if (!known) phone.token = undefined;
      if (!known || fate === 'busy') return resolve(refusal(known ? 503 : 401));
      const asked = /^bytes=(\d+)-$/.exec(headers['Range'] ?? '')?.[1];
      const wanted = (headers['If-Range'] ?? '').replaceAll('"', '');
      const { text = '', tag = '' } = world.ask({ op: 'snapshot', tag: wanted });
      const all = new TextEncoder().encode(text);
      const goesOn = asked !== undefined && wanted === tag;
      if (asked !== undefined) world.saw(goesOn ? 'load.goesOn' : 'load.another');
      const bytes = goesOn ? all.subarray(Number(asked)) : all;
      const list = pieces(bytes, chance.below(bytes.length + 1));
      if (fate === 'cut') list.pop();
      const read = (): Promise<Piece> =>
        new Promise((came, broke) =>
          later(sky.delay(fate), () => {
            const value = list.shift();
            if (value) return came({ done: false, value });
            if (fate === 'cut') return broke(new TypeError('the connection was lost'));
            return came({ done: true });
          }),
        );
      resolve(answer(goesOn ? 206 : 200, { ETag: `"${tag}"` }, read));
    });
  });
}

const refusal = (status: number): Response =>
  answer(status, {}, () => Promise.resolve({ done: true }));

function answer(
  status: number,
  headers: Record<string, string>,
  read: () => Promise<Piece>,
): Response {
  const made = {
    ok: status < 300,
    status,
    headers: { get: (name: string) => headers[name] ?? null },
    json: () => Promise.resolve({ error: { code: 'busy', message: 'busy' } }),
    body: { getReader: () => ({ read }) },
  };
  return made as unknown as Response;
}
