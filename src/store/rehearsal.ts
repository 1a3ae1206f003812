import type { RehearsalStore } from '../channels/rehearsal.ts';
import type { Clock } from '../clock.ts';
import { newId } from '../ids.ts';
import type { Db } from './database.ts';

/** Where the pretend carrier of the invented shop keeps what was sent, each attempt once. */
export function rehearsalStore(db: Db, shopId: string, clock: Clock): RehearsalStore {
  return {
    async putDelivered(row) {
      const at = clock.now();
      const itemId = newId(at);
      await db
        .insertInto('rehearsal_item')
        .values({
          shop_id: shopId,
          item_id: itemId,
          attempt_id: row.attemptId,
          channel: row.channel,
          address: row.to,
          subject: row.subject,
          body: row.text,
          at,
        })
        .onConflict((clash) => clash.columns(['shop_id', 'attempt_id']).doNothing())
        .execute();
      return (await byAttempt(db, shopId, row.attemptId))!.id;
    },
    findByAttempt: (attemptId) => byAttempt(db, shopId, attemptId),
  };
}

async function byAttempt(db: Db, shopId: string, attemptId: string): Promise<{ id: string } | undefined> {
  return db
    .selectFrom('rehearsal_item')
    .select('item_id as id')
    .where('shop_id', '=', shopId)
    .where('attempt_id', '=', attemptId)
    .executeTakeFirst();
}
