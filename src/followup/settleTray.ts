import { newId } from '../ids.ts';
import { bad, type Checked, good } from '../problems.ts';
import { LABELS, type Label } from '../replies/types.ts';
import type { Trx } from '../store/database.ts';
import { findWearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';
import { type Inbound, sortAgain } from './sortInbound.ts';

const gone = bad({
  code: 'not-in-tray',
  what: 'This message is no longer in the tray.',
  where: 'tray',
  mend: 'Somebody has settled it; load the page again.',
});

/** A person says whose message it is: it is then sorted as if it had been linked so from the start. */
export async function linkFromTray(
  shell: Shell,
  shopId: string,
  inboundId: string,
  wearerId: string,
): Promise<Checked<null>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const inbound = await inTray(trx, shopId, inboundId);
    if (!inbound) return gone;
    if (!(await findWearer(trx, shopId, wearerId))) {
      return bad({
        code: 'no-wearer',
        what: 'There is no such wearer.',
        where: 'wearer_id',
        mend: 'Choose one of the list.',
      });
    }
    await sortAgain(trx, shopId, inbound, { wearerId }, now);
    return good(null);
  });
}

/** A person corrects what was read; the correction is kept beside the reading, and what follows from it is done. */
export async function correctLabels(
  shell: Shell,
  shopId: string,
  inboundId: string,
  labels: readonly string[],
  why: string | null,
  by: string,
): Promise<Checked<null>> {
  const unknown = labels.filter((label) => !(LABELS as readonly string[]).includes(label));
  if (unknown.length > 0) {
    return bad({
      code: 'unknown-label',
      what: `“${unknown[0]}” is no label.`,
      where: 'labels',
      mend: 'Choose from the list.',
    });
  }
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const inbound = await inTray(trx, shopId, inboundId);
    if (!inbound) return gone;
    const before = await trx
      .selectFrom('reading')
      .select('labels')
      .where('shop_id', '=', shopId)
      .where('inbound_id', '=', inboundId)
      .orderBy('at', 'desc')
      .limit(1)
      .executeTakeFirst();
    await trx
      .insertInto('correction')
      .values({
        shop_id: shopId,
        correction_id: newId(now),
        inbound_id: inboundId,
        labels_before: before?.labels ?? [],
        labels_after: [...labels],
        why,
        by_name: by,
        at: now,
      })
      .execute();
    await sortAgain(trx, shopId, inbound, { labels: labels as readonly Label[] }, now);
    return good(null);
  });
}

/** A person has looked at it and nothing more follows. */
export async function doneWithTray(shell: Shell, shopId: string, inboundId: string): Promise<Checked<null>> {
  const done = await shell.db
    .updateTable('inbound_standing')
    .set({ state: 'done' })
    .where('shop_id', '=', shopId)
    .where('inbound_id', '=', inboundId)
    .where('state', '=', 'tray')
    .executeTakeFirst();
  return done.numUpdatedRows === 1n ? good(null) : gone;
}

async function inTray(trx: Trx, shopId: string, inboundId: string): Promise<Inbound | undefined> {
  const row = await trx
    .selectFrom('inbound_standing as s')
    .innerJoin('inbound as i', (join) =>
      join.onRef('i.shop_id', '=', 's.shop_id').onRef('i.inbound_id', '=', 's.inbound_id'),
    )
    .select(['i.channel', 'i.from_address', 'i.body', 'i.raw', 'i.received_at', 's.wearer_id'])
    .where('s.shop_id', '=', shopId)
    .where('s.inbound_id', '=', inboundId)
    .where('s.state', '=', 'tray')
    .executeTakeFirst();
  if (!row) return undefined;
  const raw = typeof row.raw === 'object' && row.raw !== null ? row.raw : {};
  return {
    inboundId,
    channel: row.channel,
    from: row.from_address,
    body: row.body,
    raw: row.wearer_id === null ? raw : { ...raw, wearerId: row.wearer_id },
    receivedAt: row.received_at,
  };
}
