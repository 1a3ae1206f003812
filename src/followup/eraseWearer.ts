import { sql } from 'kysely';
import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Trx } from '../store/database.ts';
import { addErased, addressHash, messageHash } from '../store/erased.ts';
import { dropEmptyFiles } from '../store/toSign.ts';
import {
  idsOfWearer,
  isOfWearer,
  ownAddresses,
  tablesOfWearers,
  type WearerIds,
} from '../store/wearerRecords.ts';
import { findWearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';

/**
 * Erases one wearer on request. What is said, measured, asked and answered goes, with name, numbers and addresses. What stays tells
 * nobody who it was and keeps the review's counts right: that there was a pair of a design, from a lab, on which days, with
 * which cause and which outcome. Addresses and messages stay as hashes, so that no old file, list or journal brings them
 * back and nobody messages them again.
 */
export async function eraseWearer(
  shell: Pick<Shell, 'db' | 'clock' | 'journal'>,
  shopId: string,
  wearerId: string,
  typedName: string,
  by: string,
): Promise<Checked<{ rows: number }>> {
  const now = shell.clock.now();
  const done = await shell.db.transaction().execute(async (trx) => {
    const wearer = await findWearer(trx, shopId, wearerId);
    if (!wearer || wearer.zone_how === ERASED)
      return bad({
        code: 'no-wearer',
        what: 'There is no such wearer.',
        where: 'name',
        mend: 'Open it again from Wearers.',
      });
    if (typedName.trim() !== wearer.name)
      return bad({
        code: 'name',
        what: `That is not the name on record.`,
        where: 'name',
        mend: `Type “${wearer.name}” to erase all of it.`,
      });
    const ids = await idsOfWearer(trx, shopId, wearerId);
    const addresses = await ownAddresses(trx, shopId, wearerId);
    const messages = await messagesOf(trx, shopId, ids);
    await addErased(
      trx,
      shopId,
      'address',
      await Promise.all(addresses.map((one) => addressHash(shopId, one.address))),
      now,
    );
    await addErased(
      trx,
      shopId,
      'message',
      messages.map((one) => messageHash(one.channel, one.far_id)),
      now,
    );
    // The append-only tables let go of rows in this transaction only.
    await sql`select set_config('afterfit.erasing', 'on', true)`.execute(trx);
    let rows = 0;
    for (const { name, columns } of (await tablesOfWearers(trx)).reverse()) {
      const mine = isOfWearer(shopId, columns, ids);
      const blanked = KEPT[name];
      if (blanked === 'as it is') continue;
      const changed = blanked
        ? await sql`update ${sql.table(name)} set ${blanked(now)} where ${mine}`.execute(trx)
        : await sql`delete from ${sql.table(name)} where ${mine}`.execute(trx);
      rows += Number(changed.numAffectedRows ?? 0);
    }
    await dropEmptyFiles(trx, shopId);
    await sql`update audit set detail = '{}' where shop_id = ${shopId} and subject = any (${[
      ...ids.subject_id,
      ...ids.contact_id,
    ]})`.execute(trx);
    await sql`delete from rehearsal_item where shop_id = ${shopId}
      and address = any (${addresses.map((one) => one.address)})`.execute(trx);
    await addAudit(trx, shopId, { by, act: 'wearer erased', subject: wearerId, detail: { rows } }, now);
    return good({ rows, messages });
  });
  if (!done.ok) return done;
  const gone = new Set(done.value.messages.map((one) => `${one.channel} ${one.far_id}`));
  shell.journal.forgetMessages?.((message) => gone.has(`${message.channel} ${message.farId}`));
  return good({ rows: done.value.rows });
}

const ERASED = 'erased';

/** What stays of a table, emptied of what could tell who it was; every other table loses its rows. */
const KEPT: Readonly<Record<string, 'as it is' | ((now: Date) => ReturnType<typeof sql>)>> = {
  wearer:
    () => sql`name = ${ERASED}, prefers = 'phone', time_zone = null, zone_candidates = '{}', zone_how = ${ERASED},
    country = null, region = null, postcode = null, birth_year = null, automatic_held_why = ${ERASED}`,
  // The job's number stays, so that the same file taken in again finds it here.
  job: () => sql`as_taken = '{}', to_sign_id = null`,
  pair: 'as it is',
  plan: () => sql`state = 'ended'`,
  check_in:
    () => sql`state = case when state in ('planned', 'claimed', 'to ring') then 'dropped' else state end,
    message_id = null, why = ${ERASED}`,
  case_file: (now) => sql`held_by = null, leading_why = null, act_why = null, question = null,
    newest_inbound_id = null, danger = false, closed_at = coalesce(closed_at, ${now})`,
  claim_on_lab: () => sql`reason = ${ERASED}`,
  outcome: 'as it is',
  deadline_notice: 'as it is',
  weight_move: () => sql`why = null`,
};

async function messagesOf(
  trx: Trx,
  shopId: string,
  ids: WearerIds,
): Promise<{ channel: string; far_id: string }[]> {
  const found = await sql<{ channel: string; far_id: string }>`
    select channel, far_id from inbound where shop_id = ${shopId} and inbound_id = any (${ids.inbound_id})`.execute(
    trx,
  );
  return found.rows;
}
