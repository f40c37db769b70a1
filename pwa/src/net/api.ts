// The few requests this client makes. fetch is passed in, so that tests script the network.
import type {
  Aside,
  Asides,
  FieldResult,
  Nonce,
  Problem,
  Refresh,
  Session,
  SettleAside,
  SyncResponse,
  Ticket,
  Which,
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

  /** Which comes where a name and password fit in several accounts; nothing is opened then. */
  signIn(
    path: 'signin' | 'first-owner' | 'reset-access' | 'enrol',
    body: unknown,
  ): Promise<Session | Which> {
    return this.post(`/api/v1/${path}`, body);
  }

  async nonce(): Promise<string> {
    return (await this.post<Nonce>('/api/v1/nonce', {})).nonce;
  }

  refresh(body: Refresh): Promise<Session> {
    return this.post<Session>('/api/v1/refresh', body);
  }

  /** For a device that was shut out: it opens the way for what it holds, and nothing else. */
  ticket(body: Refresh): Promise<Ticket> {
    return this.post<Ticket>('/api/v1/hand-in-ticket', body);
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

  /** The outbox of a device that was shut out goes up by its ticket; nothing comes down. */
  handIn(ticket: string, text: string): Promise<SyncResponse> {
    return this.post<SyncResponse>('/api/v1/hand-in', text, ticket);
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

  /** Reads something of an account that is not in the feed. */
  ask<T>(farm: string, access: string, path: string): Promise<T> {
    return this.get<T>(`/api/v1/farms/${farm}/${path}`, access);
  }

  async file(farm: string, access: string, path: string): Promise<Blob> {
    const headers = { Authorization: `Bearer ${access}` };
    return (await this.send(`/api/v1/farms/${farm}/${path}`, { headers })).blob();
  }

  /** Does something in an account that does not go through the feed. */
  tell<T>(farm: string, access: string, path: string, body: unknown): Promise<T> {
    return this.post<T>(`/api/v1/farms/${farm}/${path}`, body, access);
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
    if (res.status === 204) return undefined;
    try {
      return await res.json();
    } catch {
      // Cut off in the middle, or a page of somebody else's: as good as no answer.
      throw new Unreachable();
    }
  }
}
