import { randomBytes } from 'node:crypto';
import { expect, inject, test } from 'vitest';
import { named, withServer } from '../setup/global.ts';
import { fuzzSuite } from './fuzz.suite.ts';
import type { FaultWorld } from './suite.ts';

/** The short piece of what `npm run faults fuzz` plays whole. */
const world: FaultWorld = {
  seed: 20261125,
  async database() {
    const base = inject('postgresUrl');
    const name = `fuzz_${randomBytes(6).toString('hex')}`;
    await withServer(base, (client) => client.query(`create database ${name} template afterfit_template`));
    return {
      url: named(base, name),
      drop: async () => {
        await withServer(base, (client) => client.query(`drop database if exists ${name} with (force)`));
      },
    };
  },
};

test('made-up bodies to every way in: no 5xx, no hang, no row lost, at most 150 MB over rest', async () => {
  const told = await fuzzSuite.run(world, 'short');
  expect(told.broken).toEqual([]);
  expect(told.figures['bodies sent']).toBeGreaterThanOrEqual(500);
}, 600_000);
