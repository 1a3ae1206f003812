import { type Kysely, sql } from 'kysely';

/**
 * What is written for many wearers at once. Pairs are marked for the review once for each statement and not for each row, and an
 * attempt without a far id is in no index of far ids.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

/** Marks the pairs that a select gives from the rows that a statement wrote: as they were and as they are. */
const marking = (name: string, pairs: string): string => `
  create function ${name}() returns trigger language plpgsql set plan_cache_mode = 'force_custom_plan' as $$
  begin
    insert into review_change (shop_id, pair_id) ${pairs};
    return null;
  end $$`;

const trigger = (
  table: string,
  event: 'insert' | 'update' | 'delete',
  rows: readonly string[],
  marks: string,
) =>
  `create trigger ${table}_marks_review_${event} after ${event} on ${table}
    referencing ${rows.map((one) => `${one} table as ${one}_rows`).join(' ')}
    for each statement execute function ${marks}()`;

const BOTH = ['old', 'new'] as const;
const EVENTS = [
  ['insert', ['new']],
  ['update', ['old', 'new']],
  ['delete', ['old']],
] as const;

const named = (what: string, rows: readonly string[]) => `mark_${what}_${rows.join('_and_')}`;
const ROWS = [['new'], ['old'], BOTH] as const;

/** A check-in tells of the pair once it was asked. */
const ofAsked = (rows: readonly string[]) =>
  rows
    .map((one) => `select shop_id, pair_id from ${one}_rows where kind = 'ask' and state = 'claimed'`)
    .join(' union ');
const ofPairs = (rows: readonly string[]) =>
  rows.map((one) => `select shop_id, pair_id from ${one}_rows`).join(' union ');
const ofFacts = (rows: readonly string[]) =>
  `select p.shop_id, p.pair_id from pair p join (${rows
    .map((one) => `select shop_id, job_id from ${one}_rows`)
    .join(' union ')}) j on p.shop_id = j.shop_id and p.job_id = j.job_id`;

const STATEMENTS: readonly string[] = [
  // Messages are looked for by wearer; who writes from a contact is looked for by the contact.
  'drop index message_by_contact',
  'drop index attempt_by_far_id',
  'create index attempt_by_far_id on attempt (shop_id, far_id) where far_id is not null',
  // A mark is taken away with the shop's other rows; that its shop is there, its pair has shown already.
  'alter table review_change drop constraint review_change_shop_id_fkey',
  'drop trigger pair_marks_review_1 on pair',
  'drop trigger fact_marks_review_1 on fact',
  ...[1, 2, 3].map((at) => `drop trigger check_in_marks_review_${at} on check_in`),
  ...ROWS.flatMap((rows) => [
    marking(named('pairs', rows), ofPairs(rows)),
    marking(named('pairs_of_facts', rows), ofFacts(rows)),
    marking(named('asked_pairs', rows), ofAsked(rows)),
  ]),
  ...EVENTS.flatMap(([event, rows]) => [
    trigger('pair', event, rows, named('pairs', rows)),
    trigger('fact', event, rows, named('pairs_of_facts', rows)),
    trigger('check_in', event, rows, named('asked_pairs', rows)),
  ]),
];
