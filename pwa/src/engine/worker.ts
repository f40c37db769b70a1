/// <reference lib="webworker" />
// The engine's own thread, so that arithmetic never delays a tap.
import { start, type Instance } from './wasi';
import type { Ask, Told } from './message';

declare const self: DedicatedWorkerGlobalScope;

let engine: Promise<Instance> | undefined;

self.onmessage = async (event: MessageEvent<Ask>) => {
  const { id, request } = event.data;
  let told: Told;
  try {
    engine ??= start(fetch('/engine.wasm'));
    told = { id, reply: (await engine).run(request) };
  } catch (error) {
    // After a trap the instance's memory cannot be trusted: the next request loads a new one.
    engine = undefined;
    told = { id, failure: String(error) };
  }
  self.postMessage(told);
};
