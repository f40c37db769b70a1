// The few requests this client makes. fetch is passed in, so that tests script the network.
import type {
  Aside,
  Asides,
  FieldResult,
  NewPerson,
  Person,
  Problem,
  Session,
  SettleAside,
  SyncResponse,
} from '../wire.gen';
import { goOn, nothingHeld, readOn, type Held } from './load';
import { follow } from './poke';

/** The server answered, but not with what was asked for. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problem: Problem,
    readonly retryAfterMS: number,
  ) {
    super(problem.message);
    this.name = 'Refused';
  }
}

/** No answer came: no signal, or the server is down. */
export class Unreachable extends Error {
  constructor() {
    super('the farm server did not answer');
    this.name = 'Unreachable';
  }
}

export type Fetch = (url: string, init: RequestInit) => Promise<Response>;

const json = { 'Content-Type': 'application/json', 'X-Hilum': '1' };
const leastToPack = 1024;

function retryAfter(res: Response): number {
  const seconds = Number(res.headers.get('Retry-After'));
  return Number.isFinite(seconds) && seconds > 0 ? seconds * 1000 : 0;
}

async function problemOf(res: Response): Promise<Problem> {
  try {
    const body = (await res.json()) as { error?: Problem };
    if (body.error) return body.error;
  } catch {
    // Not our server's words: a proxy or a login page in between.
  }
  return { code: `http${res.status}`, message: `the server answered ${res.status}` };
}

/** Packs a body with gzip where the browser can; 500 records shrink to a third. */
async function pack(text: string): Promise<{ body: BodyInit; headers: Record<string, string> }> {
  if (text.length < leastToPack || typeof CompressionStream === 'undefined') {
    return { body: text, headers: json };
  }
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream('gzip'));
  const body = await new Response(stream).arrayBuffer();
  return { body, headers: { ...json, 'Content-Encoding': 'gzip' } };
}

export class Api {
  private readonly held: Held = nothingHeld();

  constructor(private readonly fetch: Fetch) {}

  signIn(path: 'signin' | 'first-owner' | 'reset-access', body: unknown): Promise<Session> {
    return this.post<Session>(`/api/v1/${path}`, body);
  }

  refresh(farm: string, device: string): Promise<Session> {
    return this.post<Session>('/api/v1/refresh', { device, farm });
  }

  async signOut(farm: string, device: string): Promise<void> {
    await this.send('/api/v1/signout', {
      method: 'POST',
      ...(await pack(JSON.stringify({ device, farm }))),
    });
  }

  /** text is the whole request, put together by the caller so that pushed bytes stay exact. */
  sync(farm: string, access: string, text: string): Promise<SyncResponse> {
    return this.post<SyncResponse>(`/api/v1/farms/${farm}/sync`, text, access);
  }

  /** The packed account as text; a load that broke off before goes on. */
  async snapshot(farm: string, access: string): Promise<string> {
    const headers = { Authorization: `Bearer ${access}`, ...goOn(this.held) };
    const res = await this.send(`/api/v1/farms/${farm}/snapshot`, { headers });
    try {
      return await readOn(res, this.held);
    } catch {
      throw new Unreachable();
    }
  }

  /** Holds the stream of nudges open until it ends or is called off. */
  async poke(
    farm: string,
    access: string,
    heard: (head: number) => void,
    signal: AbortSignal,
  ): Promise<void> {
    const headers = { Authorization: `Bearer ${access}` };
    await follow(await this.send(`/api/v1/farms/${farm}/poke`, { headers, signal }), heard);
  }

  /** Sends a picture's bytes under their hash; a repeat is answered as the first. */
  async putPhoto(farm: string, access: string, sha256: string, body: ArrayBuffer): Promise<void> {
    const headers = {
      Authorization: `Bearer ${access}`,
      'Content-Type': 'image/jpeg',
      'If-None-Match': '*',
    };
    await this.send(`/api/v1/farms/${farm}/photos/${sha256}`, { method: 'PUT', body, headers });
  }

  async photo(farm: string, access: string, sha256: string): Promise<Blob> {
    const headers = { Authorization: `Bearer ${access}` };
    return (await this.send(`/api/v1/farms/${farm}/photos/${sha256}`, { headers })).blob();
  }

  async people(farm: string, access: string): Promise<Person[]> {
    const path = `/api/v1/farms/${farm}/people`;
    return (await this.get<{ people: Person[] }>(path, access)).people;
  }

  addPerson(farm: string, access: string, person: NewPerson): Promise<Person> {
    return this.post<Person>(`/api/v1/farms/${farm}/people`, person, access);
  }

  async asides(farm: string, access: string): Promise<Aside[]> {
    return (await this.get<Asides>(`/api/v1/farms/${farm}/asides`, access)).asides;
  }

  async settleAside(farm: string, access: string, what: SettleAside): Promise<void> {
    await this.post(`/api/v1/farms/${farm}/asides`, what, access);
  }

  result(farm: string, access: string, field: string, cropYear: number): Promise<FieldResult> {
    const path = `/api/v1/farms/${farm}/fields/${field}/result?cropYear=${cropYear}`;
    return this.get<FieldResult>(path, access);
  }

  private async get<T>(path: string, access: string): Promise<T> {
    const res = await this.send(path, { headers: { Authorization: `Bearer ${access}` } });
    return (await this.read(res)) as T;
  }

  private async post<T>(path: string, body: unknown, access?: string): Promise<T> {
    const packed = await pack(typeof body === 'string' ? body : JSON.stringify(body));
    const headers = access
      ? { ...packed.headers, Authorization: `Bearer ${access}` }
      : packed.headers;
    const res = await this.send(path, { method: 'POST', body: packed.body, headers });
    return (await this.read(res)) as T;
  }

  private async send(path: string, init: RequestInit): Promise<Response> {
    let res: Response;
    try {
      res = await this.fetch(path, { credentials: 'same-origin', cache: 'no-store', ...init });
    } catch {
      throw new Unreachable();
    }
    if (!res.ok) throw new Refused(res.status, await problemOf(res), retryAfter(res));
    return res;
  }

  private async read(res: Response): Promise<unknown> {
    try {
      return await res.json();
    } catch {
      // Cut off in the middle, or a page of somebody else's: as good as no answer.
      throw new Unreachable();
    }
  }
}
