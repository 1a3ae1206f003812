import { createHash } from 'node:crypto';
import { type LinkOutcome, type LinkState, openAnswerLink } from '../channels/answerLink.ts';
import type { Picture } from '../channels/pictures.ts';
import { type LinkPurpose, linkPurposeOf, tokenHash } from '../channels/tokens.ts';
import {
  caseClosedSince,
  countUse,
  findLink,
  type KeptLink,
  type LinkedMessage,
  messageOfLink,
  saidOnPage,
} from '../store/links.ts';
import { putPictures } from '../store/pictures.ts';
import type { ChannelKind } from '../store/tables.ts';
import { contactsOf, findWearer, type Wearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';
import { keepReply, sortKept } from './takeReply.ts';

/** So much is taken from one link; more is somebody's script and not a wearer. Common practice, no source. */
const USES_AN_HOUR = 20;
const MOST_UNDER_A_LINK = 60;
const LONGEST_WORDS = 5000;

/** What stands behind a link of a wearer. */
export type OpenLink = {
  readonly state: Extract<LinkState, 'good' | 'expired'>;
  readonly purpose: Exclude<LinkPurpose, 'have'>;
  readonly link: KeptLink;
  readonly message: LinkedMessage;
  readonly wearer: Wearer;
};

/** Looks a wearer's link up; undefined when it is not ours, whatever else it is. Changes nothing. */
export async function openLink(shell: Shell, shopId: string, token: string): Promise<OpenLink | undefined> {
  const found = await keptLink(shell, shopId, token);
  if (!found || found.purpose === 'have') return undefined;
  const message = await messageOfLink(shell.db, shopId, found.link.subject_id);
  const wearer = message && (await findWearer(shell.db, shopId, message.wearer_id));
  if (!message || !wearer) return undefined;
  const state = found.link.expires_at <= shell.clock.now() ? 'expired' : 'good';
  return { state, purpose: found.purpose, link: found.link, message, wearer };
}

/** A link of any purpose as it is on record; tokens that we did not sign are turned away before the store is asked. */
export async function keptLink(
  shell: Shell,
  shopId: string,
  token: string,
): Promise<{ purpose: LinkPurpose; link: KeptLink } | undefined> {
  const key = shell.links?.(shopId)?.key;
  const purpose = key && linkPurposeOf(token, [key]);
  const link = purpose && (await findLink(shell.db, shopId, tokenHash(token), purpose));
  return link && { purpose, link };
}

export type SaidOnPage = {
  /** A tap or words; empty when only pictures came. */
  readonly words: string;
  readonly pictures: readonly Picture[];
  /** Pictures that came and could not be kept. */
  readonly leftOut: readonly string[];
  /** The words are numbers that were taken as facts already: nobody has to read them. */
  readonly takenAsFacts?: boolean;
};

export type TakenFromLink = LinkOutcome & { readonly tooOften: boolean; readonly inboundId: string | null };

/**
 * Takes what a wearer sent by their page, like any other reply: in the journal first, stored once, sorted at once. The same
 * again changes nothing; something else is kept beside it. A stop link does not tire.
 */
export async function takeFromLink(
  shell: Shell,
  shopId: string,
  open: OpenLink,
  said: SaidOnPage,
): Promise<TakenFromLink> {
  const now = shell.clock.now();
  const words = said.words.slice(0, LONGEST_WORDS);
  const pictures = said.pictures.map((one) => createHash('sha256').update(one.bytes).digest('hex'));
  const answer = [words, ...pictures.map((hash) => `picture ${hash.slice(0, 16)}`)].join('\n').trim();
  const far = (at: number) => `link ${open.link.token_hash.slice(0, 32)} ${at}`;
  const before = await saidOnPage(
    shell.db,
    shopId,
    Array.from({ length: MOST_UNDER_A_LINK }, (_, at) => far(at)),
  );
  const answers = Array.from({ length: before.size }, (_, at) => before.get(far(at))).map(
    (one) => one && answerOf(one),
  );
  const asBefore = open.purpose !== 'stop' || (await saidStopBefore(shell, shopId, open, words));
  const outcome = openAnswerLink({
    method: 'POST',
    link: open.purpose === 'stop' ? 'good' : open.state,
    answer,
    before: asBefore ? answers.flatMap((one) => one ?? []) : [],
    caseClosed: await caseClosedSince(shell.db, shopId, open.wearer.wearer_id, open.message.created_at),
  });
  const keepPictures = (inboundId: string) =>
    putPictures(
      shell.db,
      shopId,
      inboundId,
      [
        ...said.pictures.map((one) => ({ ...one, state: 'kept' }) as const),
        ...said.leftOut.map((why) => ({ state: 'left out', why }) as const),
      ],
      now,
    );
  if (outcome.store === null) {
    // Sent again because the process died in between: the words are there, the pictures may not be.
    const last = before.get(far(before.size - 1));
    if (outcome.shows === 'thanks' && last) await keepPictures(last.inbound_id);
    return { ...outcome, tooOften: false, inboundId: null };
  }
  const stops = open.purpose === 'stop';
  if (!stops && !(await mayUse(shell, open, before.size, now))) {
    return { ...outcome, store: null, tooOften: true, inboundId: null };
  }
  for (let at = before.size; ; at += 1) {
    const inboundId = await keepReply(shell, {
      shopId,
      channel: 'page',
      farId: far(at),
      from: open.message.address,
      to: null,
      body: words,
      receivedAt: now.toISOString(),
      raw: {
        wearerId: open.wearer.wearer_id,
        via: open.message.channel,
        link: open.purpose,
        answer,
        ...(open.purpose === 'answer' ? { askedIn: open.message.message_id } : {}),
        // The page has said that it is done: nothing further confirms it.
        ...(stops ? { optOutType: 'STOP' } : {}),
        ...(outcome.reachesPerson && !stops ? { toPerson: 'came by a link of a case that is closed' } : {}),
        ...(said.takenAsFacts ? { takenAsFacts: true } : {}),
        media: said.pictures.map((one) => ({ contentType: one.contentType })),
      },
    });
    if (inboundId === undefined) {
      // Two at the same moment: the same one is there already, another one takes the next place.
      const there = (await saidOnPage(shell.db, shopId, [far(at)])).get(far(at));
      if (there && answerOf(there) === answer) return { ...outcome, tooOften: false, inboundId: null };
      continue;
    }
    await keepPictures(inboundId);
    await sortKept(shell, shopId, inboundId);
    return { ...outcome, tooOften: false, inboundId };
  }
}

const mayUse = async (shell: Shell, open: OpenLink, before: number, now: Date): Promise<boolean> =>
  before < MOST_UNDER_A_LINK && (await countUse(shell.db, open.link, USES_AN_HOUR, now));

/** True when this very stop stands already; who has said START since may say it again. */
async function saidStopBefore(shell: Shell, shopId: string, open: OpenLink, words: string): Promise<boolean> {
  const channels = STOPPED_BY[words] ?? ['text', 'email'];
  const contacts = await contactsOf(shell.db, shopId, open.wearer.wearer_id);
  return contacts.every((one) => !channels.includes(one.channel) || one.consent === 'withdrawn');
}

/** The words that the buttons of the stop page say, with what each stops. */
export const STOP_WORDS = { text: 'Stop texts', email: 'Stop emails', all: 'STOP' } as const;
const STOPPED_BY: Readonly<Record<string, readonly ChannelKind[]>> = {
  [STOP_WORDS.text]: ['text'],
  [STOP_WORDS.email]: ['email'],
};

/** What was answered, pictures counted in; of a message from before that was noted, its words. */
const answerOf = (one: { readonly body: string; readonly raw?: unknown }): string => {
  const raw = (typeof one.raw === 'object' && one.raw !== null ? one.raw : {}) as Record<string, unknown>;
  return typeof raw.answer === 'string' ? raw.answer : one.body;
};
