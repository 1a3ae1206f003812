import type { Db } from '../database.ts';

/** Everything that was written in and out for a wearer, newest first, up to `limit` each. */
export async function talkOf(db: Db, shopId: string, wearerId: string, limit = 60) {
  const inbound = await db
    .selectFrom('inbound_standing as s')
    .innerJoin('inbound as i', (join) =>
      join.onRef('i.shop_id', '=', 's.shop_id').onRef('i.inbound_id', '=', 's.inbound_id'),
    )
    .select(['i.inbound_id', 'i.body', 'i.channel', 'i.received_at', 's.state', 's.tray_why'])
    .where('s.shop_id', '=', shopId)
    .where('s.wearer_id', '=', wearerId)
    .orderBy('s.received_at', 'desc')
    .limit(limit)
    .execute();
  const messages = await db
    .selectFrom('message as m')
    .leftJoin('attempt as a', (join) =>
      join.onRef('a.shop_id', '=', 'm.shop_id').onRef('a.message_id', '=', 'm.message_id'),
    )
    .select([
      'm.message_id',
      'm.body',
      'm.channel',
      'm.created_at',
      'm.written_by',
      'm.purpose',
      'a.state',
      'a.why',
      'a.send_at',
      'a.number',
    ])
    .where('m.shop_id', '=', shopId)
    .where('m.wearer_id', '=', wearerId)
    .orderBy('m.created_at', 'desc')
    .orderBy('a.number', 'desc')
    .limit(limit)
    .execute();
  const ids = inbound.map((row) => row.inbound_id);
  const readings =
    ids.length === 0
      ? []
      : await db
          .selectFrom('reading')
          .select(['inbound_id', 'labels', 'bare_answer', 'asks', 'spans', 'left_over', 'at'])
          .where('shop_id', '=', shopId)
          .where('inbound_id', 'in', ids)
          .orderBy('at')
          .execute();
  const corrections =
    ids.length === 0
      ? []
      : await db
          .selectFrom('correction')
          .select(['inbound_id', 'by_name', 'at'])
          .where('shop_id', '=', shopId)
          .where('inbound_id', 'in', ids)
          .orderBy('at')
          .execute();
  return { inbound, messages, readings, corrections };
}

/** What was done on a case, oldest first. */
export async function eventsOf(db: Db, shopId: string, caseId: string) {
  return db
    .selectFrom('case_event')
    .select(['event_id', 'kind', 'detail', 'by_name', 'at'])
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .orderBy('at')
    .orderBy('event_id')
    .execute();
}

export async function newestRanking(db: Db, shopId: string, caseId: string) {
  return db
    .selectFrom('ranking_snapshot')
    .select(['facts', 'weighing', 'catalogue_version', 'at', 'labels'])
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .orderBy('at', 'desc')
    .limit(1)
    .executeTakeFirst();
}

export async function trayCountOf(db: Db, shopId: string, wearerId: string): Promise<number> {
  const row = await db
    .selectFrom('inbound_standing')
    .select((count) => count.fn.countAll<number>().as('n'))
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('state', '=', 'tray')
    .executeTakeFirstOrThrow();
  return row.n;
}
