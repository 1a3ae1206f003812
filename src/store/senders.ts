import { type RawBuilder, sql } from 'kysely';
import type { Trx } from './database.ts';
import type { Pair } from './jobs.ts';
import type { Plan } from './plans.ts';
import type { ChannelKind, Consent } from './tables.ts';

export type QuestionAsked = {
  message_id: string;
  asked: unknown;
  created_at: Date;
  pair_id: string | null;
  case_id: string | null;
};

/** The newest question that was put to a wearer and may have arrived, narrowed further by `also`. */
const newestQuestion = (shopId: string, wearerId: RawBuilder<unknown>, also: RawBuilder<unknown>) => sql`
  select m.message_id, m.asked, m.created_at, m.pair_id, m.case_id from message m
  where m.shop_id = ${shopId} and m.wearer_id = ${wearerId} and m.asked is not null and ${also}
    and exists (select from attempt a where a.shop_id = m.shop_id and a.message_id = m.message_id
      and a.state in ('handed over', 'accepted', 'unsure', 'delivered'))
  order by m.created_at desc limit 1`;

export type MayHaveWritten = {
  readonly contact_id: string;
  /** Null: the address is on record and belongs to nobody. */
  readonly wearer_id: string | null;
  /** They were asked something there and have not written since. */
  readonly has_open_question: boolean;
  readonly newest_pair: Pick<Pair, 'pair_id' | 'first_worn_on'> | null;
};

/** Everyone who may write from an address, each with whether an answer is waited for and with their newest pair. */
export async function wearersAt(
  trx: Trx,
  shopId: string,
  channel: ChannelKind,
  address: string,
): Promise<MayHaveWritten[]> {
  const found = await sql<MayHaveWritten>`
    select c.contact_id, wc.wearer_id,
      coalesce((select not exists (select from inbound_standing s
          where s.shop_id = ${shopId} and s.wearer_id = wc.wearer_id and s.received_at > q.created_at)
        from (${newestQuestion(shopId, sql`wc.wearer_id`, sql`m.contact_id = c.contact_id`)}) q), false)
        as has_open_question,
      (select json_build_object('pair_id', pair_id, 'first_worn_on', first_worn_on) from pair
        where shop_id = ${shopId} and wearer_id = wc.wearer_id order by first_worn_on desc limit 1) as newest_pair
    from contact_point c
    left join wearer_contact wc on wc.shop_id = c.shop_id and wc.contact_id = c.contact_id
    where c.shop_id = ${shopId} and c.channel = ${channel} and c.address = ${address}`.execute(trx);
  return found.rows;
}

export type StandsWithWearer = {
  readonly asked: QuestionAsked | undefined;
  /** The newest words that were on record for them when the message came. */
  readonly lastSent: string | undefined;
  readonly plan: Pick<Plan, 'state' | 'why'> | undefined;
  /** What they have agreed to at the address that it came from. */
  readonly consent: Consent | undefined;
};

/** How things stood with a wearer when a message of theirs came in; read once they are locked. */
export async function standsWithWearer(
  trx: Trx,
  shopId: string,
  wearerId: string,
  { pairId, contactId }: { readonly pairId: string | null; readonly contactId: string | null },
  receivedAt: Date,
): Promise<StandsWithWearer> {
  const found = await sql<
    { [Key in keyof QuestionAsked]: QuestionAsked[Key] | null } & {
      last_sent: string | null;
      plan: Pick<Plan, 'state' | 'why'> | null;
      consent: Consent | null;
    }
  >`
    select q.*,
      (select body from message m
        where m.shop_id = ${shopId} and m.wearer_id = ${wearerId} and m.created_at <= ${receivedAt}
        order by m.created_at desc limit 1) as last_sent,
      (select json_build_object('state', p.state, 'why', p.why) from plan p
        where p.shop_id = ${shopId} and p.pair_id = ${pairId}) as plan,
      (select wc.consent from wearer_contact wc where wc.shop_id = ${shopId}
        and wc.wearer_id = ${wearerId} and wc.contact_id = ${contactId}) as consent
    from (select) one
    left join (${newestQuestion(shopId, sql`${wearerId}`, sql`m.created_at <= ${receivedAt}`)}) q on true`.execute(
    trx,
  );
  const { last_sent, plan, consent, ...asked } = found.rows[0]!;
  return {
    asked: asked.message_id === null ? undefined : (asked as QuestionAsked),
    lastSent: last_sent ?? undefined,
    plan: plan ?? undefined,
    consent: consent ?? undefined,
  };
}
