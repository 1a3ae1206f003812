import { newId } from '../ids.ts';
import { sortReply } from '../replies/sortReply.ts';
import type { AskedQuestion, Label, Locale, Reading } from '../replies/types.ts';
import type { Trx } from '../store/database.ts';
import { claimRaw } from '../store/inbound.ts';
import { findShop } from '../store/shops.ts';
import type { ChannelKind } from '../store/tables.ts';
import { changeConsent, lockWearer } from '../store/wearers.ts';
import { applyToPlan } from './applyToPlan.ts';
import { joinCase } from './joinCase.ts';
import { type Linked, link, newestQuestion, type Sender } from './link.ts';
import { localDay } from './planSlots.ts';
import { sendAtOnce } from './sendAtOnce.ts';
import type { Shell } from './shell.ts';
import { CHECK_IN_ANSWERS, opensCase } from './troubles.ts';
import { WHAT_IS_NOT_RIGHT_LABELS, whatIsNotRight } from './whatIsNotRight.ts';

/** A bare answer to a question older than this is not read: the question is asked again. */
export const QUESTION_STANDS_MS = 48 * 3_600_000;

export type Inbound = {
  readonly inboundId: string;
  readonly channel: string;
  readonly from: string;
  readonly body: string;
  readonly raw: unknown;
  readonly receivedAt: Date;
};

/** What a tap answer stands for, by question; answers to questions about causes are facts and not labels. */
const BARE_ANSWERS: Readonly<Record<string, Readonly<Record<string, readonly Label[]>>>> = {
  'check-in': CHECK_IN_ANSWERS,
  [whatIsNotRight.id]: WHAT_IS_NOT_RIGHT_LABELS,
  'have-they-come': { b: ['not-arrived'], no: ['not-arrived'] },
  'ring-you': { yes: ['wants-contact'] },
};

/** A reading with what a bare answer stood for put among the labels. */
export type Understood = Omit<Reading, 'labels'> & { readonly labels: readonly Label[] };

/**
 * Sorts one stored message, in one transaction: whose it is, what it says, what follows for consent, plan and case, and
 * what is answered at once. A crash leaves it raw, and it is sorted again.
 */
export async function sortInbound(shell: Shell, shopId: string, inboundId: string): Promise<void> {
  const now = shell.clock.now();
  await shell.db.transaction().execute(async (trx) => {
    const row = await claimRaw(trx, shopId, inboundId);
    if (!row) return;
    const inbound: Inbound = {
      inboundId,
      channel: row.channel,
      from: row.from_address,
      body: row.body,
      raw: row.raw,
      receivedAt: row.received_at,
    };
    await sortOne(trx, shopId, inbound, now);
  });
}

export type ToldByPerson = { readonly wearerId?: string; readonly labels?: readonly Label[] };

/** Sorts a message of the tray again, with what a person has said about it: whose it is, or what it says. */
export async function sortAgain(
  trx: Trx,
  shopId: string,
  inbound: Inbound,
  told: ToldByPerson,
  now: Date,
): Promise<void> {
  const raw = typeof inbound.raw === 'object' && inbound.raw !== null ? inbound.raw : {};
  const known =
    told.wearerId === undefined ? inbound : { ...inbound, raw: { ...raw, wearerId: told.wearerId } };
  await sortOne(trx, shopId, known, now, told);
}

async function sortOne(
  trx: Trx,
  shopId: string,
  inbound: Inbound,
  now: Date,
  told?: ToldByPerson,
): Promise<void> {
  const shop = await findShop(trx, shopId);
  const linked = await link(trx, shopId, senderOf(inbound), localDay(now, shop.time_zone));
  const wearer = linked.wearerId === null ? undefined : await lockWearer(trx, shopId, linked.wearerId);
  const asked =
    wearer && (await newestQuestion(trx, shopId, wearer.wearer_id, undefined, inbound.receivedAt));
  const reading = understand(
    sortReply({
      text: inbound.body,
      asked: asked?.asked as AskedQuestion | undefined,
      locale: wearer ? (wearer.locale as Locale) : undefined,
    }),
  );
  const stale =
    reading.bareAnswer !== undefined &&
    asked !== undefined &&
    inbound.receivedAt.getTime() - asked.created_at.getTime() > QUESTION_STANDS_MS;
  const understood = corrected(stale ? { ...reading, labels: [] } : reading, told?.labels);
  await keepReading(trx, shopId, inbound.inboundId, understood, now);
  const silenced = await hadSaidStop(trx, shopId, linked);
  await applyConsent(trx, shopId, inbound, linked, understood, now);

  const trayWhy = told === undefined ? whyTray(inbound, linked, understood, stale, silenced) : linked.trayWhy;
  let caseId: string | null = null;
  if (wearer && linked.pairId !== null) {
    await applyToPlan(trx, shopId, wearer, linked.pairId, understood, inbound, now);
    if (understood.urgent || understood.labels.some(opensCase) || (understood.bareAnswer && !stale)) {
      caseId = await joinCase(trx, shop, wearer, linked.pairId, inbound, understood, asked, now);
    }
  }
  await sendAtOnce(trx, shop, linked, inbound, understood, now);
  await trx
    .updateTable('inbound_standing')
    .set({
      state: trayWhy === null ? 'sorted' : 'tray',
      wearer_id: linked.wearerId,
      pair_id: linked.pairId,
      case_id: caseId,
      linked_how: linked.how,
      tray_why: trayWhy,
      answer_state: wantsAnswer(understood, linked, stale) ? 'waiting' : 'none',
    })
    .where('shop_id', '=', shopId)
    .where('inbound_id', '=', inbound.inboundId)
    .execute();
}

/** A person's labels stand in place of what was read; danger and stop follow from them. */
function corrected(reading: Understood, labels: readonly Label[] | undefined): Understood {
  if (labels === undefined) return reading;
  return {
    ...reading,
    labels,
    urgent: labels.includes('urgent-eye') || labels.includes('fall-or-injury'),
    stop: labels.includes('stop'),
    stopDoubtful: false,
    spans: reading.spans.filter((span) => (labels as readonly string[]).includes(span.label)),
    leftOver: [],
  };
}

/** What the carrier, mailbox or page told about the sender beside the address. */
function senderOf(inbound: Inbound): Sender {
  const raw = (typeof inbound.raw === 'object' && inbound.raw !== null ? inbound.raw : {}) as Record<
    string,
    unknown
  >;
  return {
    channel: inbound.channel,
    from: inbound.from,
    ...(typeof raw.replyToken === 'string' ? { replyToken: raw.replyToken } : {}),
    ...(Array.isArray(raw.inReplyTo)
      ? { inReplyTo: raw.inReplyTo.filter((id): id is string => typeof id === 'string') }
      : {}),
    ...(typeof raw.wearerId === 'string' ? { wearerId: raw.wearerId } : {}),
  };
}

function understand(reading: Reading): Understood {
  if (!reading.bareAnswer) return reading;
  const { questionId, answer } = reading.bareAnswer;
  const meant = BARE_ANSWERS[questionId]?.[answer] ?? [];
  return { ...reading, labels: [...new Set([...reading.labels, ...meant])] };
}

async function keepReading(
  trx: Trx,
  shopId: string,
  inboundId: string,
  reading: Understood,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('reading')
    .values({
      shop_id: shopId,
      reading_id: newId(at),
      inbound_id: inboundId,
      labels: [...reading.labels],
      asks: [...reading.asks],
      urgent: reading.urgent,
      stop: reading.stop,
      spans: JSON.stringify(reading.spans),
      left_over: JSON.stringify(reading.leftOver),
      bare_answer: reading.bareAnswer ? JSON.stringify(reading.bareAnswer) : null,
      extent: JSON.stringify(reading.extent),
      sorter_version: reading.sorterVersion,
      at,
    })
    .execute();
}

/** A stop counts for everyone who may have written it; words that name one channel stop that one, others stop all. */
async function applyConsent(
  trx: Trx,
  shopId: string,
  inbound: Inbound,
  linked: Linked,
  reading: Understood,
  now: Date,
): Promise<void> {
  if (reading.stopDoubtful) {
    for (const wearerId of linked.possible) {
      await holdAutomatic(trx, shopId, wearerId, 'words that may mean stop: a person decides');
    }
  }
  const change = reading.stop ? 'withdrawn' : reading.labels.includes('resume') ? 'given' : undefined;
  if (change === undefined) return;
  // Nobody agrees for the other one of a couple: a start counts for whom it is known to be from.
  const whose = change === 'withdrawn' ? linked.possible : linked.wearerId === null ? [] : [linked.wearerId];
  const channels: readonly ChannelKind[] =
    change === 'given'
      ? channelsOf(inbound.channel)
      : reading.stopChannel
        ? [reading.stopChannel]
        : ['text', 'email'];
  const basis = `the wearer's own words by ${inbound.channel}`;
  for (const wearerId of whose) {
    await changeConsent(
      trx,
      shopId,
      { wearerId, channels, act: change, basis, words: inbound.body, by: 'the wearer' },
      now,
    );
  }
}

const channelsOf = (channel: string): ChannelKind[] =>
  channel === 'email' ? ['email'] : channel === 'text' ? ['text'] : ['text', 'email'];

async function hadSaidStop(trx: Trx, shopId: string, linked: Linked): Promise<boolean> {
  if (linked.wearerId === null || linked.contactId === null) return false;
  const row = await trx
    .selectFrom('wearer_contact')
    .select('consent')
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', linked.wearerId)
    .where('contact_id', '=', linked.contactId)
    .executeTakeFirst();
  return row?.consent === 'withdrawn';
}

async function holdAutomatic(trx: Trx, shopId: string, wearerId: string, why: string): Promise<void> {
  await trx
    .updateTable('wearer')
    .set({ automatic_held_why: why })
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .execute();
}

/** Everything that is not wholly accounted for is looked at by a person. */
function whyTray(
  inbound: Inbound,
  linked: Linked,
  reading: Understood,
  stale: boolean,
  silenced: boolean,
): string | null {
  if (linked.trayWhy !== null) return linked.trayWhy;
  if (reading.stopDoubtful) return 'may mean stop';
  if (reading.labels.includes('wrong-number')) return 'says that it is the wrong number';
  if (silenced && reading.labels.includes('help'))
    return 'comes from someone who said stop and asks who writes';
  if (inbound.body.trim() === '') return 'picture or voice only';
  if (stale) return null;
  if (reading.leftOver.length > 0) return 'weighty words left over';
  const read = reading.labels.length > 0 || reading.asks.length > 0 || reading.bareAnswer !== undefined;
  return read ? null : 'no label';
}

function wantsAnswer(reading: Understood, linked: Linked, stale: boolean): boolean {
  if (linked.wearerId === null || reading.stop || reading.stopDoubtful || reading.urgent) return false;
  if (reading.labels.includes('wrong-number') || reading.labels.includes('help')) return false;
  return stale || reading.labels.length > 0 || reading.asks.length > 0 || reading.bareAnswer !== undefined;
}
