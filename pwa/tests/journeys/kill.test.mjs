// The program killed in the middle of digging, a few times; deploy/prove/browser does it at length.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { killRounds } from '../../../deploy/prove/browser/kill.mjs';

const rounds = 5;

test('what the screen called kept survives SIGKILL, and arrives once', async (t) => {
  const figures = await killRounds({ rounds });
  t.diagnostic(JSON.stringify(figures));
  assert.equal(figures.rounds, rounds);
  assert.ok(figures.promises > 0, 'the screen promised something');
});
