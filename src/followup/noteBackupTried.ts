import { addAudit } from '../store/audit.ts';
import { noteTick } from '../store/shopTicks.ts';
import type { Shell } from './shell.ts';

/** A backup was written, opened again, put into a scratch database, and what came out was what had been put in. */
export async function noteBackupTried(
  { db, clock }: Pick<Shell, 'db' | 'clock'>,
  shopId: string,
  told: { readonly rows: number },
): Promise<void> {
  const now = clock.now();
  await db.transaction().execute(async (trx) => {
    await noteTick(trx, shopId, 'backup tried', 'afterfit backup', `${told.rows} rows came back whole`, now);
    await addAudit(
      trx,
      shopId,
      { by: 'afterfit backup', act: 'backup tried', subject: shopId, detail: told },
      now,
    );
  });
}
