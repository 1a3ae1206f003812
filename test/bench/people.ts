import { standingClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';

/** A Monday, 10:00 in New York: civil hours for every wearer below. */
export const NOW = new Date('2026-03-16T14:00:00Z');

/** Opens a shop with nobody in it. */
export async function openBenchShop(database: Database, shopId: string): Promise<Shell> {
  const db = database.inShop(shopId);
  const clock = standingClock(NOW);
  await openShop(
    db,
    {
      shopId,
      name: `Shop ${shopId} (invented)`,
      kind: 'invented',
      country: 'US',
      timeZone: 'America/New_York',
      settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
      owner: { name: 'Ana Example' },
    },
    NOW,
  );
  return { db, clock, journal: noJournal, log: silentLog, carrier: () => undefined };
}

/** A number that is nobody's: North American area code 999 is not given out. */
export const phoneOf = (number: number): string => `+1999${String(2_000_000 + number)}`;

/** Jobs handed over on a day, complete enough for every page and ranking. */
export function benchJobs(from: number, count: number, handedOverOn: string): ValidJob[] {
  return Array.from({ length: count }, (_, at) => {
    const number = from + at;
    return {
      jobNumber: `B-${number}`,
      wearer: {
        name: `Wearer ${number} Example${number % 997}`,
        phoneE164: phoneOf(number),
        prefers: 'text',
        locale: 'en',
        zone: 'America/New_York',
      },
      consent: { given: true, channels: ['text'], basis: 'bench' },
      way: 'counter',
      dates: { handedOverOn },
      lensDesign: number % 3 === 0 ? 'soft 15' : 'short 13',
      firstMultifocal: true,
      facts: [
        fact('height', 18 + (number % 4), 'mm', 'R'),
        fact('height', 18 + (number % 4), 'mm', 'L'),
        fact('add', 1.75, 'D', 'R'),
        fact('add', 1.75, 'D', 'L'),
      ],
    };
  });
}

const fact = (key: string, value: number, unit: string, eye: 'R' | 'L'): ValidJob['facts'][number] => ({
  key,
  value,
  unit,
  eye,
  how: '',
  by: null,
  source: 'order',
  from: 'bench',
});

export async function takeBenchJobs(shell: Shell, shopId: string, jobs: readonly ValidJob[]): Promise<void> {
  const taken = await takeJobs(shell, shopId, jobs, 'bench');
  if (taken.taken !== jobs.length) throw new Error(`took ${taken.taken} of ${jobs.length} jobs in`);
}
