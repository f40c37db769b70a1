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
  wait: (ms: number) => Promise<void>;
  /** Told when the server asks for a pause between photos, and with 0 when that is over. */
  paused: (ms: number) => void;
  /** Whether the account is still the open one. */
  still: () => boolean;
}

/** Statuses by which these very bytes are refused, for ever. */
const never = new Set([413, 422]);

const tooFast = 429;

/**
 * Lets stored bytes go and sends the rest; stops at the first that cannot go now. Once the server
 * has asked for a pause, each photo that follows keeps it, else every other one would go up in vain.
 */
export async function runLane(p: LanePorts): Promise<void> {
  const held = await p.store.names();
  for (const sha of held) if (p.said(sha)?.stored) await p.store.drop(sha);
  const due = held
    .map((sha) => ({ sha, said: p.said(sha) }))
    .filter(({ said }) => said?.known && !said.stored)
    .sort((a, b) => (b.said?.takenAt ?? '').localeCompare(a.said?.takenAt ?? ''));
  const pace = { ms: 0 };
  let sent = 0;
  try {
    for (const { sha } of due) if (await sendOne(p, sha, pace)) sent++;
  } finally {
    p.paused(0);
    if (sent > 0 && p.still()) p.pull();
  }
}

async function sendOne(p: LanePorts, sha: string, pace: { ms: number }): Promise<boolean> {
  if (pace.ms > 0) await p.wait(pace.ms);
  if (!p.still()) return false;
  const picture = await p.store.get(sha);
  if (!picture || picture.refused) return false;
  try {
    await p.put(sha, picture.bytes);
    return true;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (error.status === tooFast && error.retryAfterMS > 0) {
      pace.ms = error.retryAfterMS;
      p.paused(pace.ms);
      return sendOne(p, sha, pace);
    }
    if (!never.has(error.status)) throw error;
    await p.store.put({ ...picture, refused: error.message });
    return false;
  }
}
