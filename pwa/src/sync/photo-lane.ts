// Photos go up in a lane of their own, after the records and newest first. Bytes leave this device
// only when the record has come back with the server's word that they are stored.
import { Refused } from '../net/api';
import type { PhotoStore } from '../db/photo';

/** What the records say of one photo. */
export interface Said {
  /** Its record is at the server. */
  known: boolean;
  stored: boolean;
  takenAt: string;
}

export interface LanePorts {
  store: PhotoStore;
  said: (sha256: string) => Said | undefined;
  put: (sha256: string, bytes: ArrayBuffer) => Promise<void>;
  /** Asks for the records again: the word that bytes are stored comes with them. */
  pull: () => void;
}

/** Statuses by which these very bytes are refused, for ever. */
const never = new Set([413, 422]);

/** Lets stored bytes go and sends the rest; stops at the first that cannot go now. */
export async function runLane(p: LanePorts): Promise<void> {
  const held = await p.store.names();
  for (const sha of held) if (p.said(sha)?.stored) await p.store.drop(sha);
  const due = held
    .map((sha) => ({ sha, said: p.said(sha) }))
    .filter(({ said }) => said?.known && !said.stored)
    .sort((a, b) => (b.said?.takenAt ?? '').localeCompare(a.said?.takenAt ?? ''));
  let sent = 0;
  for (const { sha } of due) if (await sendOne(p, sha)) sent++;
  if (sent > 0) p.pull();
}

async function sendOne(p: LanePorts, sha: string): Promise<boolean> {
  const picture = await p.store.get(sha);
  if (!picture || picture.refused) return false;
  try {
    await p.put(sha, picture.bytes);
    return true;
  } catch (error) {
    if (!(error instanceof Refused) || !never.has(error.status)) throw error;
    await p.store.put({ ...picture, refused: error.message });
    return false;
  }
}
