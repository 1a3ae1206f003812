import { sql } from 'kysely';
import type { Db } from '../store/database.ts';

/**
 * Records that were put back do not know what was sent after the copy was made. Nobody gets the same question twice: check-ins that fell
 * due since then are passed over, and messages that waited then are unsure, so that the carrier is asked, cautions go
 * again, and others are left as "may not have arrived".
 */
export async function afterRestore(db: Db, now: Date): Promise<{ passedOver: number; unsure: number }> {
  return db.transaction().execute(async (trx) => {
    const passed = await sql`
      update check_in set state = 'passed over',
        why = 'the records were put back from a copy; it may have been asked since'
      where state in ('planned', 'claimed') and due_at <= ${now}`.execute(trx);
    const unsure = await sql`
      update attempt set state = 'unsure', handed_over_at = coalesce(handed_over_at, send_at), lease_until = ${now},
        why = 'the records were put back from a copy'
      where state in ('planned', 'claimed') and send_at <= ${now}`.execute(trx);
    return { passedOver: Number(passed.numAffectedRows ?? 0), unsure: Number(unsure.numAffectedRows ?? 0) };
  });
}
