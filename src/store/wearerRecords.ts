import { sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import { tablesInOrder } from './dump.ts';

/** All ids under which records of one wearer stand, by the column that carries them. */
export type WearerIds = Readonly<Record<(typeof ID_COLUMNS)[number], readonly string[]>>;

const ID_COLUMNS = [
  'wearer_id',
  'job_id',
  'pair_id',
  'case_id',
  'inbound_id',
  'message_id',
  'contact_id',
  'paper_id',
  'alarm_id',
  'subject_id',
  'attempt_id',
] as const;

/** Numbers and addresses of one wearer that nobody else shares. */
export type OwnAddress = {
  readonly contact_id: string;
  readonly channel: 'text' | 'email';
  readonly address: string;
};

export async function ownAddresses(db: Db | Trx, shopId: string, wearerId: string): Promise<OwnAddress[]> {
  const found = await sql<OwnAddress>`
    select c.contact_id, c.channel, c.address from wearer_contact w
    join contact_point c on c.shop_id = w.shop_id and c.contact_id = w.contact_id
    where w.shop_id = ${shopId} and w.wearer_id = ${wearerId} and not exists (
      select from wearer_contact o
      where o.shop_id = w.shop_id and o.contact_id = w.contact_id and o.wearer_id <> w.wearer_id)
    order by c.channel, c.address`.execute(db);
  return found.rows;
}

/** What a wearer wrote, also what was never linked to them but came from an address of theirs alone. */
export async function idsOfWearer(db: Db | Trx, shopId: string, wearerId: string): Promise<WearerIds> {
  const own = await ownAddresses(db, shopId, wearerId);
  const addresses = own.map((one) => one.address);
  const found = await sql<{ column: string; ids: string[] }>`
    with mine as (
      select 'job_id' as column, job_id as id from job where shop_id = ${shopId} and wearer_id = ${wearerId}
      union all select 'pair_id', pair_id from pair where shop_id = ${shopId} and wearer_id = ${wearerId}
      union all select 'case_id', case_id from case_file where shop_id = ${shopId} and wearer_id = ${wearerId}
      union all select 'message_id', message_id from message where shop_id = ${shopId} and wearer_id = ${wearerId}
      union all select 'attempt_id', a.attempt_id from attempt a join message m using (shop_id, message_id)
        where a.shop_id = ${shopId} and m.wearer_id = ${wearerId}
      union all select 'alarm_id', alarm_id from alarm where shop_id = ${shopId} and wearer_id = ${wearerId}
      union all select 'paper_id', p.paper_id from paper p join case_file f using (shop_id, case_id)
        where p.shop_id = ${shopId} and f.wearer_id = ${wearerId}
      union all select 'inbound_id', s.inbound_id from inbound_standing s join inbound i using (shop_id, inbound_id)
        where s.shop_id = ${shopId} and (s.wearer_id = ${wearerId}
          or (s.wearer_id is null and i.from_address = any (${addresses})))
    ) select mine.column, array_agg(mine.id order by mine.id) as ids from mine group by mine.column`.execute(
    db,
  );
  const ids = new Map(found.rows.map((row) => [row.column, row.ids]));
  const of = (column: string): string[] => ids.get(column) ?? [];
  const contacts = own.map((one) => one.contact_id);
  return {
    wearer_id: [wearerId],
    job_id: of('job_id'),
    pair_id: of('pair_id'),
    case_id: of('case_id'),
    inbound_id: of('inbound_id'),
    message_id: of('message_id'),
    attempt_id: of('attempt_id'),
    alarm_id: of('alarm_id'),
    paper_id: of('paper_id'),
    contact_id: contacts,
    subject_id: [wearerId, ...[...ids.values()].flat()],
  };
}

/** Tables of the catalogue that carry an id of a wearer's records, each behind all that it refers to. */
export async function tablesOfWearers(db: Db | Trx): Promise<{ name: string; columns: string[] }[]> {
  const found = await sql<{ name: string; columns: string[] }>`
    select c.relname as name, array_agg(a.attname::text) as columns
    from pg_class c join pg_attribute a on a.attrelid = c.oid and not a.attisdropped
    where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace
      and a.attname::text = any (${[...ID_COLUMNS]})
    group by c.relname`.execute(db);
  const columns = new Map(found.rows.map((row) => [row.name, row.columns]));
  return (await tablesInOrder(db)).flatMap(({ name }) => {
    const carried = columns.get(name);
    return carried ? [{ name, columns: carried }] : [];
  });
}

/** `shop_id = … and (wearer_id = any (…) or job_id = any (…) …)` for the id columns of one table. */
export const isOfWearer = (shopId: string, columns: readonly string[], ids: WearerIds) =>
  sql<boolean>`shop_id = ${shopId} and (${sql.join(
    columns.map((column) => sql`${sql.ref(column)} = any (${ids[column as keyof WearerIds]})`),
    sql` or `,
  )})`;

/** Every row that is about one wearer, by table. */
export async function rowsOfWearer(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
): Promise<Map<string, Readonly<Record<string, unknown>>[]>> {
  const ids = await idsOfWearer(db, shopId, wearerId);
  const all = new Map<string, Readonly<Record<string, unknown>>[]>();
  for (const { name, columns } of await tablesOfWearers(db)) {
    const found = await sql<{ row: Readonly<Record<string, unknown>> }>`
      select to_jsonb(t) as row from ${sql.table(name)} t where ${isOfWearer(shopId, columns, ids)}`.execute(
      db,
    );
    if (found.rows.length > 0)
      all.set(
        name,
        found.rows.map((one) => one.row),
      );
  }
  return all;
}
