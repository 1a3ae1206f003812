import { sql } from 'kysely';
import { tick } from '../../jobs/index.ts';
import { rehearsalChannel } from '../../src/channels/rehearsal.ts';
import { type MovableClock, standingClock } from '../../src/clock.ts';
import { playUntil } from '../../src/followup/playUntil.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { rehearsalStore } from '../../src/store/rehearsal.ts';
import { openShop } from '../../src/store/shops.ts';

export const SHOP = 's';
/** A Monday, 10:00 in New York. */
export const MONDAY = new Date('2026-03-02T15:00:00Z');

export type TestWorld = {
  readonly shell: Shell;
  readonly clock: MovableClock;
  /** Takes a job in that was handed over on the given day; returns the wearer. */
  job(over?: JobOver): Promise<{ wearerId: string; pairId: string; phone: string }>;
  says(phone: string, body: string): Promise<string | null>;
  /** Plays time forward, due instant by due instant. */
  playTo(instant: string | Date): Promise<void>;
  /** What a telephone was sent, oldest first. */
  sent(phone: string): Promise<{ purpose: string; body: string; at: Date }[]>;
};

export type JobOver = {
  readonly number?: string;
  readonly name?: string;
  readonly phone?: string;
  readonly email?: string;
  readonly zone?: string;
  readonly handedOverOn?: string;
  readonly way?: 'counter' | 'post';
  readonly prefers?: 'text' | 'email' | 'phone';
  readonly consent?: boolean;
  readonly facts?: ValidJob['facts'];
  readonly firstMultifocal?: boolean;
  readonly region?: string;
};

/** Empties a database and opens one shop in it, on a standing clock, with the pretend carrier. */
export async function openWorld(database: Database, start: Date = MONDAY): Promise<TestWorld> {
  const clock = standingClock(start);
  await sql`truncate shop cascade`.execute(database.db);
  const db = database.inShop(SHOP);
  await openShop(
    db,
    {
      shopId: SHOP,
      name: 'Test shop',
      kind: 'own',
      country: 'US',
      timeZone: 'America/New_York',
      settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
      owner: { name: 'Owner' },
    },
    start,
  );
  const store = rehearsalStore(db, SHOP, clock);
  const carriers = { text: rehearsalChannel('text', store), email: rehearsalChannel('email', store) };
  const shell: Shell = {
    db,
    clock,
    journal: noJournal,
    log: silentLog,
    carrier: (_shop, kind) => carriers[kind],
  };
  let count = 0;
  return {
    shell,
    clock,
    async job(over = {}) {
      count += 1;
      const phone = over.phone ?? `+1202555${String(100 + count).padStart(4, '0')}`;
      const name = over.name ?? `Wearer ${count}`;
      const job: ValidJob = {
        jobNumber: over.number ?? `J-${count}`,
        wearer: {
          name,
          phoneE164: phone,
          ...(over.email ? { email: over.email } : {}),
          prefers: over.prefers ?? 'text',
          locale: 'en',
          ...(over.region
            ? { country: 'US', region: over.region }
            : { zone: over.zone ?? 'America/New_York' }),
        },
        consent: {
          given: over.consent ?? true,
          channels: over.consent === false ? [] : ['text', 'email'],
          basis: 'test',
        },
        way: over.way ?? 'counter',
        dates:
          over.way === 'post'
            ? { postedOn: over.handedOverOn ?? '2026-03-02' }
            : { handedOverOn: over.handedOverOn ?? '2026-03-02' },
        lensDesign: 'soft 15',
        firstMultifocal: over.firstMultifocal ?? true,
        facts: over.facts ?? [],
      };
      const taken = await takeJobs(shell, SHOP, [job], 'test');
      const row = await db
        .selectFrom('pair')
        .select(['wearer_id', 'pair_id'])
        .where('job_id', '=', taken.jobIds[0]!)
        .executeTakeFirstOrThrow();
      return { wearerId: row.wearer_id, pairId: row.pair_id, phone };
    },
    async says(phone, body) {
      count += 1;
      const taken = await takeReply(shell, {
        shopId: SHOP,
        channel: 'text',
        farId: `SM-${count}`,
        from: phone,
        to: null,
        body,
        receivedAt: clock.now().toISOString(),
        raw: {},
      });
      return taken.inboundId;
    },
    async playTo(instant) {
      const target = typeof instant === 'string' ? new Date(instant) : instant;
      await playUntil(db, clock.now(), target, async (at) => {
        clock.moveTo(at);
        await tick(shell);
      });
    },
    async sent(phone) {
      return db
        .selectFrom('rehearsal_item as r')
        .innerJoin('attempt as a', 'a.attempt_id', 'r.attempt_id')
        .innerJoin('message as m', 'm.message_id', 'a.message_id')
        .select(['m.purpose', 'r.body', 'r.at'])
        .where('r.address', '=', phone)
        .orderBy('r.at')
        .execute();
    },
  };
}
