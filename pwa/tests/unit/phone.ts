// A phone without a screen: the shipped storage and sync code on a scripted network and clock.
import { deleteDB } from 'idb';
import { FarmStore } from '../../src/db/farm';
import { farmDatabase } from '../../src/db/schema';
import { round, type Ports } from '../../src/sync/round';
import type { SyncResponse } from '../../src/wire.gen';
import type { FarmServer } from './farm-server';

let made = 0;

export class Phone {
  readonly farm = `farm-${++made}`;
  store = new FarmStore(this.farm, 'person');
  devices = 0;
  time = 0;
  /** What the network does with a request; the default brings it to the server and back. */
  network: (text: string) => Promise<SyncResponse>;

  constructor(readonly server: FarmServer) {
    this.network = (text) => Promise.resolve(server.answer(text));
  }

  static async start(server: FarmServer, device = 'device-a'): Promise<Phone> {
    const phone = new Phone(server);
    const person = { id: 'person', name: 'A scout', role: 'scout' };
    await phone.store.settle({ farm: phone.farm, accountName: 'An account', person }, device);
    return phone;
  }

  private ports(): Ports {
    return {
      store: this.store,
      send: (text) => this.network(text),
      now: () => new Date(Date.UTC(2027, 5, 14, 8, 0, this.time++)).toISOString(),
      newDevice: () => `device-new-${++this.devices}`,
      progress: () => undefined,
    };
  }

  async sync(): Promise<void> {
    const mostRounds = 50;
    for (let i = 0; i < mostRounds; i++) if (!(await round(this.ports())).more) return;
    throw new Error('sync does not come to an end');
  }

  keep(rec: string, set: { [k: string]: unknown }, kind = 'field'): Promise<void> {
    return this.store.keep([{ rec, kind, base: 0, set }], '2027-06-14T08:00:00Z');
  }

  /** The app is killed: nothing but the disk is left. */
  async restart(): Promise<void> {
    await this.store.close();
    this.store = new FarmStore(this.farm, 'person');
  }

  /** The browser takes the storage away; the program goes on and opens it anew. */
  async empty(): Promise<void> {
    await this.store.close();
    await deleteDB(farmDatabase(this.farm, 'person'));
  }

  async body(rec: string): Promise<unknown> {
    return (await this.store.view()).get(rec)?.body;
  }
}
