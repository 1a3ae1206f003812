import { sql } from 'kysely';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { jobs, tick } from '../../jobs/index.ts';
import { rehearsalChannel } from '../../src/channels/rehearsal.ts';
import { type MovableClock, standingClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import { silentLog } from '../../src/log.ts';
import type { Database, Db } from '../../src/store/database.ts';
import { tablesInOrder } from '../../src/store/dump.ts';
import { storeRaw } from '../../src/store/inbound.ts';
import { noJournal } from '../../src/store/journal.ts';
import { rehearsalStore } from '../../src/store/rehearsal.ts';
import { shopsToWorkFor } from '../../src/store/shopDoors.ts';
import { openShop } from '../../src/store/shops.ts';
import { benchJobs } from '../bench/people.ts';
import { seeded } from '../faults/seeded.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';

/* Rules of our own: the tick visits shops with work and no others, and no work is ever missed. */

/** A Monday, 10:00 in New York. */
const NOW = new Date('2026-03-02T15:00:00Z');
const FAR = new Date('2100-01-01T00:00:00Z');
const plus = (ms: number, from = NOW) => new Date(from.getTime() + ms);
const MINUTE = 60_000;

async function openShops(
  database: Database,
  ids: readonly string[],
  clock: MovableClock,
): Promise<Map<string, Shell>> {
  await sql`truncate shop cascade`.execute(database.db);
  const shells = new Map<string, Shell>();
  for (const shopId of ids) {
    const db = database.inShop(shopId);
    await openShop(
      db,
      {
        shopId,
        name: `Shop ${shopId}`,
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
        owner: { name: 'Owner', phoneE164: '+12025550199' },
      },
      clock.now(),
    );
    const store = rehearsalStore(db, shopId, clock);
    const texts = rehearsalChannel('text', store);
    shells.set(shopId, {
      db,
      clock,
      journal: noJournal,
      log: silentLog,
      carrier: (_shop, kind) => (kind === 'text' ? texts : undefined),
    });
  }
  return shells;
}

const rest = (db: Db) => sql`update shop set clock_at = ${FAR}`.execute(db);

/** One row for every kind of work there is, in shop `b`, due at NOW; and what belongs to it. */
const KINDS: Readonly<Record<string, (row: typeof insert) => Promise<void>>> = {
  'a check-in of a running plan': async (row) => {
    await row('plan', { pair_id: 'p', wearer_id: 'w', state: 'running', since: NOW });
    await row('check_in', { ...CHECK_IN, due_at: NOW });
  },
  'the question of a paused plan whether they have come': async (row) => {
    await row('plan', { pair_id: 'p', wearer_id: 'w', state: 'paused', since: NOW });
    await row('check_in', { ...CHECK_IN, kind: 'have they come', due_at: NOW });
  },
  'a message to send': (row) => row('attempt', { ...ATTEMPT, state: 'planned', send_at: NOW }),
  'a message whose claim ran out': (row) =>
    row('attempt', { ...ATTEMPT, state: 'claimed', send_at: plus(-MINUTE), lease_until: plus(-1) }),
  'an attempt of which nobody knows': (row) =>
    row('attempt', { ...ATTEMPT, state: 'unsure', send_at: plus(-MINUTE), lease_until: plus(-1) }),
  'an attempt handed over and never settled': (row) =>
    row('attempt', { ...ATTEMPT, state: 'handed over', send_at: plus(-MINUTE), lease_until: plus(-1) }),
  'a reply not yet sorted': (row) =>
    row('inbound_standing', { inbound_id: 'i', received_at: NOW, state: 'raw' }),
  'a wearer to answer': (row) =>
    row('inbound_standing', {
      inbound_id: 'i',
      received_at: plus(-2 * MINUTE),
      state: 'sorted',
      wearer_id: 'w',
      answer_state: 'waiting',
    }),
  'a message left in the tray': (row) =>
    row('inbound_standing', { inbound_id: 'i', received_at: plus(-120 * MINUTE - 1), state: 'tray' }),
  'an alarm': (row) =>
    row('alarm', {
      alarm_id: 'a',
      kind: 'danger',
      subject_id: 'i',
      initial: 'W',
      waiting: 1,
      raised_at: NOW,
      next_at: NOW,
    }),
  'a call of an alarm': (row) => row('alarm_call', { ...CALL, state: 'planned' }),
  'a call taken up and never settled': (row) =>
    row('alarm_call', { ...CALL, state: 'planned', lease_until: plus(-1) }),
  'a picture to fetch': (row) =>
    row('picture', {
      picture_id: 'x',
      inbound_id: 'i',
      number: 0,
      state: 'to fetch',
      next_at: NOW,
      at: NOW,
      tries: 0,
    }),
  'a pair that changed': (row) => row('review_change', { pair_id: 'p' }),
  'the clock alone': async () =>
    void (await sql`update shop set clock_at = ${NOW} where shop_id = 'b'`.execute(owner)),
};
const CHECK_IN = {
  check_in_id: 'c',
  pair_id: 'p',
  wearer_id: 'w',
  slot: 'day 3',
  kind: 'ask',
  day: 3,
  due_on: '2026-03-02',
  state: 'planned',
};
const ATTEMPT = { attempt_id: 'a', message_id: 'm', number: 1 };
const CALL = {
  call_id: 'k',
  alarm_id: 'a',
  round: 1,
  person_id: 'p',
  person_name: 'P',
  channel: 'text',
  address: '+12025550199',
  body: '…',
  at: NOW,
};
/** What is not work, in shop `b`. */
const NO_WORK: Readonly<Record<string, (row: typeof insert) => Promise<void>>> = {
  'a check-in of a paused plan': async (row) => {
    await row('plan', { pair_id: 'p', wearer_id: 'w', state: 'paused', since: NOW });
    await row('check_in', { ...CHECK_IN, due_at: NOW });
  },
  'a check-in of a plan that has ended': async (row) => {
    await row('plan', { pair_id: 'p', wearer_id: 'w', state: 'ended', since: NOW });
    await row('check_in', { ...CHECK_IN, kind: 'have they come', due_at: NOW });
  },
  'a message that another process is about to send': (row) =>
    row('attempt', { ...ATTEMPT, state: 'claimed', send_at: plus(-MINUTE), lease_until: NOW }),
  'an attempt left as unsure for good': (row) =>
    row('attempt', { ...ATTEMPT, state: 'unsure', send_at: plus(-MINUTE), lease_until: null }),
  'a message in the tray of which somebody was told': async (row) => {
    await row('inbound_standing', { inbound_id: 'i', received_at: plus(-300 * MINUTE), state: 'tray' });
    await row('alarm', {
      alarm_id: 'a',
      kind: 'tray',
      subject_id: 'i',
      initial: '',
      waiting: 1,
      raised_at: NOW,
      next_at: NOW,
      ended_at: NOW,
    });
  },
  'a reply that was answered': (row) =>
    row('inbound_standing', {
      inbound_id: 'i',
      received_at: plus(-300 * MINUTE),
      state: 'sorted',
      wearer_id: 'w',
      answer_state: 'answered',
    }),
};

let owner: Db;
/** Rows without what they would hang on: only what the door reads is there. */
async function insert(table: string, row: Readonly<Record<string, unknown>>): Promise<void> {
  const named = { shop_id: 'b', ...row };
  await owner.connection().execute(async (one) => {
    await sql`set session_replication_role = replica`.execute(one);
    await sql`insert into ${sql.id(table)} (${sql.join(Object.keys(named).map((name) => sql.id(name)))})
      values (${sql.join(Object.values(named))})`.execute(one);
    await sql`set session_replication_role = origin`.execute(one);
  });
}

describe.each(DATABASES)('shops with work on the %s database', (kind) => {
  let database: Database;
  beforeAll(async () => {
    database = await freshDatabase(kind);
    owner = database.db;
  });
  afterAll(() => database.close());

  describe('by kind', () => {
    beforeEach(async () => {
      await openShops(database, ['a', 'b', 'c'], standingClock(NOW));
      for (const table of [
        'plan',
        'check_in',
        'attempt',
        'inbound_standing',
        'alarm',
        'alarm_call',
        'picture',
        'review_change',
      ])
        await insertFree(database.db, table);
      await rest(database.db);
      expect(await shopsToWorkFor(database.outside, NOW)).toEqual([]);
    });

    test.each(Object.keys(KINDS))('%s: its shop is visited, and no other', async (which) => {
      await KINDS[which]!(insert);
      expect(await shopsToWorkFor(database.outside, NOW)).toEqual(['b']);
      // Marks of pairs and replies not yet sorted are due at once; all else not a moment before its time.
      if (
        which !== 'a pair that changed' &&
        which !== 'a reply not yet sorted' &&
        which !== 'a call of an alarm'
      )
        expect(await shopsToWorkFor(database.outside, plus(-MINUTE))).toEqual([]);
    });

    test.each(Object.keys(NO_WORK))('%s: nobody is visited', async (which) => {
      await NO_WORK[which]!(insert);
      expect(await shopsToWorkFor(database.outside, NOW)).toEqual([]);
    });

    test('a hundred things in one shop and one in another: both, each once, the older shop first', async () => {
      await sql`update shop set created_at = created_at - interval '1 day' where shop_id = 'c'`.execute(
        owner,
      );
      for (let at = 0; at < 100; at += 1)
        await insert('attempt', {
          ...ATTEMPT,
          attempt_id: `a${at}`,
          message_id: `m${at}`,
          state: 'planned',
          send_at: NOW,
        });
      await insert('attempt', { ...ATTEMPT, shop_id: 'c', state: 'planned', send_at: NOW });
      expect(await shopsToWorkFor(database.outside, NOW)).toEqual(['c', 'b']);
    });
  });

  test('a shop that is left out has nothing to do: a tick of it changes no row, at 12 times of a day, whatever went on', async () => {
    const clock = standingClock(NOW);
    const ids = ['a', 'b', 'c', 'd', 'e'];
    const shells = await openShops(database, ids, clock);
    const dice = seeded(20260302);
    let number = 0;
    let leftOut = 0;
    const worked = new Set<string>();
    for (let step = 0; step < 12; step += 1) {
      const shop = dice.pick(ids.slice(0, 3));
      const shell = shells.get(shop)!;
      if (dice.happens(0.5)) {
        await takeJobs(shell, shop, benchJobs(number++, 1, clock.now().toISOString().slice(0, 10)), 'test');
      } else if (number > 0) {
        const to = await shell.db.selectFrom('contact_point').select('address').orderBy('address').execute();
        const from = to.length === 0 ? '+12025550177' : dice.pick(to).address;
        const body = dice.pick([
          'still blurry to the side',
          'all fine, thanks',
          'my eye hurts badly',
          'STOP',
        ]);
        const raw = {
          shopId: shop,
          channel: 'text',
          farId: `f${step}`,
          from,
          to: null,
          body,
          raw: {},
        } as const;
        await storeRaw(shell.db, [{ ...raw, receivedAt: clock.now().toISOString() }]);
      }
      const due = await shopsToWorkFor(database.outside, clock.now());
      for (const one of ids) {
        if (due.includes(one)) {
          worked.add(one);
          await tick(shells.get(one)!);
          await sql`update shop set clock_at = ${plus(60 * MINUTE, clock.now())} where shop_id = ${one}`.execute(
            owner,
          );
          continue;
        }
        leftOut += 1;
        const before = await rowsOf(shells.get(one)!.db);
        await tick(shells.get(one)!);
        expect(await rowsOf(shells.get(one)!.db), `shop ${one} at ${clock.now().toISOString()}`).toEqual(
          before,
        );
      }
      clock.moveTo(plus(dice.below(60) * MINUTE, clock.now()));
    }
    expect(leftOut).toBeGreaterThan(15);
    expect(worked.size).toBe(5);
  });
});

/** Rows of a shop, all of them, by table. */
async function rowsOf(db: Db): Promise<Record<string, string | null>> {
  const tables = [...(await tablesInOrder(db)), { name: 'review_change' }].map(
    ({ name }) =>
      sql`select ${name}::text as name, md5(string_agg(t::text, '|' order by t::text)) as sum from ${sql.id(name)} t`,
  );
  const { rows } = await sql<{
    name: string;
    sum: string | null;
  }>`${sql.join(tables, sql` union all `)}`.execute(db);
  return Object.fromEntries(rows.map((row) => [row.name, row.sum]));
}

/** `truncate … cascade` empties what hangs on shops; a table that does not is emptied here. */
const insertFree = (db: Db, table: string) => sql`truncate ${sql.id(table)} cascade`.execute(db);

test('every job is known here: a new one needs its kind of work among those above, or waits for the clock', () => {
  expect(jobs.map((job) => job.name)).toEqual([
    'raise-alarm',
    'ask-carrier',
    'read-mail',
    'pick-up-unsorted',
    'answer-wearers',
    'send-due',
    'settle-unsure',
    'watch-deadlines',
    'foretell',
    'morning-list',
    'keep-review',
    'keep-backup',
    'forget',
  ]);
});
