import { expect, test } from 'vitest';
import { goOn, nothingHeld, readOn } from '../../src/net/load';
import { takeEvents } from '../../src/net/poke';
import { round } from '../../src/sync/round';
import { unpack } from '../../src/sync/snapshot';
import { FarmServer } from './farm-server';
import { Phone } from './phone';

const a = '0190f3a1000070008000000000000001';
const b = '0190f3a1000070008000000000000002';
const person = '0190f3a1000070008000000000000003';
const dashed = (hex: string) =>
  hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');

/** Two fields, worked out by hand from the format's description. */
const packed = {
  format: 1,
  schema: 1,
  epoch: 'e1',
  seq: 9,
  ids: a + b + person,
  kinds: [
    {
      kind: 'field',
      count: 2,
      id: [0, 1],
      seq: [3, 4],
      by: [2, null],
      body: {
        t: 'o',
        c: {
          name: { t: 'v', c: ['Home', 'North'] },
          grower: { t: 'r', c: [1, -1] },
          tags: { t: 'l', n: [2, null], c: { t: 'v', c: ['x', 'y'] } },
        },
      },
    },
  ],
};

test('a packed account is unpacked row by row', () => {
  expect(unpack(JSON.stringify(packed))).toEqual({
    epoch: 'e1',
    seq: 9,
    rows: [
      {
        id: dashed(a),
        kind: 'field',
        seq: 3,
        by: dashed(person),
        body: { name: 'Home', grower: dashed(b), tags: ['x', 'y'] },
      },
      { id: dashed(b), kind: 'field', seq: 7, body: { name: 'North', grower: dashed(a) } },
    ],
  });
  expect(unpack(JSON.stringify({ ...packed, format: 2 }))).toBeUndefined();
});

test('a first load takes the packed account and goes on from its change number', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  let [loads, cursor] = [0, -1];
  const ports = {
    store: phone.store,
    now: () => '2027-06-14T08:00:00Z',
    newDevice: () => 'device-b',
    progress: () => undefined,
    snapshot: () => {
      loads++;
      return Promise.resolve({ ...unpack(JSON.stringify(packed)), epoch: server.epoch } as never);
    },
    send: (text: string) => {
      cursor = (JSON.parse(text) as { cursor: number }).cursor;
      return Promise.resolve(server.answer(text));
    },
  };
  await round(ports);
  expect([loads, cursor]).toEqual([1, 9]);
  expect(await phone.body(dashed(b))).toEqual({ name: 'North', grower: dashed(a) });
  await round(ports);
  expect(loads).toBe(1);
});

const answer = (text: string, status: number, cutAt?: number): Response => {
  let given = 0;
  const pull = (stream: ReadableStreamDefaultController<Uint8Array>) => {
    const bytes = new TextEncoder().encode(text);
    if (given === 0) stream.enqueue(bytes.slice(0, cutAt ?? bytes.length));
    else if (cutAt === undefined) stream.close();
    else stream.error(new Error('cut'));
    given++;
  };
  return new Response(new ReadableStream({ pull }), { status, headers: { ETag: '"e.9-as-br"' } });
};

test('a load that broke off goes on where it was, on the same version', async () => {
  const held = nothingHeld();
  await expect(readOn(answer('abcdef', 200, 4), held)).rejects.toThrow('cut');
  expect(goOn(held)).toEqual({ Range: 'bytes=4-', 'If-Range': '"e.9"' });
  expect(await readOn(answer('ef', 206), held)).toBe('abcdef');
  expect(goOn(held)).toEqual({});
});

test('nudges are read whole, however the stream is cut', () => {
  const heads: number[] = [];
  const hear = (head: number) => heads.push(head);
  let rest = takeEvents(': still here\n\nevent: head\nda', hear);
  rest = takeEvents(`${rest}ta: {"head":12}\n\nevent: head\ndata: {"head":13}\n\n`, hear);
  expect(heads).toEqual([12, 13]);
  expect(rest).toBe('');
});
