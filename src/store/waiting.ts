import { sql } from 'kysely';
import type { Db } from './database.ts';

/** What waits in a shop: counts only, for whoever watches the process. */
export async function waitingIn(db: Db, shopId: string, now: Date): Promise<Record<string, number>> {
  const found = await sql<{
    messages: number;
    unsure: number;
    unsorted: number;
    tray: number;
    alarms: number;
  }>`
    select
      (select count(*) from attempt where shop_id = ${shopId} and state in ('planned', 'claimed')
        and send_at <= ${now}) as messages,
      (select count(*) from attempt where shop_id = ${shopId} and state in ('handed over', 'unsure')
        and lease_until is not null) as unsure,
      (select count(*) from inbound_standing where shop_id = ${shopId} and state = 'raw') as unsorted,
      (select count(*) from inbound_standing where shop_id = ${shopId} and state = 'tray') as tray,
      (select count(*) from alarm where shop_id = ${shopId} and ended_at is null) as alarms`.execute(db);
  return { ...found.rows[0] };
}
