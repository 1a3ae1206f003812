import { type Kysely, sql } from 'kysely';

/**
 * What staff look for, found by an index also behind the wall between shops. There the database lets an index be used only for
 * comparisons that could tell nothing of another shop's rows; `lower()` and `like` are not among those, plain comparisons of a
 * column are. So names and job numbers are kept once more as they are looked for. Kept by trigger and not as generated
 * columns, since a copy of the records is put back with every column in it.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `alter table wearer add column name_key text collate "C" not null default '',
    add column last_name_key text collate "C" not null default ''`,
  `alter table job add column number_key text collate "C" not null default ''`,
  `create function keep_name_keys() returns trigger language plpgsql as $$
  begin
    new.name_key := lower(new.name);
    new.last_name_key := coalesce(lower(substring(new.name from '[^ ]+$')), '');
    return new;
  end $$`,
  `create function keep_number_key() returns trigger language plpgsql as $$
  begin
    new.number_key := lower(new.job_key);
    return new;
  end $$`,
  // Nothing that the review says of a pair changes by this.
  'alter table job disable trigger user',
  `update wearer set name_key = lower(name), last_name_key = coalesce(lower(substring(name from '[^ ]+$')), '')`,
  'update job set number_key = lower(job_key)',
  'alter table job enable trigger user',
  `create trigger wearer_name_keys before insert or update of name, name_key, last_name_key on wearer
    for each row execute function keep_name_keys()`,
  `create trigger job_number_key before insert or update of job_key, number_key on job
    for each row execute function keep_number_key()`,
  'drop index wearer_by_name',
  'create index wearer_by_name on wearer (shop_id, name_key, wearer_id)',
  'drop index wearer_by_last_name',
  'create index wearer_by_last_name on wearer (shop_id, last_name_key)',
  'drop index job_by_number',
  'create index job_by_number on job (shop_id, number_key)',
  // Messages that did not arrive, counted on the bench.
  "create index attempt_unsent on attempt (shop_id, send_at) where state in ('unsure', 'refused', 'failed')",
];
