import { openServer } from '../../src/store/database.ts';
import { mortal } from './mortal.ts';
import type { FaultSize, FaultSuite, FaultTold, FaultWorld } from './suite.ts';
import { playYear } from './year.ts';

const SIZES = {
  whole: { wearers: 200, days: 365, randomTicks: 500 },
  short: { wearers: 30, days: 40, randomTicks: 60 },
} as const satisfies Record<FaultSize, object>;

/** The clock is set back and forward while a shop's year is played, and the process dies between any two steps. */
export const clockSuite: FaultSuite = {
  name: 'clock-jumps',
  says: 'A year on a clock that jumps, with ticks missed, late and doubled and the process dying between any two steps: nothing twice, nobody at night or after stop, no reply and no alarm lost.',
  async run(world: FaultWorld, size: FaultSize): Promise<FaultTold> {
    const database = await world.database();
    const god = openServer(database.url);
    const process = mortal(database.url);
    try {
      const told = await playYear(god.db, process, { seed: world.seed, ...SIZES[size], sabotage: 'none' });
      const { broken, seed: _seed, ...figures } = told;
      return { figures, broken };
    } finally {
      await process.db.destroy();
      await god.close();
      await database.drop();
    }
  },
};
