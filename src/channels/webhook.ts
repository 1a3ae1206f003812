import { afterStatus, attemptStateOf, isKnownStatus } from './carrierStatus.ts';

/** The carrier waits so long for the whole answer, connecting included, then turns to the fallback address (11205). */
export const ANSWER_WITHIN_MS = 15_000;

export type HookAnswer = { readonly status: number; readonly contentType: string; readonly body: string };

const NOTHING_TO_SAY: HookAnswer = { status: 200, contentType: 'text/xml', body: '<Response></Response>' };
const NOT_SIGNED: HookAnswer = {
  status: 403,
  contentType: 'text/plain',
  body: 'The signature does not match the configured public address.',
};
// A 200 would lose what was not stored; the carrier tries the fallback address after a 5xx.
const NOT_STORED: HookAnswer = {
  status: 503,
  contentType: 'text/plain',
  body: 'Not stored. Please try again.',
};
const NOT_A_TEXT: HookAnswer = {
  status: 400,
  contentType: 'text/plain',
  body: 'MessageSid and From are missing.',
};

export type Params = Readonly<Record<string, string>>;

export type InboundText = {
  readonly farId: string;
  readonly from: string;
  readonly to: string | null;
  readonly body: string;
  /** Pictures and the like, kept at the carrier until they are fetched with the account's sign-in. */
  readonly media: readonly { readonly url: string; readonly contentType: string }[];
  /** The carrier has matched STOP, HELP or START and has answered it already: nothing is said again. */
  readonly optOutType: 'STOP' | 'HELP' | 'START' | null;
};

/** Reads the fields of an inbound text; undefined when it is none. An empty body with a picture is a reply. */
export function readInboundText(params: Params): InboundText | undefined {
  const farId = params.MessageSid ?? params.SmsMessageSid ?? params.SmsSid;
  if (!farId || !params.From) return undefined;
  const count = Math.min(Number.parseInt(params.NumMedia ?? '0', 10) || 0, MOST_MEDIA);
  const media = Array.from({ length: count }, (_, at) => ({
    url: params[`MediaUrl${at}`] ?? '',
    contentType: params[`MediaContentType${at}`] ?? 'application/octet-stream',
  }));
  const optOut = params.OptOutType?.toUpperCase();
  return {
    farId,
    from: params.From,
    to: params.To ?? null,
    body: params.Body ?? '',
    media,
    optOutType: optOut === 'STOP' || optOut === 'HELP' || optOut === 'START' ? optOut : null,
  };
}

/** The carrier sends at most ten (from memory); a larger count is not believed. */
const MOST_MEDIA = 10;

/** Keeps a reply under its far id; says whether it had it already. Throws when it could not be kept. */
export type KeepInbound = (text: InboundText) => Promise<'kept' | 'kept before'>;

/** Keeps first and answers then. The same text twice is kept once and answered 200 both times, or it comes a third time. */
export async function receiveText(signed: boolean, params: Params, keep: KeepInbound): Promise<HookAnswer> {
  if (!signed) return NOT_SIGNED;
  const text = readInboundText(params);
  if (!text) return NOT_A_TEXT;
  try {
    await keep(text);
  } catch {
    return NOT_STORED;
  }
  return NOTHING_TO_SAY;
}

/** Why a person must look at an inbound text whatever its words say; null when the words may be sorted. */
export function needsPerson(
  text: Pick<InboundText, 'body' | 'media'>,
  wearersOfNumber: number,
): string | null {
  if (wearersOfNumber === 0) return 'nobody of ours has this number';
  if (wearersOfNumber > 1) return 'two wearers share this number';
  if (text.media.length > 0)
    return text.body.trim() === '' ? 'a picture without words' : 'words with a picture';
  return null;
}

/** A machine answers only the one wearer that a number belongs to. */
export function mayAnswerByMachine(
  text: Pick<InboundText, 'body' | 'media' | 'optOutType'>,
  wearersOfNumber: number,
) {
  return wearersOfNumber === 1 && text.optOutType === null && text.body.trim() !== '';
}

export type StatusEvent = {
  readonly farId: string;
  /** The attempt's id, which rode along in the callback's address. */
  readonly attemptId: string | null;
  readonly status: string;
  readonly errorCode: number | null;
};

export function readStatus(params: Params, attemptId: string | null): StatusEvent | undefined {
  const farId = params.MessageSid ?? params.SmsSid;
  const status = params.MessageStatus ?? params.SmsStatus;
  if (!farId || !status) return undefined;
  const code = Number.parseInt(params.ErrorCode ?? '', 10);
  return { farId, attemptId, status, errorCode: Number.isNaN(code) ? null : code };
}

/** What a status callback changes; undefined when it came late, came twice, or says a word that we do not know. */
export function changeByStatus(have: string | null, event: Pick<StatusEvent, 'status'>) {
  if (!isKnownStatus(event.status)) return undefined;
  const status = afterStatus(have, event.status)!;
  return status === have ? undefined : { status, attempt: attemptStateOf(status) };
}
