import { expect, test } from 'vitest';
import { pace } from '../../src/channels/pace.ts';

test('ten calls at four a second begin a quarter of a second apart, in order, and a rest is not saved up', async () => {
  let nowMs = 0;
  const turn = pace(
    4,
    () => nowMs,
    async (ms) => {
      nowMs += ms;
    },
  );
  const began: number[] = [];
  for (let call = 0; call < 4; call++) {
    await turn();
    began.push(nowMs);
  }
  expect(began).toEqual([0, 250, 500, 750]);
  nowMs = 10_000;
  await turn();
  await turn();
  expect(nowMs).toBe(10_250);
});

test('calls that ask at the same moment wait for one another', async () => {
  const waits: number[] = [];
  const turn = pace(
    1,
    () => 0,
    async (ms) => {
      waits.push(ms);
    },
  );
  await Promise.all([turn(), turn(), turn()]);
  expect(waits).toEqual([1000, 2000]);
});
