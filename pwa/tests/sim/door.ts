// The server's half: the shipped feed and merge on a log in memory, as WebAssembly in this process.
import { readFile } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import type { Judged, Problem, Row, SyncResponse } from '../../src/wire.gen';

export interface Logged {
  device: string;
  n: number;
  raw: string;
  outcome: string;
  seq: number;
  clone?: boolean;
  /** The record for want of which it is set aside. */
  lacks?: string;
  /** The code of the reason why it is set aside. */
  why?: string;
  /** The number stands for an entry that is on record under another one. */
  repeat?: boolean;
  /** Where it was first, if under another device id. */
  was?: { device: string; n: number };
}

export interface ServerState {
  head: number;
  mutations: Logged[];
  texts: Record<string, string>;
  deleted: Record<string, number>;
  contested: Record<string, boolean>;
  bodies: Record<string, string>;
  saves: [number, number][];
  results: number;
  clones: number;
}

export interface Reply {
  status: number;
  problem?: Problem;
  answer?: SyncResponse;
  committed?: Logged[];
  copy: number;
  head: number;
  floor: number;
  epoch: string;
  rows?: Row[];
  wrote: number;
  judged?: Judged[];
  /** The packed account and its version. */
  text?: string;
  tag?: string;
  boundary: number;
  state?: ServerState;
}

export type Door = (request: Record<string, unknown>) => Reply;

interface GoHost {
  importObject: WebAssembly.Imports;
  run: (instance: WebAssembly.Instance) => Promise<void>;
}

/** Starts the program in wasmPath with Go's own host script. */
export async function openDoor(wasmPath: string, hostPath: string): Promise<Door> {
  const outside = globalThis as unknown as Record<string, unknown>;
  await import(/* @vite-ignore */ pathToFileURL(hostPath).href);
  const Go = outside['Go'] as new () => GoHost;
  const go = new Go();
  const bytes = new Uint8Array(await readFile(wasmPath));
  const program = await WebAssembly.compile(bytes);
  const instance = await WebAssembly.instantiate(program, go.importObject);
  void go.run(instance);
  const call = outside['simdoor'] as (request: string) => string;
  return (request) => JSON.parse(call(JSON.stringify(request))) as Reply;
}
