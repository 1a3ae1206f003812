import { type Kysely, sql } from 'kysely';

/**
 * What the review reads of every pair, kept ready in blocks of some thousand pairs, and the pairs whose block is out of date.
 * Every write that could change what the review says of a pair marks it in the same transaction, by trigger, whoever writes.
 * Marks are only ever added by writers, so that none waits for another; who brings the blocks up to date takes them away.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

/** Worked out from the other tables, so that a copy of the records leaves them out and they fill again by themselves. */
export const DERIVED_TABLES = ['review_block', 'review_change'];

/** Marks the pairs that a select gives, told by `row`: the row as it was or as it is. */
const marking = (name: string, pairsOf: (row: 'old' | 'new') => string): string => `
  create function ${name}() returns trigger language plpgsql as $$
  begin
    if tg_op <> 'INSERT' then
      insert into review_change (shop_id, pair_id) ${pairsOf('old')};
    end if;
    if tg_op <> 'DELETE' then
      insert into review_change (shop_id, pair_id) ${pairsOf('new')};
    end if;
    return null;
  end $$`;

const own = (row: string): string => `select ${row}.shop_id, ${row}.pair_id where ${row}.pair_id is not null`;
const ofJob = (row: string): string =>
  `select p.shop_id, p.pair_id from pair p where p.shop_id = ${row}.shop_id and p.job_id = ${row}.job_id`;
const ofInbound = (row: string): string => `select s.shop_id, s.pair_id from inbound_standing s
  where s.shop_id = ${row}.shop_id and s.inbound_id = ${row}.inbound_id and s.pair_id is not null`;
const ofWearer = (row: string): string =>
  `select p.shop_id, p.pair_id from pair p where p.shop_id = ${row}.shop_id and p.wearer_id = ${row}.wearer_id`;
const ofCase = (row: string): string =>
  `select f.shop_id, f.pair_id from case_file f where f.shop_id = ${row}.shop_id and f.case_id = ${row}.case_id`;
/** A case that went on with a second pair tells of the first one too. */
const ofCaseEvent = (row: string): string => `${ofCase(row)}
  union select e.shop_id, e.detail->>'from' from case_event e
  where e.shop_id = ${row}.shop_id and e.case_id = ${row}.case_id and e.kind = 'second pair' and e.detail ? 'from'`;

const trigger = (table: string, marks: string, when: readonly (readonly [events: string, when?: string])[]) =>
  when.map(
    ([events, condition], at) => `create trigger ${table}_marks_review_${at + 1} after ${events} on ${table}
      for each row ${condition === undefined ? '' : `when (${condition})`} execute function ${marks}()`,
  );

const STATEMENTS: readonly string[] = [
  `create table review_change (
    shop_id text not null references shop,
    pair_id text not null,
    change_id uuid not null default gen_random_uuid(),
    primary key (shop_id, pair_id, change_id)
  )`,
  `create table review_block (
    shop_id text not null references shop,
    block_id uuid not null default gen_random_uuid(),
    first_pair_id text not null,
    edition text not null,
    figures text not null,
    primary key (shop_id, block_id)
  )`,
  // Unpacking takes longer than reading from the disk.
  'alter table review_block alter column figures set storage external',
  'create index inbound_by_pair on inbound_standing (shop_id, pair_id) where pair_id is not null',
  'create index case_by_pair on case_file (shop_id, pair_id)',
  "create index case_event_second_pair on case_event (shop_id, case_id) where kind = 'second pair'",
  marking('mark_own_pair', own),
  marking('mark_pair_of_job', ofJob),
  marking('mark_pair_of_inbound', ofInbound),
  marking('mark_pairs_of_wearer', ofWearer),
  marking('mark_pair_of_case', ofCaseEvent),
  ...trigger('pair', 'mark_own_pair', [['insert or update or delete']]),
  ...trigger('outcome', 'mark_own_pair', [['insert or update or delete']]),
  ...trigger('case_file', 'mark_own_pair', [
    ['update', 'old.pair_id is distinct from new.pair_id'],
    ['delete'],
  ]),
  ...trigger('check_in', 'mark_own_pair', [
    ['insert', "new.kind = 'ask' and new.state = 'claimed'"],
    [
      'update',
      "(old.kind = 'ask' and old.state = 'claimed') or (new.kind = 'ask' and new.state = 'claimed')",
    ],
    ['delete', "old.kind = 'ask' and old.state = 'claimed'"],
  ]),
  ...trigger('inbound_standing', 'mark_own_pair', [
    ['insert or delete'],
    [
      'update',
      'old.pair_id is distinct from new.pair_id or old.received_at is distinct from new.received_at',
    ],
  ]),
  ...trigger('job', 'mark_pair_of_job', [['update or delete']]),
  ...trigger('fact', 'mark_pair_of_job', [['insert or update or delete']]),
  ...trigger('claim_on_lab', 'mark_pair_of_job', [['insert or update or delete']]),
  ...trigger('reading', 'mark_pair_of_inbound', [['insert or update or delete']]),
  ...trigger('correction', 'mark_pair_of_inbound', [['insert or update or delete']]),
  ...trigger('wearer', 'mark_pairs_of_wearer', [
    ['update', 'old.zone_candidates is distinct from new.zone_candidates'],
  ]),
  ...trigger('ranking_snapshot', 'mark_pair_of_case', [['insert or update or delete']]),
  ...trigger('case_event', 'mark_pair_of_case', [
    ['insert', "new.kind in ('act', 'second pair')"],
    ['update or delete', "old.kind in ('act', 'second pair')"],
  ]),
  'insert into review_change (shop_id, pair_id) select shop_id, pair_id from pair',
];
