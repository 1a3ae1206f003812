/** What the review keeps ready of every pair equals what the records say, after every kind of late change, in any order. */
import fc from 'fast-check';
import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { finishedPairs, type ReviewedPairs } from '../../src/followup/finishedPairs.ts';
import { keptPairs } from '../../src/followup/keptPairs.ts';
import { dayNumber, type PairSummary } from '../../src/followup/pairSummaries.ts';
import { refreshReview } from '../../src/followup/refreshReview.ts';
import { blocksOf, PAIRS_IN_BLOCK, summariesOf } from '../../src/followup/summaryBlock.ts';
import { GROUPINGS } from '../../src/review/pairs.ts';
import type { Database } from '../../src/store/database.ts';
import { openShop } from '../../src/store/shops.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';

const SHOP = 's';
const TODAY = dayNumber('2026-06-20');
const NOW = new Date('2026-06-20T15:00:00Z');
const PAIRS = 7;

/** All that the pages read of the pairs: whole pairs in their order, and the group of each. */
const told = (pairs: ReviewedPairs) => ({
  pairs: Array.from(pairs.inOrder(), pairs.pair),
  noted: Array.from(pairs.noted, pairs.pairId).sort(),
  groups: GROUPINGS.map((by) => {
    const { names, codes } = pairs.groups(by);
    return Array.from(pairs.inOrder(), (at) => names[codes[at]!]);
  }),
});

/** One late change: to which pair, and two numbers that say how. */
type Change = { readonly what: string; readonly pair: number; readonly how: number; readonly id: number };

const statementsOf = ({ what, pair, how, id }: Change): ReturnType<typeof sql>[] => {
  const p = `p${pair}`;
  const j = `j${pair}`;
  const w = `w${pair}`;
  const other = (pair + 1) % PAIRS;
  const day = `2026-03-${10 + (how % 20)}`;
  const inbound = (labels: string) => [
    sql`insert into inbound (shop_id, inbound_id, channel, far_id, from_address, body, raw, received_at)
      values (${SHOP}, ${`i${id}`}, 'text', ${`i${id}`}, '', '', '{}', ${new Date(`${day}T12:00:00Z`)})`,
    sql`insert into inbound_standing (shop_id, inbound_id, received_at, state, wearer_id, pair_id)
      values (${SHOP}, ${`i${id}`}, ${new Date(`${day}T12:00:00Z`)}, 'done', ${w}, ${p})`,
    sql`insert into reading (shop_id, reading_id, inbound_id, labels, asks, urgent, stop, spans, left_over, extent, sorter_version, at)
      values (${SHOP}, ${`r${id}`}, ${`i${id}`}, ${[labels]}::text[], '{}', false, false, '[]', '[]', '{}', '1', ${NOW})`,
  ];
  const lastInbound = sql`(select max(inbound_id) from inbound_standing where shop_id = ${SHOP} and wearer_id = ${w})`;
  const outcomes = ['settled', 'exchanged', 'refunded', 'remade in the same design', 'lost touch'];
  const facts: [string, unknown][] = [
    ['material', `resin ${how % 3}`],
    ['frame_b_mm', 24 + how],
    ['wrap_deg', how],
    ['add_D', 1 + (how % 7) * 0.25],
    ['measured', ['photo', 'ruler'][how % 2]],
    ['light_reactive', how % 2 === 0],
    ['refractive_index', 1.5 + (how % 4) * 0.06],
  ];
  const kinds: Record<string, () => ReturnType<typeof sql>[]> = {
    'a reply': () => inbound(how % 2 === 0 ? 'settled' : 'swim'),
    'a reply put to another pair': () => [
      sql`update inbound_standing set pair_id = ${`p${other}`} where shop_id = ${SHOP} and inbound_id = ${lastInbound}`,
    ],
    'a reply put to nobody': () => [
      sql`update inbound_standing set pair_id = null where shop_id = ${SHOP} and inbound_id = ${lastInbound}`,
    ],
    'a label mended': () => [
      sql`insert into correction (shop_id, correction_id, inbound_id, labels_before, labels_after, by_name, at)
        select ${SHOP}, ${`c${id}`}, inbound_id, '{}', ${[how % 2 === 0 ? 'settled' : 'swim']}::text[], 'Owner', ${NOW}
        from inbound_standing where shop_id = ${SHOP} and inbound_id = ${lastInbound}`,
    ],
    'read anew': () => [
      sql`insert into reading (shop_id, reading_id, inbound_id, labels, asks, urgent, stop, spans, left_over, extent, sorter_version, at)
        select ${SHOP}, ${`r${id}`}, inbound_id, ${[how % 2 === 0 ? 'swim' : 'settled']}::text[], '{}', false, false, '[]', '[]', '{}', '2', ${new Date(NOW.getTime() + id)}
        from inbound_standing where shop_id = ${SHOP} and inbound_id = ${lastInbound}`,
    ],
    'a question sent': () => [
      sql`update check_in set state = 'claimed' where shop_id = ${SHOP} and pair_id = ${p} and day = ${[7, 14, 30][how % 3]!}`,
    ],
    'a question dropped': () => [
      sql`update check_in set state = 'dropped' where shop_id = ${SHOP} and pair_id = ${p} and day = ${[7, 14, 30][how % 3]!}`,
    ],
    'an outcome': () => [
      sql`insert into outcome (shop_id, pair_id, outcome, reason, borne_by, cause, cause_how, on_day, by_name, at)
        values (${SHOP}, ${p}, ${outcomes[how % 5]!}, ${how % 2 === 0 ? 'settling' : null}, ${how % 3 === 0 ? 'the lab' : null},
          ${how % 4 === 0 ? 'cross-too-low' : null}, ${how % 4 === 0 ? 'found at the bench' : null}, ${`2026-06-${10 + (how % 10)}`}, 'Owner', ${NOW})
        on conflict (shop_id, pair_id) do update set outcome = excluded.outcome, reason = excluded.reason,
          on_day = excluded.on_day, cause = excluded.cause, cause_how = excluded.cause_how, borne_by = excluded.borne_by`,
    ],
    'an outcome taken back': () => [sql`delete from outcome where shop_id = ${SHOP} and pair_id = ${p}`],
    'another day of hand-over': () => [
      sql`update pair set handed_over_on = ${day}, first_worn_on = ${day} where shop_id = ${SHOP} and pair_id = ${p}`,
      sql`update job set handed_over_on = ${day} where shop_id = ${SHOP} and job_id = ${j}`,
    ],
    'another day first worn': () => [
      sql`update pair set first_worn_on = ${day} where shop_id = ${SHOP} and pair_id = ${p}`,
    ],
    'another invoice day': () => [
      sql`update job set lab_invoiced_on = ${`2026-05-${10 + (how % 20)}`} where shop_id = ${SHOP} and job_id = ${j}`,
    ],
    'another design, lab, seller, number': () => [
      sql`update job set design_id = ${`d${how % 2}`}, lab_id = ${how % 3 === 0 ? null : `l${how % 2}`},
          sold_by = ${`Seller ${how % 3}`}, first_multifocal = ${how % 2 === 0}, job_key = ${`K${id}`}
        where shop_id = ${SHOP} and job_id = ${j}`,
    ],
    'a number noted': () => {
      const [key, value] = facts[how % facts.length]!;
      return [
        sql`insert into fact (shop_id, fact_id, job_id, key, value, by_name, source, at)
          values (${SHOP}, ${`f${id}`}, ${j}, ${key}, ${JSON.stringify(value)}::jsonb, 'Bea', 'order', ${new Date(NOW.getTime() + id)})`,
      ];
    },
    'measured again at the bench': () =>
      ['order', 'bench'].map(
        (source, at) =>
          sql`insert into fact (shop_id, fact_id, job_id, key, eye, value, by_name, source, at)
            values (${SHOP}, ${`f${id}${source}`}, ${j}, 'fitting_height_mm', 'R', ${JSON.stringify(18 + at * how * 0.1)}::jsonb,
              ${`Person ${how % 2}`}, ${source}, ${new Date(NOW.getTime() + id + at)})`,
      ),
    'numbers erased': () => [
      sql`select set_config('afterfit.erasing', 'on', true)`,
      sql`delete from fact where shop_id = ${SHOP} and job_id = ${j}`,
    ],
    'a claim on the lab': () => [
      sql`insert into claim_on_lab (shop_id, claim_id, job_id, reason, state, asked_on, promised_amount)
        values (${SHOP}, ${`k${id}`}, ${j}, 'r', 'asked', ${day}, ${how})`,
    ],
    'a claim credited': () => [
      sql`update claim_on_lab set credited_amount = ${how}, state = 'credited' where shop_id = ${SHOP} and job_id = ${j}`,
    ],
    'an act on a case': () => [
      sql`insert into case_file (shop_id, case_id, pair_id, wearer_id, state, opened_at, changed_at, closed_at)
        values (${SHOP}, ${`x${id}`}, ${p}, ${w}, 'new', ${NOW}, ${NOW}, ${NOW})`,
      sql`insert into ranking_snapshot (shop_id, snapshot_id, case_id, labels, facts, weighing, catalogue_version, at)
        values (${SHOP}, ${`s${id}`}, ${`x${id}`}, '{}', '{}', ${JSON.stringify({ causes: [{ share: how / 40 }] })}::jsonb, '1', ${NOW})`,
      sql`insert into case_event (shop_id, event_id, case_id, kind, detail, by_name, at)
        values (${SHOP}, ${`e${id}`}, ${`x${id}`}, 'act', ${JSON.stringify({ act: 'adjust', suggested: how % 2 ? 'adjust' : 'coach', leadingCause: 'cross-too-low', ranking: `s${id}` })}::jsonb,
          'Owner', ${new Date(NOW.getTime() + id)})`,
    ],
    'the case goes on with another pair': () => [
      sql`insert into case_event (shop_id, event_id, case_id, kind, detail, by_name, at)
        select ${SHOP}, ${`e${id}`}, case_id, 'second pair', jsonb_build_object('from', pair_id, 'to', ${`p${other}`}::text), 'Afterfit',
          ${new Date(NOW.getTime() + id)} from case_file where shop_id = ${SHOP} and pair_id = ${p} order by case_id desc limit 1`,
      sql`update case_file set pair_id = ${`p${other}`} where shop_id = ${SHOP} and case_id =
        (select max(case_id) from case_file where shop_id = ${SHOP} and pair_id = ${p})`,
    ],
    'another time zone of the wearer': () => [
      sql`update wearer set zone_candidates = ${[['America/New_York', 'Pacific/Auckland', 'Pacific/Honolulu'][how % 3]!]}::text[]
        where shop_id = ${SHOP} and wearer_id = ${w}`,
    ],
    'two wearers are one': () => [
      sql`update pair set wearer_id = ${`w${other}`} where shop_id = ${SHOP} and pair_id = ${p}`,
    ],
    'a design renamed': () => [
      sql`update lens_design set name = ${`Design ${id}`}, refractive_index = ${1.5 + (how % 3) * 0.1}
        where shop_id = ${SHOP} and design_id = ${`d${how % 2}`}`,
    ],
    'a lab with other terms': () => [
      sql`update lab set name = ${`Lab ${id}`}, terms = ${JSON.stringify([{ what: 'settling', days: how, from: 'ordered', times: 1 }])}::jsonb
        where shop_id = ${SHOP} and lab_id = ${`l${how % 2}`}`,
    ],
    'another pair': () => newPair(id),
    'a pair gone': () => [
      sql`select set_config('afterfit.erasing', 'on', true)`,
      sql`delete from check_in where shop_id = ${SHOP} and pair_id = ${p}`,
      sql`delete from outcome where shop_id = ${SHOP} and pair_id = ${p}`,
      sql`delete from pair where shop_id = ${SHOP} and pair_id = ${p}
        and not exists (select from case_file f where f.shop_id = ${SHOP} and f.pair_id = ${p})`,
    ],
  };
  return kinds[what]?.() ?? [];
};

const KINDS = [
  'a reply',
  'a question sent',
  'a question dropped',
  'another time zone of the wearer',
  'two wearers are one',
  'read anew',
  'a label mended',
  'a reply put to another pair',
  'a reply put to nobody',
  'an outcome',
  'another invoice day',
  'an outcome taken back',
  'another day first worn',
  'another day of hand-over',
  'another design, lab, seller, number',
  'a number noted',
  'measured again at the bench',
  'numbers erased',
  'a claim on the lab',
  'a claim credited',
  'an act on a case',
  'the case goes on with another pair',
  'a design renamed',
  'a lab with other terms',
  'another pair',
  'a pair gone',
] as const;

function newPair(number: number): ReturnType<typeof sql>[] {
  const n = String(number);
  return [
    sql`insert into wearer (shop_id, wearer_id, name, zone_candidates, zone_how, created_at)
      values (${SHOP}, ${`w${n}`}, ${`Wearer ${n}`}, array['America/New_York'], 'test', ${NOW})`,
    sql`insert into job (shop_id, job_id, job_key, wearer_id, design_id, lab_id, way, handed_over_on, row_digest, as_taken, created_at)
      values (${SHOP}, ${`j${n}`}, ${`J${n}`}, ${`w${n}`}, 'd0', 'l0', 'counter', '2026-03-10', '', '{}', ${NOW})`,
    sql`insert into pair (shop_id, pair_id, job_id, wearer_id, handed_over_on, first_worn_on, first_worn_how, created_at)
      values (${SHOP}, ${`p${n}`}, ${`j${n}`}, ${`w${n}`}, '2026-03-10', '2026-03-10', 'handed over', ${NOW})`,
    ...[7, 14, 30].map(
      (
        day,
      ) => sql`insert into check_in (shop_id, check_in_id, pair_id, wearer_id, slot, kind, day, due_on, due_at, state)
        values (${SHOP}, ${`ci${n}-${day}`}, ${`p${n}`}, ${`w${n}`}, ${`day ${day}`}, 'ask', ${day}, '2026-03-20', ${NOW}, 'planned')`,
    ),
  ];
}

describe.each(DATABASES)('pairs kept ready, %s', (kind) => {
  let database: Database;
  let next = 1000;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());

  /** What is about a pair that is gone by now is refused by the database and changes nothing. */
  async function run(statements: readonly ReturnType<typeof sql>[]): Promise<void> {
    await database
      .inShop(SHOP)
      .transaction()
      .execute(async (trx) => {
        for (const statement of statements) await statement.execute(trx);
      })
      .catch((error: { code?: string }) => {
        if (error.code !== '23503') throw error;
      });
  }
  async function open(): Promise<void> {
    await sql`truncate shop cascade`.execute(database.db);
    const owner = { name: 'Ana Example' };
    await openShop(
      database.inShop(SHOP),
      {
        shopId: SHOP,
        name: 'Shop',
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: {},
        owner,
      },
      NOW,
    );
    await run([
      ...[0, 1].flatMap((n) => [
        sql`insert into lens_design (shop_id, design_id, name, created_at) values (${SHOP}, ${`d${n}`}, ${`Soft ${n}`}, ${NOW})`,
        sql`insert into lab (shop_id, lab_id, name, created_at) values (${SHOP}, ${`l${n}`}, ${`Lab ${n}`}, ${NOW})`,
      ]),
      ...Array.from({ length: PAIRS }, (_, at) => newPair(at)).flat(),
    ]);
  }
  const records = async () => told(await finishedPairs(database.inShop(SHOP), SHOP, {}, TODAY));
  const kept = async () => {
    const found = await keptPairs(database.inShop(SHOP), SHOP, {}, TODAY);
    expect(found.upToDate).toBe(true);
    return told(found.pairs);
  };

  test('every kind of late change is seen at the next look', async () => {
    await open();
    const changed = new Set<string>();
    for (const [how, pair] of [
      [3, 0],
      [8, 2],
      [10, 4],
    ] as const) {
      for (const what of KINDS) {
        const before = await kept();
        next += 1;
        await run(statementsOf({ what, pair, how, id: next }));
        const after = await kept();
        expect(after, what).toEqual(await records());
        if (JSON.stringify(after) !== JSON.stringify(before)) changed.add(what);
      }
    }
    // What was done before stays with the first pair, so that one changes nothing that is told.
    expect(KINDS.filter((what) => !changed.has(what))).toEqual(['the case goes on with another pair']);
  });

  test('after any late changes in any order what is kept equals what the records say', async () => {
    const change = fc.record({
      what: fc.constantFrom(...KINDS),
      pair: fc.nat(PAIRS - 1),
      how: fc.nat(39),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.array(change, { minLength: 1, maxLength: 4 }), { maxLength: 5 }),
        async (batches) => {
          await open();
          for (const batch of batches) {
            for (const one of batch) {
              next += 1;
              await run(statementsOf({ ...one, id: next }));
            }
            expect(await kept()).toEqual(await records());
          }
        },
      ),
      { numRuns: kind === 'server' ? 15 : 6, seed: 8 },
    );
  });

  test('a write that is undone leaves no mark, one that fails half-way neither', async () => {
    await open();
    await kept();
    await database
      .inShop(SHOP)
      .transaction()
      .execute(async (trx) => {
        for (const statement of statementsOf({ what: 'an outcome', pair: 0, how: 1, id: 1 }))
          await statement.execute(trx);
        throw new Error('undone');
      })
      .catch(() => {});
    const marks = await sql<{ count: number }>`select count(*) as count from review_change`.execute(
      database.db,
    );
    expect(marks.rows[0]!.count).toBe(0);
  });

  test('what another edition of the program summed up is summed up anew', async () => {
    await open();
    const before = await kept();
    await sql`update review_block set edition = '0', figures = replace(figures, 'p0', 'q0')`.execute(
      database.db,
    );
    expect(await kept()).toEqual(before);
  });

  test('a shop of 2,100 pairs lies in two blocks, and a change touches one of them', async () => {
    await open();
    await sql`insert into job (shop_id, job_id, job_key, wearer_id, design_id, way, row_digest, as_taken, created_at)
      select ${SHOP}, 'm' || n, 'M' || n, 'w0', 'd1', 'counter', '', '{}', ${NOW} from generate_series(1, 2100) n`.execute(
      database.db,
    );
    await sql`insert into pair (shop_id, pair_id, job_id, wearer_id, handed_over_on, first_worn_on, first_worn_how, created_at)
      select ${SHOP}, 'a' || lpad(n::text, 5, '0'), 'm' || n, 'w0', '2026-04-01', '2026-04-01', 'handed over', ${NOW}
      from generate_series(1, 2100) n`.execute(database.db);
    const db = database.inShop(SHOP);
    expect(await refreshReview(db, SHOP)).toBe(true);
    const blocks = () =>
      sql<{
        block_id: string;
        first: string;
      }>`select block_id, first_pair_id as first from review_block order by 2`.execute(database.db);
    const before = (await blocks()).rows;
    expect(before.length).toBeGreaterThan(1);
    expect(await kept()).toEqual(await records());
    await sql`update job set sold_by = 'Tom' where job_id = 'm2'`.execute(database.db);
    expect(await kept()).toEqual(await records());
    const after = (await blocks()).rows;
    expect(after.filter(({ block_id }) => !before.some((one) => one.block_id === block_id))).toHaveLength(1);
  });
});

test('summaries come back from their blocks as they went in, in the order of their ids', () => {
  const summary = (n: number): PairSummary => ({
    pairId: `p${String(n).padStart(6, '0')}`,
    jobId: `j${n}`,
    jobNumber: `J${n}`,
    designId: `d${n % 3}`,
    labId: n % 2 === 0 ? null : 'l',
    material: n % 5 === 0 ? 'resin' : null,
    index: n % 4 === 0 ? 1.6 : null,
    lightReactiveGrade: null,
    wrapClass: null,
    depthClass: null,
    addBand: n % 3 === 0 ? '2.25 and more' : null,
    firstWearer: [true, false, null][n % 3]!,
    measuredBy: null,
    measuredHow: 'photo',
    soldBy: 'Tom',
    handedOverDay: 20_000 + (n % 50),
    firstWornDay: 20_001 + (n % 50),
    endedDay: n % 7 === 0 ? 20_060 : null,
    outcome: n % 7 === 0 ? 'exchanged' : null,
    reason: n % 7 === 0 ? 'settling' : null,
    asked: n % 8,
    answered: (n >> 1) % 8,
    settled: (n >> 2) % 8,
    ...(n % 7 === 0 ? { more: { borneBy: 'the lab' } } : {}),
  });
  const summaries = Array.from({ length: PAIRS_IN_BLOCK + 5 }, (_, n) => summary(n));
  const blocks = blocksOf([...summaries].reverse());
  expect(blocks.map(({ pairId }) => pairId.length)).toEqual([PAIRS_IN_BLOCK, 5]);
  expect(blocks.flatMap((block) => summariesOf(JSON.parse(JSON.stringify(block))))).toEqual(summaries);
});
