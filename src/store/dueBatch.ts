import { sql } from 'kysely';
import type { Trx } from './database.ts';
import type { CheckIn } from './plans.ts';
import type { ReachableContact, Wearer } from './wearers.ts';

/* What is read and written of many wearers at once, when their check-ins are due: one statement for all instead of one each. */

/** Locks wearers for one piece of work, in the order of their ids; whoever is locked by another is left out. */
export async function lockWearers(trx: Trx, shopId: string, wearerIds: readonly string[]): Promise<Wearer[]> {
  return trx
    .selectFrom('wearer')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where(isOneOf('wearer_id', wearerIds))
    .orderBy('wearer_id')
    .forUpdate()
    .skipLocked()
    .execute();
}

export async function dueCheckInsOf(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
  now: Date,
): Promise<CheckIn[]> {
  return trx
    .selectFrom('check_in as c')
    .innerJoin('plan as p', (join) =>
      join.onRef('p.shop_id', '=', 'c.shop_id').onRef('p.pair_id', '=', 'c.pair_id'),
    )
    .selectAll('c')
    .where('c.shop_id', '=', shopId)
    .where(isOneOf('c.wearer_id', wearerIds))
    .where('c.state', '=', 'planned')
    .where('c.due_at', '<=', now)
    .where((or) =>
      or.or([
        or('p.state', '=', 'running'),
        or.and([or('p.state', '=', 'paused'), or('c.kind', '=', 'have they come')]),
      ]),
    )
    .execute();
}

/** Contacts that the wearers agreed to and that can be used, in the order in which they came on record. */
export async function usableContacts(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
): Promise<(ReachableContact & { wearer_id: string; written_to: boolean })[]> {
  return trx
    .selectFrom('wearer_contact as wc')
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'wc.shop_id').onRef('c.contact_id', '=', 'wc.contact_id'),
    )
    .select((col) => [
      'wc.wearer_id',
      'c.contact_id',
      'c.channel',
      'c.address',
      'wc.consent',
      'c.unusable_why',
      col
        .exists(
          col
            .selectFrom('message as m')
            .select('m.message_id')
            .whereRef('m.shop_id', '=', 'wc.shop_id')
            .whereRef('m.wearer_id', '=', 'wc.wearer_id')
            .whereRef('m.contact_id', '=', 'wc.contact_id'),
        )
        .$castTo<boolean>()
        .as('written_to'),
    ])
    .where('wc.shop_id', '=', shopId)
    .where(isOneOf('wc.wearer_id', wearerIds))
    .where('wc.consent', '=', 'given')
    .where('c.unusable_why', 'is', null)
    .orderBy('c.created_at')
    .execute();
}

export type WearerLately = {
  wearer_id: string;
  /** Instants of unasked messages since then, newest first. */
  unasked_at: Date[];
  last_inbound_at: Date | null;
  /** A person holds an open case of the wearer; '' when it is a danger sign that waits for one. */
  held_by: string | null;
};

/** What went on with each wearer since an instant. */
export async function wearersLately(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
  since: Date,
): Promise<WearerLately[]> {
  const found = await sql<WearerLately>`
    select w.wearer_id,
      array(select m.created_at from message m
        where m.shop_id = ${shopId} and m.wearer_id = w.wearer_id and m.unasked and m.created_at >= ${since}
        order by m.created_at desc) as unasked_at,
      (select max(s.received_at) from inbound_standing s
        where s.shop_id = ${shopId} and s.wearer_id = w.wearer_id) as last_inbound_at,
      (select coalesce(c.held_by, '') from case_file c
        where c.shop_id = ${shopId} and c.wearer_id = w.wearer_id and c.closed_at is null
          and (c.held_by is not null or c.danger) limit 1) as held_by
    from unnest(${[...wearerIds]}::text[]) as w (wearer_id)`.execute(trx);
  return found.rows;
}

export async function pairsToAskAbout(trx: Trx, shopId: string, pairIds: readonly string[]) {
  return trx
    .selectFrom('pair as p')
    .innerJoin('job as j', (join) =>
      join.onRef('p.shop_id', '=', 'j.shop_id').onRef('p.job_id', '=', 'j.job_id'),
    )
    .innerJoin('lens_design as d', (join) =>
      join.onRef('d.shop_id', '=', 'j.shop_id').onRef('d.design_id', '=', 'j.design_id'),
    )
    .select(['p.pair_id', 'j.way', 'j.first_multifocal', 'd.light_reactive', 'p.replaces_pair_id'])
    .where('p.shop_id', '=', shopId)
    .where(isOneOf('p.pair_id', pairIds))
    .execute();
}

/** Check-ins whose messages are on record. */
export async function claimCheckIns(
  trx: Trx,
  shopId: string,
  written: readonly { readonly checkInId: string; readonly messageId: string }[],
): Promise<void> {
  if (written.length === 0) return;
  await sql`
    update check_in c set state = 'claimed', why = null, message_id = v.message_id
    from unnest(${written.map((one) => one.checkInId)}::text[], ${written.map((one) => one.messageId)}::text[])
      as v (check_in_id, message_id)
    where c.shop_id = ${shopId} and c.check_in_id = v.check_in_id and c.state = 'planned'`.execute(trx);
}

/** Check-ins that wait until an instant of their own, each for a reason of its own. */
export async function postponeCheckIns(
  trx: Trx,
  shopId: string,
  later: readonly { readonly checkInId: string; readonly until: Date; readonly why: string }[],
): Promise<void> {
  if (later.length === 0) return;
  await sql`
    update check_in c set due_at = v.until, why = v.why
    from unnest(${later.map((one) => one.checkInId)}::text[], ${later.map((one) => one.until)}::timestamptz[],
      ${later.map((one) => one.why)}::text[]) as v (check_in_id, until, why)
    where c.shop_id = ${shopId} and c.check_in_id = v.check_in_id and c.state = 'planned'`.execute(trx);
}

/** One parameter however many ids there are, so that the statement is the same for each number of them. */
const isOneOf = (column: string, ids: readonly string[]) =>
  sql<boolean>`${sql.ref(column)} = any(${[...ids]}::text[])`;
