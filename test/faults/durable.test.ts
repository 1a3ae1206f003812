import { expect, test } from 'vitest';
import { diskFullSuite, embeddedKillsSuite } from './embedded.suite.ts';
import { processesSuite } from './processes.suite.ts';
import type { FaultWorld } from './suite.ts';

/* A short piece of what `npm run faults` plays whole. */

const WORLD: FaultWorld = {
  seed: 20261125,
  database: async () => {
    throw new Error('these suites bring their own');
  },
};

test.each([embeddedKillsSuite, diskFullSuite, processesSuite])(
  '$name: $says',
  { timeout: 600_000 },
  async (suite) => {
    const told = await suite.run(WORLD, 'short');
    console.log(suite.name, JSON.stringify(told.figures));
    expect(told.broken).toEqual([]);
  },
);
