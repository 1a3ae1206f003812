import { describe, expect, test } from 'vitest';
import { MADE_AND_ORDER } from '../../src/causes/findings/madeAndOrder.ts';
import { draftRemake } from '../../src/causes/remakeDraft.ts';
import { jobFactsOf } from '../../src/followup/jobFactsOf.ts';
import { standardOfShop } from '../../src/followup/toleranceStandard.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP } from './world.ts';

/* Limits: ANSI Z80.1-2015 quick reference guide (sphere 0.16 D up to 8 D, axis 3° from 0.75 to 1.50 D); ISO 21987:2017. */

describe('the standard that a shop works by', () => {
  test('what the shop has set goes before what its country usually works by', () => {
    expect(standardOfShop({ settings: {}, country: 'US' })).toBe('ANSI Z80.1');
    expect(standardOfShop({ settings: {}, country: 'CA' })).toBe('ANSI Z80.1');
    expect(standardOfShop({ settings: {}, country: 'GB' })).toBe('ISO 21987');
    expect(standardOfShop({ settings: { standard: 'ISO 21987' }, country: 'US' })).toBe('ISO 21987');
    expect(standardOfShop({ settings: { standard: 'ANSI Z80.1' }, country: 'GB' })).toBe('ANSI Z80.1');
  });

  test('a remake is drafted with the limits of that standard throughout: sphere +7.50, axis of a cylinder of 1.00', () => {
    const job = { order_R: [7.5, -1, 90] as const };
    const limits = (standard: 'ANSI Z80.1' | 'ISO 21987') =>
      draftRemake('cross-too-low', job as never, 0, standard).limits.map(({ what, limit }) => [
        what,
        limit.limit,
      ]);
    expect(limits('ANSI Z80.1')).toEqual([
      ['sphere', 0.16],
      ['cylinder', 0.16],
      ['axis', 3],
      ['height of each cross', 1],
      ['sideways place of each cross', 1],
      ['tilt of the marks', 2],
    ]);
    const iso = draftRemake('cross-too-low', job as never, 0, 'ISO 21987').limits;
    expect(iso.every(({ limit }) => limit.source.startsWith('ISO'))).toBe(true);
  });

  test('causes judge by it too: +2.00 read as +2.14 is within 0.16 D of the one and out of 0.12 D of the other', () => {
    const left = { order_L: [2, -1, 90], read_L: [2, -1, 90] } as const;
    const read = { ...left, order_R: [2, -1, 90], read_R: [2.14, -1, 90] } as const;
    expect(MADE_AND_ORDER.madeSphereOut.of(read)).toBe(false);
    expect(MADE_AND_ORDER.madeSphereOut.of({ ...read, limits_by: 'ANSI Z80.1' })).toBe(false);
    expect(MADE_AND_ORDER.madeSphereOut.of({ ...read, limits_by: 'ISO 21987' })).toBe(true);
  });

  test('the facts of a job say which: by the shop’s country, and by its setting once it has one', async () => {
    const database = await freshDatabase('server');
    try {
      const { shell, job } = await openWorld(database);
      const { pairId } = await job();
      const by = async () => (await jobFactsOf(shell.db, SHOP, pairId, '2026-03-05')).limits_by;
      expect(await by()).toBe('ANSI Z80.1');
      await database.db
        .updateTable('shop')
        .set({ settings: JSON.stringify({ standard: 'ISO 21987' }) })
        .execute();
      expect(await by()).toBe('ISO 21987');
    } finally {
      await database.close();
    }
  });
});
