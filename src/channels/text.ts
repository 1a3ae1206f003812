import { setTimeout as wait } from 'node:timers/promises';
import twilio from 'twilio';
import type { Clock } from '../clock.ts';
import { actOnError, carrierError } from './carrierErrors.ts';
import type { Channel, Found, OutgoingMessage, SendResult } from './channel.ts';
import { withoutTokens } from './linkPlaces.ts';
import { pace } from './pace.ts';
import { PICTURE_BYTES } from './pictures.ts';
import type { InboundText } from './webhook.ts';

const CARRIER_ORIGIN = 'https://api.twilio.com';

export type TextSettings = {
  readonly accountSid: string;
  readonly authToken: string;
  /** The number that texts come from, E.164; or a messaging service (`MG…`). */
  readonly from: string;
  /** Where the carrier reports states, without a trailing slash; undefined: states are asked for instead. */
  readonly publicBase?: string | undefined;
  /** The shop that rides along with reported states, where several share the address. */
  readonly shop?: string | undefined;
  readonly perSecond: number;
  /** Elsewhere only in tests: a stand-in of the carrier on this machine. */
  readonly origin?: string | undefined;
  /** Tests set this: any other origin than one on this machine is refused at once. */
  readonly onlyThisMachine?: boolean | undefined;
  /** How long one request to the carrier may take. */
  readonly deadlineMs?: number | undefined;
};

/** What was handed to the carrier, as the store has it, for asking about it later. */
export type HandedOver = { readonly to: string; readonly text: string; readonly at: Date };

export type TextChannel = Channel & {
  /** Texts that came in since, oldest first, the newest `most` of them: for a shop without a public address, and after a loss. */
  newTexts(since: Date, most?: number): Promise<readonly InboundText[]>;
  /**
   * The bytes of one picture of a text that came in, by its place among them; `gone` when the carrier has it no more, `later`
   * when it cannot be had just now.
   */
  pictureOf(farId: string, number: number): Promise<Uint8Array | 'gone' | 'too large' | 'later'>;
  /** The carrier's state of one text of ours; undefined when it cannot be had just now. */
  statusOf(
    farId: string,
  ): Promise<{ readonly status: string; readonly errorCode: number | null } | undefined>;
};

/** Path under the public base that states are reported to; the attempt's id rides along. */
export const STATUS_PATH = '/hooks/text-status';

/**
 * The carrier's list lags behind what it took. Until so long after the hand-over a text that is not in it may still be
 * there; the longest lag that we have been told of is two minutes (common practice, no source).
 */
const LIST_LAG_MS = 180_000;
const DEADLINE_MS = 15_000;
/** Far enough back for clocks that differ a little. */
const CLOCKS_DIFFER_MS = 10_000;
const LISTED = 200;

/**
 * Texts by Twilio, through its own package. The carrier has no key against sending twice: what it may have taken is
 * `unsure` and is asked for by number, words and time, never just repeated.
 */
export function textChannel(
  settings: TextSettings,
  clock: Clock,
  handedOver: (attemptId: string) => Promise<HandedOver | undefined>,
  { client, turn }: TextSender = textSender(settings),
): TextChannel {
  const origin = settings.origin ?? CARRIER_ORIGIN;
  const sender = settings.from.startsWith('MG')
    ? { messagingServiceSid: settings.from }
    : { from: settings.from };

  async function send(message: OutgoingMessage): Promise<SendResult> {
    await turn();
    try {
      const made = await client.messages.create({
        ...sender,
        to: message.to,
        body: message.text,
        ...(settings.publicBase
          ? { statusCallback: statusAddress(settings.publicBase, message.attemptId, settings.shop) }
          : {}),
      });
      return { state: 'accepted', farId: made.sid };
    } catch (error) {
      return afterError(error);
    }
  }

  async function find(attemptId: string): Promise<Found> {
    const sought = await handedOver(attemptId);
    if (!sought) return 'unknown';
    try {
      const listed = await client.messages.list({ to: sought.to, limit: LISTED });
      const there = listed.some(
        (one) =>
          one.direction.startsWith('outbound') &&
          // A trial account puts words of its own before ours; links are made anew at each sending.
          withoutTokens(one.body.trim()).endsWith(withoutTokens(sought.text.trim())) &&
          one.dateCreated.getTime() >= sought.at.getTime() - CLOCKS_DIFFER_MS,
      );
      if (there) return 'accepted';
    } catch {
      return 'unknown';
    }
    return clock.now().getTime() - sought.at.getTime() > LIST_LAG_MS ? 'not there' : 'unknown';
  }

  async function newTexts(since: Date, most = LISTED): Promise<readonly InboundText[]> {
    const filter = settings.from.startsWith('MG') ? {} : { to: settings.from };
    const listed = await client.messages.list({ ...filter, dateSentAfter: since, limit: most });
    return listed
      .filter((one) => one.direction === 'inbound')
      .sort((one, other) => one.dateCreated.getTime() - other.dateCreated.getTime())
      .map((one) => ({
        farId: one.sid,
        from: one.from,
        to: one.to,
        body: one.body,
        // The list counts pictures but does not name them; they are fetched by the message's id.
        media: Array.from({ length: Number(one.numMedia) || 0 }, () => ({ url: '', contentType: '' })),
        optOutType: null,
      }));
  }

  async function statusOf(farId: string) {
    try {
      const one = await client.messages(farId).fetch();
      return { status: one.status, errorCode: one.errorCode ?? null };
    } catch {
      return undefined;
    }
  }

  async function pictureOf(farId: string, number: number) {
    try {
      const listed = await client.messages(farId).media.list({ limit: MOST_PICTURES });
      const one = [...listed].sort((a, b) => (a.sid < b.sid ? -1 : 1))[number];
      if (!one) return 'gone' as const;
      const signIn = Buffer.from(`${settings.accountSid}:${settings.authToken}`).toString('base64');
      return await fetchBytes(
        new URL(one.uri.replace(/\.json$/, ''), origin),
        `Basic ${signIn}`,
        settings.deadlineMs ?? DEADLINE_MS,
      );
    } catch (error) {
      return (error as { status?: number }).status === 404 ? ('gone' as const) : ('later' as const);
    }
  }

  return { name: 'twilio', kind: 'text', send, find, newTexts, statusOf, pictureOf };
}

const MOST_PICTURES = 10;
const MOST_HOPS = 4;

/**
 * Fetches at most so many bytes as a picture may have. The carrier sends on to its store of files: the sign-in goes to the
 * carrier only, and a line without encryption is followed on this machine alone.
 */
async function fetchBytes(
  from: URL,
  signIn: string,
  deadlineMs: number,
): Promise<Uint8Array | 'gone' | 'too large' | 'later'> {
  let at = from;
  for (let hop = 0; hop < MOST_HOPS; hop++) {
    if (at.protocol !== 'https:' && !isLoopback(at.origin)) return 'later';
    const answer = await fetch(at, {
      redirect: 'manual',
      headers: at.origin === from.origin ? { authorization: signIn } : {},
      signal: AbortSignal.timeout(deadlineMs),
    });
    const on = answer.headers.get('location');
    if (answer.status >= 300 && answer.status < 400 && on !== null) {
      at = new URL(on, at);
      continue;
    }
    if (answer.status === 404 || answer.status === 410) return 'gone';
    if (!answer.ok || !answer.body) return 'later';
    return readUpTo(answer.body, PICTURE_BYTES);
  }
  return 'later';
}

async function readUpTo(
  body: ReadableStream<Uint8Array>,
  mostBytes: number,
): Promise<Uint8Array | 'too large'> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of body as unknown as AsyncIterable<Uint8Array>) {
    bytes += piece.length;
    if (bytes > mostBytes) return 'too large';
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

const statusAddress = (publicBase: string, attemptId: string, shop: string | undefined) =>
  `${publicBase}${STATUS_PATH}?attempt=${encodeURIComponent(attemptId)}${shop === undefined ? '' : `&shop=${encodeURIComponent(shop)}`}`;

export type TextSender = { readonly client: ReturnType<typeof twilio>; readonly turn: () => Promise<void> };

/** The client and the pace of one sender, for as many shops as share it. */
export function textSender(settings: TextSettings): TextSender {
  const origin = settings.origin ?? CARRIER_ORIGIN;
  if (settings.onlyThisMachine && !isLoopback(origin)) {
    throw new Error(`Tests may not write to real people: ${origin} is not on this machine.`);
  }
  const client = twilio(settings.accountSid, settings.authToken, {
    httpClient: new ClientAt(origin, settings.deadlineMs ?? DEADLINE_MS),
    accountSid: settings.accountSid,
  });
  return { client, turn: pace(settings.perSecond, () => performance.now(), wait) };
}

/** The package's client with another origin, and a deadline of its own. */
class ClientAt extends twilio.RequestClient {
  readonly #origin: string;

  constructor(origin: string, deadlineMs: number) {
    // A line that stays open: a new one costs several journeys to the carrier and back for every text.
    super({ timeout: deadlineMs, keepAlive: true });
    this.#origin = origin;
  }

  override request<TData>(options: Parameters<twilio.RequestClient['request']>[0]) {
    const asked = new URL(options.uri);
    const uri = `${this.#origin}${asked.pathname}${asked.search}`;
    return super.request<TData>({ ...options, uri } as never);
  }
}

function afterError(error: unknown): SendResult {
  const { status, code, message } = error as { status?: number; code?: unknown; message?: string };
  if (typeof status === 'number') {
    // A fault of the carrier's own may come before or after it took the text.
    if (status >= 500) return { state: 'unsure', why: `the carrier answered ${status}` };
    const number = status === 429 ? 20429 : status === 401 ? 20003 : Number(code ?? status);
    const known = carrierError(number);
    return { state: 'refused', code: String(number), why: known.meaning, act: actOnError(known) };
  }
  if (typeof code === 'string' && NEVER_CONNECTED.has(code)) {
    return { state: 'refused', code, why: 'the carrier could not be reached', act: 'later' };
  }
  return {
    state: 'unsure',
    why: `no answer from the carrier (${typeof code === 'string' ? code : (message ?? 'unknown')})`,
  };
}

/** Failures of the connection itself: the request never went out. */
const NEVER_CONNECTED = new Set(['ECONNREFUSED', 'ENOTFOUND', 'EAI_AGAIN', 'EHOSTUNREACH', 'ENETUNREACH']);

const isLoopback = (origin: string) => /^http:\/\/(?:127\.0\.0\.1|localhost|\[::1\])(?::\d+)?$/.test(origin);
