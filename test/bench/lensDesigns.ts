import { sql } from 'kysely';
import { LensDesignsPage } from '../../dashboard/lens-designs/page.tsx';
import { renderDocument } from '../../dashboard/shell/page.tsx';
import { keptPairs } from '../../src/followup/keptPairs.ts';
import { dayNumber } from '../../src/followup/pairSummaries.ts';
import { refreshReview } from '../../src/followup/refreshReview.ts';
import { type Database, openServer } from '../../src/store/database.ts';
import { lensDesignsView } from '../../src/web/pages/lensDesignsView.ts';
import { readAsked } from '../../src/web/pages/lensFigures.ts';
import { shell } from '../dashboard/stories/shop.ts';
import type { Ground } from './ground.ts';
import { openBenchShop } from './people.ts';
import { type BenchRow, inTurn, secondsOf } from './row.ts';

const SHOP = 'review';
const PAIRS = 100_000;
const READINGS_EACH = 10;
const RUNS = 3;
const FIRST_DAY = '2022-06-01';
const TODAY = '2026-03-16';

/**
 * The page Lens designs of one shop with 100,000 pairs among 1,000,000 answers, by a process that has nothing of it in its
 * memory yet, beside the plainest count of the same pairs by design; and again after an answer came in.
 */
export async function benchLensDesigns(ground: Ground): Promise<BenchRow[]> {
  await openBenchShop(ground.database, SHOP);
  await fillReview(ground.database);
  const db = ground.database.inShop(SHOP);
  await refreshReview(db, SHOP);
  await sql`analyze`.execute(ground.database.db);
  const plain = () =>
    sql`select d.name, count(*), count(o.outcome) filter (where o.outcome in ('exchanged', 'refunded', 'remade in the same design'))
      from pair p join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
      join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
      left join outcome o on o.shop_id = p.shop_id and o.pair_id = p.pair_id
      where p.shop_id = ${SHOP} group by 1`.execute(db);
  const cold = await inTurn(
    RUNS,
    async () => {
      // A handle of its own keeps nothing of what another has read.
      const fresh = ground.url === undefined ? ground.database : openServer(ground.url);
      const seconds = await secondsOf(() => view(fresh));
      if (fresh !== ground.database) await fresh.close();
      return 1000 * seconds;
    },
    async () => 1000 * (await secondsOf(plain)),
  );
  const after = await inTurn(
    RUNS,
    async (run) => {
      await sql`update outcome set reason = ${`changed in run ${run}`}
        where shop_id = ${SHOP} and pair_id = ${pairId(PAIRS / 2 + run)}`.execute(ground.database.db);
      return 1000 * (await secondsOf(() => view(ground.database)));
    },
    async () => 1000 * (await secondsOf(plain)),
  );
  const row = { on: ground.on, unit: 'ms', beside: 'count of pairs by design, in SQL' } as const;
  const goal = { of: 'figure', most: 1000 } as const;
  return [
    { ...row, what: 'Lens designs, first view, 100,000 pairs', ours: cold.ours, theirs: cold.theirs, goal },
    { ...row, what: 'Lens designs after a change', ours: after.ours, theirs: after.theirs, goal },
  ];
}

async function view(database: Database): Promise<void> {
  const today = dayNumber(TODAY);
  const kept = await keptPairs(database.inShop(SHOP), SHOP, {}, today);
  if (kept.pairs.count !== PAIRS || !kept.upToDate) throw new Error(`${kept.pairs.count} pairs`);
  const shown = lensDesignsView({ ...kept, today, settings: {}, asked: readAsked(() => undefined) });
  const html = renderDocument(
    LensDesignsPage({ shell: shell('Lens designs', '/lens-designs'), view: shown }),
  );
  if (!String(html).includes('100000 pairs handed over')) throw new Error('not the page');
}

const pairId = (number: number): string => `p${String(number).padStart(9, '0')}`;

/** A big shop by a few statements; marks are not made one by one, all pairs are marked at the end. */
async function fillReview({ db }: Database): Promise<void> {
  const days = dayNumber(TODAY) - dayNumber(FIRST_DAY);
  await db.connection().execute(async (one) => {
    await sql`set session_replication_role = replica`.execute(one);
    const each = sql`generate_series(0, ${sql.lit(PAIRS - 1)}) as n`;
    const id = sql`'p' || lpad(n::text, 9, '0')`;
    const day = sql`date ${sql.lit(FIRST_DAY)} + (n::bigint * ${sql.lit(days)} / ${sql.lit(PAIRS)})::int`;
    // The same for a pair wherever it is asked for: a number from 0 to 9,999.
    const luck = (salt: string) => sql`(abs(hashtext(n::text || ${sql.lit(salt)})) % 10000)`;
    const back = sql`${luck('back')} < 450 + 30 * (n % 40 = 7)::int`;
    for (const statement of [
      sql`insert into lens_design (shop_id, design_id, name, refractive_index, created_at)
        select ${SHOP}, 'd' || k, 'Design ' || k, 1.5 + (k % 4) * 0.06, now() from generate_series(0, 39) k`,
      sql`insert into lab (shop_id, lab_id, name, created_at)
        select ${SHOP}, 'l' || k, 'Lab ' || k, now() from generate_series(0, 3) k`,
      sql`insert into wearer (shop_id, wearer_id, name, zone_candidates, zone_how, created_at)
        select ${SHOP}, 'w' || n, 'Wearer ' || n, array['America/New_York'], 'bench', now() from ${each}`,
      sql`insert into job (shop_id, job_id, job_key, wearer_id, design_id, lab_id, way, first_multifocal, sold_by,
          ordered_on, handed_over_on, row_digest, as_taken, created_at)
        select ${SHOP}, 'j' || n, 'R-' || n, 'w' || n, 'd' || n % 40, 'l' || ${luck('lab')} % 4, 'counter',
          ${luck('first')} < 4000, 'Seller ' || ${luck('sold')} % 6, ${day} - 9, ${day}, '', '{}', now() from ${each}`,
      sql`insert into pair (shop_id, pair_id, job_id, wearer_id, handed_over_on, first_worn_on, first_worn_how, created_at)
        select ${SHOP}, ${id}, 'j' || n, 'w' || n, ${day}, ${day}, 'handed over', now() from ${each}`,
      sql`insert into fact (shop_id, fact_id, job_id, key, value, by_name, source, at)
        select ${SHOP}, 'f' || n || key, 'j' || n, key, value, 'Measurer ' || ${luck('by')} % 5, 'order', now()
        from ${each}, lateral (values ('frame_b_mm', to_jsonb(26 + ${luck('b')} % 16)),
          ('wrap_deg', to_jsonb(${luck('wrap')} % 20)), ('add_D', to_jsonb(1 + 0.25 * (${luck('add')} % 7))),
          ('measured', to_jsonb((array['photo', 'ruler', 'frame mark'])[1 + ${luck('how')} % 3])),
          ('light_reactive_grade', to_jsonb((array['none', 'grey', 'brown'])[1 + ${luck('tint')} % 3])),
          ('fitting_height_mm', to_jsonb(18))) as f (key, value)`,
      sql`insert into check_in (shop_id, check_in_id, pair_id, wearer_id, slot, kind, day, due_on, due_at, state)
        select ${SHOP}, 'c' || n || '-' || d, ${id}, 'w' || n, 'day ' || d, 'ask', d, ${day} + d, now(), 'claimed'
        from ${each}, (values (7), (14), (30)) as looks (d)`,
      sql`insert into inbound (shop_id, inbound_id, channel, far_id, from_address, body, raw, received_at)
        select ${SHOP}, 'i' || n || '-' || k, 'text', n || '-' || k, '', '', '{}', (${day} + 3 * k)::timestamptz
        from ${each}, generate_series(1, ${sql.lit(READINGS_EACH)}) k`,
      sql`insert into inbound_standing (shop_id, inbound_id, received_at, state, wearer_id, pair_id)
        select ${SHOP}, 'i' || n || '-' || k, (${day} + 3 * k)::timestamptz, 'done', 'w' || n, ${id}
        from ${each}, generate_series(1, ${sql.lit(READINGS_EACH)}) k`,
      sql`insert into reading (shop_id, reading_id, inbound_id, labels, asks, urgent, stop, spans, left_over, extent,
          sorter_version, at)
        select ${SHOP}, 'r' || n || '-' || k, 'i' || n || '-' || k,
          case when ${luck('settle')} < 1500 * k then array['settled'] else array['swim'] end, '{}', false, false, '[]',
          '[]', '{}', '1', (${day} + 3 * k)::timestamptz from ${each}, generate_series(1, ${sql.lit(READINGS_EACH)}) k`,
      sql`insert into outcome (shop_id, pair_id, outcome, reason, borne_by, cause, cause_how, on_day, by_name, at)
        select ${SHOP}, ${id},
          case when ${back} then (array['exchanged', 'refunded', 'remade in the same design'])[1 + ${luck('way')} % 3]
            else 'settled' end,
          case when ${back} then (array['settling', 'measured', 'changed mind'])[1 + ${luck('why')} % 3] end,
          case when ${back} then (array['the lab', 'the shop'])[1 + ${luck('who')} % 2] end,
          case when ${back} and ${luck('cause')} < 5000 then 'cross-too-low' end,
          case when ${back} then 'found at the bench' end,
          ${day} + ${luck('when')} % 60, 'Owner', now()
        from ${each} where ${day} < date ${sql.lit(TODAY)} - 60`,
      sql`insert into review_change (shop_id, pair_id) select shop_id, pair_id from pair where shop_id = ${SHOP}`,
      sql`analyze`,
    ])
      await statement.execute(one);
    await sql`set session_replication_role = origin`.execute(one);
  });
}
