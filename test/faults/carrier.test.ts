import { randomBytes } from 'node:crypto';
import { expect, inject, test } from 'vitest';
import { named, withServer } from '../setup/global.ts';
import { carrierSuite } from './carrier.suite.ts';
import type { FaultWorld } from './suite.ts';

/* Ten rounds of what `npm run faults` plays with two hundred. FAULT_SEED replays one. */

const seed = Number(process.env.FAULT_SEED ?? 20261125);

test('killed ten times amid sending, over a carrier that drops, doubles, delays and is down: nothing twice, nothing lost, every alarm', {
  timeout: 600_000,
}, async () => {
  const base = inject('postgresUrl');
  const world: FaultWorld = {
    seed,
    async database() {
      const name = `fault_${randomBytes(6).toString('hex')}`;
      await withServer(base, (client) => client.query(`create database ${name} template afterfit_template`));
      return {
        url: named(base, name),
        drop: async () => {
          await withServer(base, (client) => client.query(`drop database if exists ${name} with (force)`));
        },
      };
    },
  };
  const { figures, broken } = await carrierSuite.run(world, 'short');
  expect(broken, `seed ${seed}`).toEqual([]);
  const of = (what: string) => Number(figures[what]);
  expect(of('times the process was killed (SIGKILL)')).toBeGreaterThanOrEqual(10);
  expect(of('check-ins that it took twice')).toBe(0);
  expect(of('check-ins that the carrier took')).toBeGreaterThan(350);
  expect(of('taken, line dropped before the answer')).toBeGreaterThan(0);
  expect(of('replies with a sign of danger')).toBeGreaterThanOrEqual(5);
  expect(of('alarms that arrived')).toBe(of('replies with a sign of danger'));
  expect(of('cautions that arrived')).toBe(of('replies with a sign of danger'));
  console.log(JSON.stringify(figures));
});
