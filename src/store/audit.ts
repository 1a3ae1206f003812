import { newId } from '../ids.ts';
import type { Trx } from './database.ts';

/** Puts on record who did what to whom; never changed afterwards. */
export async function addAudit(
  trx: Trx,
  shopId: string,
  entry: {
    readonly by: string;
    readonly act: string;
    readonly subject: string;
    readonly detail: Readonly<Record<string, unknown>>;
  },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('audit')
    .values({
      shop_id: shopId,
      audit_id: newId(at),
      by_name: entry.by,
      act: entry.act,
      subject: entry.subject,
      detail: JSON.stringify(entry.detail),
      at,
    })
    .execute();
}
