import { type Selectable, sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type KeptLink = Selectable<Tables['token']>;

export type NewLink = Pick<KeptLink, 'token_hash' | 'purpose' | 'subject_id' | 'expires_at'>;

export async function keepLinks(db: Db | Trx, shopId: string, links: readonly NewLink[]): Promise<void> {
  if (links.length === 0) return;
  await db
    .insertInto('token')
    .values(links.map((link) => ({ ...link, shop_id: shopId, used_at: null, uses_since: null })))
    .onConflict((clash) => clash.columns(['shop_id', 'token_hash']).doNothing())
    .execute();
}

export async function findLink(
  db: Db,
  shopId: string,
  hash: string,
  purpose: string,
): Promise<KeptLink | undefined> {
  return db
    .selectFrom('token')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('token_hash', '=', hash)
    .where('purpose', '=', purpose)
    .executeTakeFirst();
}

/** Counts one use of a link; false when it was used `most` times in the hour before. */
export async function countUse(db: Db, link: KeptLink, most: number, now: Date): Promise<boolean> {
  const hourAgo = new Date(now.getTime() - 3_600_000);
  const done = await db
    .updateTable('token')
    .set((now_) => ({
      used_at: now,
      uses: sql<number>`case when uses_since is null or uses_since < ${hourAgo} then 1 else ${now_.ref('uses')} + 1 end`,
      uses_since: sql<Date>`case when uses_since is null or uses_since < ${hourAgo} then ${now} else uses_since end`,
    }))
    .where('shop_id', '=', link.shop_id)
    .where('token_hash', '=', link.token_hash)
    .where((or) =>
      or.or([or('uses_since', 'is', null), or('uses_since', '<', hourAgo), or('uses', '<', most)]),
    )
    .executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

/** Removes what ran out before `before`. */
export async function dropLinks(db: Db, before: Date): Promise<number> {
  const done = await db.deleteFrom('token').where('expires_at', '<', before).executeTakeFirst();
  return Number(done.numDeletedRows);
}

export type LinkedMessage = {
  message_id: string;
  wearer_id: string;
  pair_id: string | null;
  case_id: string | null;
  channel: 'text' | 'email';
  address: string;
  asked: unknown;
  created_at: Date;
};

/** The message that a link stood in, with the address that it went to. */
export async function messageOfLink(
  db: Db,
  shopId: string,
  messageId: string,
): Promise<LinkedMessage | undefined> {
  return db
    .selectFrom('message as m')
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'm.shop_id').onRef('c.contact_id', '=', 'm.contact_id'),
    )
    .select([
      'm.message_id',
      'm.wearer_id',
      'm.pair_id',
      'm.case_id',
      'm.channel',
      'c.address',
      'm.asked',
      'm.created_at',
    ])
    .where('m.shop_id', '=', shopId)
    .where('m.message_id', '=', messageId)
    .executeTakeFirst();
}

export type SaidBefore = { inbound_id: string; body: string; raw: unknown };

/** Of these far ids those under which something came by a page, with what it said. */
export async function saidOnPage(
  db: Db,
  shopId: string,
  farIds: readonly string[],
): Promise<ReadonlyMap<string, SaidBefore>> {
  const rows = await db
    .selectFrom('inbound')
    .select(['far_id', 'inbound_id', 'body', 'raw'])
    .where('shop_id', '=', shopId)
    .where('channel', '=', 'page')
    .where('far_id', 'in', [...farIds])
    .execute();
  return new Map(rows.map((row) => [row.far_id, row]));
}

/** True when the wearer's case was closed after a message went out, and none is open now. */
export async function caseClosedSince(
  db: Db,
  shopId: string,
  wearerId: string,
  since: Date,
): Promise<boolean> {
  const rows = await db
    .selectFrom('case_file')
    .select('closed_at')
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .execute();
  if (rows.some((row) => row.closed_at === null)) return false;
  return rows.some((row) => row.closed_at !== null && row.closed_at > since);
}

/** The lens of a pair as far as the wearer's pages speak of it. */
export async function lensOfPair(db: Db, shopId: string, pairId: string) {
  return db
    .selectFrom('pair as p')
    .innerJoin('job as j', (join) =>
      join.onRef('j.shop_id', '=', 'p.shop_id').onRef('j.job_id', '=', 'p.job_id'),
    )
    .innerJoin('lens_design as d', (join) =>
      join.onRef('d.shop_id', '=', 'j.shop_id').onRef('d.design_id', '=', 'j.design_id'),
    )
    .select(['d.kind', 'd.light_reactive', 'j.job_id', 'j.first_multifocal'])
    .where('p.shop_id', '=', shopId)
    .where('p.pair_id', '=', pairId)
    .executeTakeFirst();
}

/** The alarm call that a link of who is on call stood in. */
export async function callOfLink(db: Db, shopId: string, callId: string) {
  return db
    .selectFrom('alarm_call as c')
    .innerJoin('alarm as a', (join) =>
      join.onRef('a.shop_id', '=', 'c.shop_id').onRef('a.alarm_id', '=', 'c.alarm_id'),
    )
    .select(['c.person_name', 'a.alarm_id'])
    .where('c.shop_id', '=', shopId)
    .where('c.call_id', '=', callId)
    .executeTakeFirst();
}
