import { sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import { messageHash } from './erased.ts';
import type { RawInbound } from './journal.ts';
import { storable, storableJson } from './storable.ts';

/**
 * Puts raw messages on record, each once for its channel and far id, in one statement; a second delivery of the same message
 * changes nothing, and one that is known as erased stays gone, whoever brings it again. Returns the ids of those that were new.
 */
export async function storeRaw(db: Db, messages: readonly RawInbound[]): Promise<string[]> {
  if (messages.length === 0) return [];
  const rows = messages.map((message) => ({
    shop_id: message.shopId,
    inbound_id: newId(new Date(message.receivedAt)),
    channel: message.channel,
    far_id: storable(message.farId),
    from_address: storable(message.from),
    to_address: message.to === null ? null : storable(message.to),
    body: storable(message.body),
    raw_text: storableJson(message.raw ?? null),
    received_at: new Date(message.receivedAt),
    hash: messageHash(message.channel, message.farId),
  }));
  const stored = await sql<{ inbound_id: string }>`
    with stored as (
      insert into inbound
        (shop_id, inbound_id, channel, far_id, from_address, to_address, body, raw, received_at)
      select shop_id, inbound_id, channel, far_id, from_address, to_address, body, raw_text::jsonb, received_at
      from json_to_recordset(${JSON.stringify(rows)}::json) as m (shop_id text, inbound_id text, channel text,
        far_id text, from_address text, to_address text, body text, raw_text text, received_at timestamptz, hash text)
      where not exists (select from erased_trace e
        where e.shop_id = m.shop_id and e.what = 'message' and e.hash = m.hash)
      on conflict (shop_id, channel, far_id) do nothing
      returning shop_id, inbound_id, received_at
    ), standing as (
      insert into inbound_standing (shop_id, inbound_id, received_at, state)
      select shop_id, inbound_id, received_at, 'raw' from stored
    )
    select inbound_id from stored`.execute(db);
  return stored.rows.map((row) => row.inbound_id);
}

export type RawWaiting = { shop_id: string; inbound_id: string };

/** Messages stored but not sorted yet, oldest first: what a crash between storing and sorting leaves behind. */
export async function unsorted(db: Db, limit: number): Promise<RawWaiting[]> {
  return db
    .selectFrom('inbound_standing')
    .select(['shop_id', 'inbound_id'])
    .where('state', '=', 'raw')
    .orderBy('received_at')
    .limit(limit)
    .execute();
}

/** Takes one raw message for sorting, with its shop; undefined when another process has it or it is sorted already. */
export async function claimRaw(trx: Trx, shopId: string, inboundId: string) {
  const row = await trx
    .selectFrom('inbound_standing as s')
    .innerJoin('inbound as i', (join) =>
      join.onRef('i.shop_id', '=', 's.shop_id').onRef('i.inbound_id', '=', 's.inbound_id'),
    )
    .innerJoin('shop as p', 'p.shop_id', 's.shop_id')
    .selectAll('p')
    .select([
      'i.inbound_id',
      'i.channel',
      'i.from_address',
      'i.to_address',
      'i.body',
      'i.raw',
      'i.received_at',
    ])
    .where('s.shop_id', '=', shopId)
    .where('s.inbound_id', '=', inboundId)
    .where('s.state', '=', 'raw')
    .modifyEnd(sql`for update of s skip locked`)
    .executeTakeFirst();
  return row;
}

export async function newestText(db: Db, shopId: string): Promise<Date | undefined> {
  const row = await db
    .selectFrom('inbound')
    .select('received_at')
    .where('shop_id', '=', shopId)
    .where('channel', '=', 'text')
    .orderBy('received_at', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row?.received_at;
}

/**
 * Takes away what came along with messages that were received before `before` and are dealt with; the words stay. The table
 * is append-only, so the transaction says that it erases.
 */
export async function forgetRaw(db: Db, shopId: string, before: Date, limit: number): Promise<number> {
  return db.transaction().execute(async (trx) => {
    await sql`select set_config('afterfit.erasing', 'on', true)`.execute(trx);
    const done = await sql`
      update inbound i set raw = '{"forgotten": true}'
      from (select o.shop_id, o.inbound_id from inbound o
        join inbound_standing s on s.shop_id = o.shop_id and s.inbound_id = o.inbound_id
        where o.shop_id = ${shopId} and o.received_at < ${before} and not (o.raw ? 'forgotten')
          and s.state in ('sorted', 'done')
        order by o.received_at limit ${limit}) old
      where i.shop_id = old.shop_id and i.inbound_id = old.inbound_id`.execute(trx);
    return Number(done.numAffectedRows ?? 0n);
  });
}

export async function inboundIdOf(
  db: Db,
  shopId: string,
  channel: string,
  farId: string,
): Promise<string | undefined> {
  const row = await db
    .selectFrom('inbound')
    .select('inbound_id')
    .where('shop_id', '=', shopId)
    .where('channel', '=', channel)
    .where('far_id', '=', farId)
    .executeTakeFirst();
  return row?.inbound_id;
}

/** Which of these far ids are on record already. */
export async function farIdsThere(
  db: Db,
  shopId: string,
  channel: string,
  farIds: readonly string[],
): Promise<ReadonlySet<string>> {
  if (farIds.length === 0) return new Set();
  const rows = await db
    .selectFrom('inbound')
    .select('far_id')
    .where('shop_id', '=', shopId)
    .where('channel', '=', channel)
    .where('far_id', 'in', [...farIds])
    .execute();
  return new Set(rows.map((row) => row.far_id));
}
