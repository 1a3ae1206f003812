import type { Updateable } from 'kysely';
import { decideStop, type StopDecision } from '../channels/optOut.ts';
import { newId } from '../ids.ts';
import { sortReply } from '../replies/sortReply.ts';
import type { AskedQuestion, Label, Locale, Reading } from '../replies/types.ts';
import type { AlarmSubject } from '../store/alarms.ts';
import type { Trx } from '../store/database.ts';
import { claimRaw } from '../store/inbound.ts';
import { putPictures } from '../store/pictures.ts';
import { type QuestionAsked, standsWithWearer } from '../store/senders.ts';
import { findShop, type Shop } from '../store/shops.ts';
import type { Tables } from '../store/tables.ts';
import { changeConsent, lockWearer } from '../store/wearers.ts';
import { raiseDanger, soundAlarms } from './alarm.ts';
import { applyToPlan } from './applyToPlan.ts';
import { isHello, takeHello } from './helloFromCard.ts';
import { joinCase } from './joinCase.ts';
import { type Linked, link, type Sender } from './link.ts';
import { localDay } from './planSlots.ts';
import { sendAtOnce } from './sendAtOnce.ts';
import type { Shell } from './shell.ts';
import { belongsInCase, CHECK_IN_ANSWERS } from './troubles.ts';
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
  const danger = await shell.db.transaction().execute(async (trx) => {
    const row = await claimRaw(trx, shopId, inboundId);
    if (!row) return undefined;
    const inbound: Inbound = {
      inboundId,
      channel: row.channel,
      from: row.from_address,
      body: row.body,
      raw: row.raw,
      receivedAt: row.received_at,
    };
    return sortOne(trx, row, inbound, now);
  });
  if (!danger) return;
  try {
    await soundAlarms(shell, danger);
  } catch (error) {
    // The alarm is on record, and the next tick sounds it.
    shell.log.error(
      { shop: shopId, inbound: inboundId, error: String(error) },
      'an alarm waits for the tick',
    );
  }
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
  await sortOne(trx, await findShop(trx, shopId), known, now, told);
}

/** Returns what an alarm was raised about, where the message tells of danger. */
async function sortOne(
  trx: Trx,
  shop: Shop,
  inbound: Inbound,
  now: Date,
  told?: ToldByPerson,
): Promise<AlarmSubject | undefined> {
  const shopId = shop.shop_id;
  const linked = await link(trx, shopId, senderOf(inbound), localDay(now, shop.time_zone));
  const wearer = linked.wearerId === null ? undefined : await lockWearer(trx, shopId, linked.wearerId);
  const onPage = wearer && (await questionOnPage(trx, shopId, wearer.wearer_id, inbound));
  const stood = wearer && (await standsWithWearer(trx, shopId, wearer.wearer_id, linked, inbound.receivedAt));
  const asked = onPage ?? stood?.asked;
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
    // A tap on a page stands under the question that it answers, however old that is.
    onPage === undefined &&
    inbound.receivedAt.getTime() - asked.created_at.getTime() > QUESTION_STANDS_MS;
  const understood = corrected(stale ? { ...reading, labels: [] } : reading, told?.labels);
  if (told === undefined && (rawOf(inbound).automatic === true || rawOf(inbound).takenAsFacts === true)) {
    await keepUnread(trx, shopId, inbound.inboundId, linked);
    return undefined;
  }
  if (told === undefined) await notePictures(trx, shopId, inbound, now);
  const optedOut = stood ? stood.consent === 'withdrawn' : await hadSaidStop(trx, shopId, linked);
  const decision = decideStop({
    reading: understood,
    text: inbound.body,
    channel: wayOf(inbound) === 'email' ? 'email' : 'text',
    optedOut,
    // Where a person has said what the words mean, the carrier's own reading of them no longer counts.
    optOutType: told?.labels === undefined ? optOutTypeOf(inbound) : null,
    lastSent: stood?.lastSent,
  });
  await applyConsent(trx, shopId, inbound, linked, decision, now);

  let caseId: string | null = null;
  const hello =
    wearer !== undefined &&
    !optedOut &&
    isHello(inbound) &&
    (await takeHello(trx, shopId, wearer, linked, inbound, now));
  if (wearer && linked.pairId !== null && !hello) {
    await applyToPlan(trx, shopId, wearer, linked.pairId, stood?.plan, understood, inbound, now);
    if (understood.urgent || understood.labels.some(belongsInCase) || (understood.bareAnswer && !stale)) {
      caseId = await joinCase(trx, shop, wearer, linked.pairId, inbound, understood, asked, now);
    }
  }
  if (decision.urgent) {
    const wearerId = linked.wearerId ?? (linked.possible.length === 1 ? linked.possible[0]! : null);
    await raiseDanger(trx, shopId, { inboundId: inbound.inboundId, caseId, wearerId }, now);
  }
  await sendAtOnce(trx, shop, linked, inbound, understood, decision, now);
  const trayWhy =
    linked.trayWhy ??
    (told === undefined && !hello ? whyTray(inbound, understood, decision, stale, optedOut, caseId) : null) ??
    (understood.urgent && caseId === null ? 'danger, and no pair to open a case for' : null);
  await keepReading(
    trx,
    shopId,
    inbound.inboundId,
    understood,
    {
      state: trayWhy === null ? 'sorted' : 'tray',
      wearer_id: linked.wearerId,
      pair_id: linked.pairId,
      case_id: caseId,
      linked_how: linked.how,
      tray_why: trayWhy,
      answer_state:
        wantsAnswer(understood, decision, linked, stale) && rawOf(inbound).mayAnswer !== false
          ? 'waiting'
          : 'none',
    },
    now,
  );
  return decision.urgent ? { subjectId: inbound.inboundId, caseId } : undefined;
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

/** What carrier, mailbox or page gave along with the words. */
const rawOf = (inbound: Inbound): Readonly<Record<string, unknown>> =>
  typeof inbound.raw === 'object' && inbound.raw !== null ? (inbound.raw as Record<string, unknown>) : {};

/** A machine wrote it (out of office), or its numbers are facts already: it is kept and shown, and is no answer. */
async function keepUnread(trx: Trx, shopId: string, inboundId: string, linked: Linked): Promise<void> {
  await trx
    .updateTable('inbound_standing')
    .set({
      state: linked.trayWhy === null ? 'sorted' : 'tray',
      wearer_id: linked.wearerId,
      pair_id: linked.pairId,
      linked_how: linked.how,
      tray_why: linked.trayWhy,
    })
    .where('shop_id', '=', shopId)
    .where('inbound_id', '=', inboundId)
    .execute();
}

/** What the carrier, mailbox or page told about the sender beside the address. */
function senderOf(inbound: Inbound): Sender {
  const raw = rawOf(inbound);
  return {
    channel: wayOf(inbound),
    from: inbound.from,
    ...(typeof raw.replyToken === 'string' ? { replyToken: raw.replyToken } : {}),
    ...(Array.isArray(raw.inReplyTo)
      ? { inReplyTo: raw.inReplyTo.filter((id): id is string => typeof id === 'string') }
      : {}),
    ...(typeof raw.wearerId === 'string' ? { wearerId: raw.wearerId } : {}),
    ...(inbound.channel === 'page' ? { byLink: true } : {}),
  };
}

/** The channel that a message belongs to: of a page, the one that its link went by. */
function wayOf(inbound: Inbound): string {
  const { via } = rawOf(inbound);
  return inbound.channel === 'page' && typeof via === 'string' ? via : inbound.channel;
}

/** The question that stood on the page where a tap was made. */
async function questionOnPage(
  trx: Trx,
  shopId: string,
  wearerId: string,
  inbound: Inbound,
): Promise<QuestionAsked | undefined> {
  const { askedIn } = rawOf(inbound);
  if (inbound.channel !== 'page' || typeof askedIn !== 'string') return undefined;
  return trx
    .selectFrom('message')
    .select(['message_id', 'asked', 'created_at', 'pair_id', 'case_id'])
    .where('shop_id', '=', shopId)
    .where('message_id', '=', askedIn)
    .where('wearer_id', '=', wearerId)
    .where('asked', 'is not', null)
    .executeTakeFirst();
}

function understand(reading: Reading): Understood {
  if (!reading.bareAnswer) return reading;
  const { questionId, answer } = reading.bareAnswer;
  const meant = BARE_ANSWERS[questionId]?.[answer] ?? [];
  return { ...reading, labels: [...new Set([...reading.labels, ...meant])] };
}

/** Pictures of a text lie with the carrier, and are fetched from there after it is sorted. */
async function notePictures(trx: Trx, shopId: string, inbound: Inbound, now: Date): Promise<void> {
  const { media } = rawOf(inbound);
  if (inbound.channel !== 'text' || !Array.isArray(media)) return;
  const waiting = media.map(() => ({ state: 'to fetch' }) as const);
  await putPictures(trx, shopId, inbound.inboundId, waiting, now);
}

/** Puts on record what was read, and how the message stands after it. */
async function keepReading(
  trx: Trx,
  shopId: string,
  inboundId: string,
  reading: Understood,
  standing: Updateable<Tables['inbound_standing']>,
  at: Date,
): Promise<void> {
  await trx
    .with('kept', (kept) =>
      kept.insertInto('reading').values({
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
      }),
    )
    .updateTable('inbound_standing')
    .set(standing)
    .where('shop_id', '=', shopId)
    .where('inbound_id', '=', inboundId)
    .execute();
}

/** A stop counts for everyone who may have written it; a start only for whom it is known to be from. */
async function applyConsent(
  trx: Trx,
  shopId: string,
  inbound: Inbound,
  linked: Linked,
  decision: StopDecision,
  now: Date,
): Promise<void> {
  if (decision.action === 'hold-for-person') {
    for (const wearerId of linked.possible) {
      await holdAutomatic(trx, shopId, wearerId, 'words that may mean stop: a person decides');
    }
  }
  if (decision.action !== 'stop' && decision.action !== 'start') return;
  const stops = decision.action === 'stop';
  const whose = stops ? linked.possible : linked.wearerId === null ? [] : [linked.wearerId];
  for (const wearerId of whose) {
    await changeConsent(
      trx,
      shopId,
      {
        wearerId,
        channels: decision.channels,
        act: stops ? 'withdrawn' : 'given',
        basis: `the wearer's own words by ${inbound.channel}`,
        words: inbound.body,
        by: 'the wearer',
      },
      now,
    );
  }
}

/** True when everyone who may have written this had said stop to this address before. */
async function hadSaidStop(trx: Trx, shopId: string, linked: Linked): Promise<boolean> {
  const whose = linked.wearerId === null ? linked.possible : [linked.wearerId];
  if (linked.contactId === null || whose.length === 0) return false;
  const rows = await trx
    .selectFrom('wearer_contact')
    .select('consent')
    .where('shop_id', '=', shopId)
    .where('wearer_id', 'in', [...whose])
    .where('contact_id', '=', linked.contactId)
    .execute();
  return rows.length > 0 && rows.every((row) => row.consent === 'withdrawn');
}

/** STOP, HELP or START, where the carrier has matched the word and answered it by itself. */
function optOutTypeOf(inbound: Inbound): 'STOP' | 'HELP' | 'START' | null {
  const said = rawOf(inbound).optOutType;
  return said === 'STOP' || said === 'HELP' || said === 'START' ? said : null;
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
  reading: Understood,
  decision: StopDecision,
  stale: boolean,
  optedOut: boolean,
  caseId: string | null,
): string | null {
  if (decision.action === 'hold-for-person') return 'may mean stop';
  if (decision.numberBad) return 'says that it is the wrong number';
  if (optedOut && decision.action === 'help') return 'comes from someone who said stop and asks who writes';
  const { automatic, toPerson, media } = rawOf(inbound);
  if (automatic === 'maybe') return 'may be an automatic answer';
  if (typeof toPerson === 'string') return toPerson;
  if (inbound.body.trim() === '') return 'picture or voice only';
  if (Array.isArray(media) && media.length > 0) return 'words with a picture';
  if (caseId === null && reading.personOnly) return 'somebody is gravely ill or has died: a person writes';
  if (caseId === null && decision.action === 'stop' && decision.reachesPerson) {
    return 'says stop, and may mean more';
  }
  if (stale) return null;
  if (reading.leftOver.length > 0) return 'weighty words left over';
  const read = reading.labels.length > 0 || reading.asks.length > 0 || reading.bareAnswer !== undefined;
  return read || decision.action !== 'none' ? null : 'no label';
}

function wantsAnswer(reading: Understood, decision: StopDecision, linked: Linked, stale: boolean): boolean {
  if (linked.wearerId === null || reading.urgent || reading.personOnly) return false;
  if (decision.action !== 'none' && decision.action !== 'start') return false;
  const said = reading.labels.some((label) => label !== 'resume' || decision.action !== 'start');
  return stale || said || reading.asks.length > 0 || reading.bareAnswer !== undefined;
}
