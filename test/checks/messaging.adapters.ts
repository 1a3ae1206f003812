import { domainToUnicode } from 'node:url';
import { type LinkState, openAnswerLink } from '../../src/channels/answerLink.ts';
import { carrierError } from '../../src/channels/carrierErrors.ts';
import { formIsSigned, jsonAddress, jsonIsSigned, signatureOf } from '../../src/channels/carrierSignature.ts';
import { afterStatus } from '../../src/channels/carrierStatus.ts';
import {
  asLocal,
  dayOfWearAt,
  instantOfLocal,
  isCivil,
  nextCivil,
  sameTimeDaysAfter,
} from '../../src/channels/civilHours.ts';
import { judgeAutomatic } from '../../src/channels/emailAuto.ts';
import { readDeliveryStatus } from '../../src/channels/emailBounce.ts';
import {
  headerOf,
  type MailHeaders,
  ownHeaders,
  SIGNED_FIELDS,
  threadHeaders,
} from '../../src/channels/emailHeaders.ts';
import { matchMail } from '../../src/channels/emailMatch.ts';
import { replyText } from '../../src/channels/emailReplyText.ts';
import { openStopLink } from '../../src/channels/emailUnsubscribe.ts';
import { tokenInAddress } from '../../src/channels/tokens.ts';
import {
  ANSWER_WITHIN_MS,
  changeByStatus,
  type InboundText,
  mayAnswerByMachine,
  needsPerson,
  type Params,
  readInboundText,
  readStatus,
  receiveText,
} from '../../src/channels/webhook.ts';
import { reservedDomain } from '../../src/intake/emailAddress.ts';
import { phoneType, readPhone, reservedForFiction } from '../../src/intake/phone.ts';
import { canonicalZone, readZone, sameZone } from '../../src/intake/zones.ts';
import { fleschKincaidGrade, readingEase } from '../../templates/readingGrade.ts';
import { textParts } from '../../templates/textParts.ts';
import { wordFaults } from '../../templates/wordsAllowed.ts';
import { optOut } from './messaging.optOut.ts';

export type Given = Readonly<Record<string, unknown>>;
export type Found = Readonly<Record<string, unknown>>;
/** What the product finds for a row; a reason where this runtime cannot be asked. */
export type Adapter = (
  given: Given,
  expected: Found,
) => Found | Promise<Found> | { readonly cannotRun: string };

const str = (value: unknown): string => String(value ?? '');
const strings = (value: unknown): readonly string[] => (Array.isArray(value) ? value.map(str) : []);
/** An instant as the check values print it: no milliseconds. */
const utc = (at: Date) => at.toISOString().replace('.000Z', 'Z');

export const MESSAGING_ADAPTERS: Readonly<Record<string, Adapter>> = {
  'sms-segments': ({ text }) => ({ ...textParts(str(text)) }),

  'twilio-signature': ({ authToken, url, params }) => ({
    signature: signatureOf(str(authToken), str(url), params as Params),
  }),
  'twilio-signature-valid': ({ authToken, url, params, signature }) => ({
    valid: formIsSigned(
      { authToken: str(authToken), url: str(url), signature: str(signature) || undefined },
      params as Params,
    ),
  }),
  'twilio-signature-json': ({ authToken, url, rawBody }, expected) => {
    const address = jsonAddress(str(url), str(rawBody));
    const signature = signatureOf(str(authToken), address, {});
    const request = {
      authToken: str(authToken),
      url: address,
      signature: str(expected.signature ?? signature),
    };
    return {
      signature,
      valid: jsonIsSigned(request, str(rawBody)),
      validWithOneSpaceMore: jsonIsSigned(request, `${str(rawBody)} `),
    };
  },
  'twilio-error': ({ code }) => ({ ...carrierError(Number(code)) }),
  'twilio-status': ({ have, event }) => ({
    status: afterStatus(have === null ? null : str(have), str(event)),
  }),
  'twilio-webhook': webhookRow,

  dst: ({ local, zone }) => {
    const at = instantOfLocal(str(local), str(zone));
    return { instant: utc(at), local: asLocal(at, str(zone)) };
  },
  'days-after': ({ deliveredLocal, zone, days }) => {
    const at = sameTimeDaysAfter(str(deliveredLocal), str(zone), Number(days));
    const [date, time] = str(deliveredLocal).split('T') as [string, string];
    // The plan's own reckoning, where the row asks for a whole hour.
    if (/^\d\d:00$/.test(time)) {
      const planned = dayOfWearAt(str(zone), date, Number(days), Number(time.slice(0, 2)));
      if (planned.getTime() !== at.getTime()) throw new Error('the plan reckons another instant');
    }
    return { instant: utc(at), local: asLocal(at, str(zone)) };
  },
  'quiet-hours': ({ instant, zone, candidateZones, window }) => {
    const zones = candidateZones ? strings(candidateZones) : [str(zone)];
    const [from, to] = strings(window) as [string, string];
    const at = new Date(str(instant));
    return {
      allowed: isCivil(at, zones, { from, to }),
      nextAllowed: utc(nextCivil(at, zones, { from, to })),
      local: asLocal(at, zones[0]!),
      locals: zones.map((one) => asLocal(at, one)),
    };
  },
  'time-zone': ({ zone, local, minimumTzdata }, expected) => {
    if (minimumTzdata !== undefined && str(process.versions.tz) < str(minimumTzdata)) {
      return {
        cannotRun: `needs zone data ${str(minimumTzdata)}, this runtime has ${str(process.versions.tz)}`,
      };
    }
    if (local !== undefined) return { instant: utc(instantOfLocal(str(local), str(zone))) };
    const read = readZone(str(zone));
    return {
      accepted: read.ok,
      sameRulesAs:
        read.ok && sameZone(read.value, str(expected.sameRulesAs)) ? expected.sameRulesAs : undefined,
      canonical: read.ok ? canonicalZone(read.value) : undefined,
    };
  },

  'email-auto': ({ headers }) => {
    const judged = judgeAutomatic(headers as MailHeaders);
    return {
      automatic: judged.automatic,
      answer: judged.mayAnswer,
      answerAutomatically: judged.mayAnswer,
      reply: judged.isReply,
      reachesPerson: judged.reachesPerson,
    };
  },
  'email-own-headers': ({ message }) => {
    const theirs = '<wearer-1@example.com>';
    const answers = /answer|reply/i.test(str(message));
    const own = ownHeaders({
      kind: answers ? 'answer' : /person|staff|hand/i.test(str(message)) ? 'by hand' : 'by schedule',
      attemptKey: 'a1',
      replyToken: 'k7q2m4x5',
      mailbox: 'care@mail.example',
      bounceMailbox: 'bounce@mail.example',
      inAnswerTo: answers ? { messageId: theirs } : undefined,
    });
    const apart =
      own.envelopeFrom === '' || (own.envelopeFrom !== own.replyTo && !own.envelopeFrom.startsWith('care'));
    return {
      'Auto-Submitted': own.headers['Auto-Submitted'],
      inReplyTo:
        own.headers['In-Reply-To'] === theirs ? "the wearer's Message-ID" : own.headers['In-Reply-To'],
      envelopeFrom: apart ? '<> or a bounce address, never the reply address' : own.envelopeFrom,
    };
  },
  'email-thread': ({ parent }) => {
    const headers = parent as MailHeaders;
    return threadHeaders({
      messageId: str(headerOf(headers, 'Message-ID')),
      inReplyTo: headerOf(headers, 'In-Reply-To'),
      references: headerOf(headers, 'References'),
    });
  },
  'email-bounce': ({ deliveryStatus }) => ({ recipients: readDeliveryStatus(str(deliveryStatus)) }),
  'email-unsubscribe': ({ request, message }) => {
    if (message !== undefined) return stopHeaders();
    const asked = request as Readonly<Record<string, string | undefined>>;
    const outcome = openStopLink({
      method: str(asked.method),
      link: linkState(asked.token ?? 'good'),
      contentType: asked.contentType,
      body: str(asked.body),
    });
    return {
      status: outcome.status,
      statusClass: Math.floor(outcome.status / 100),
      redirect: outcome.status >= 300 && outcome.status < 400,
      optedOut: outcome.optOut,
      showsButton: outcome.shows === 'button',
    };
  },
  'email-token': ({ recipient }) => ({ token: tokenInAddress(str(recipient)) }),
  'email-match': ({ to, from, headers, wearersWithThisAddress }) => {
    const matched = matchMail(
      {
        to: Array.isArray(to) ? strings(to) : [str(to)],
        from: str(from),
        headers: (headers ?? {}) as MailHeaders,
      },
      'mail.example',
      (token) => token === 'k7q2m4x5',
      Number(wearersWithThisAddress ?? 0),
    );
    return {
      matchedBy: matched.by === 'nobody' ? null : matched.by,
      needsPerson: matched.by === 'nobody',
      // Whatever comes of the match, the raw mail is kept before it is looked for.
      stored: true,
    };
  },
  'email-reply-text': ({ body }) => ({ rawKept: true, ...replyText(str(body)) }),

  phone: ({ input, defaultRegion }) => {
    const read = readPhone(str(input), str(defaultRegion));
    return read.ok ? { e164: read.value.e164, ext: read.value.ext } : { refused: true };
  },
  'phone-type': ({ e164 }) => ({ ...phoneType(str(e164)) }),
  reserved: ({ e164, domains }) => ({
    reservedForFiction: reservedForFiction(str(e164)),
    reserved:
      strings(domains).length > 0 &&
      strings(domains).every((one) => reservedDomain(domainToUnicode(one) || one)),
  }),

  'answer-link': answerLinkRow,

  'reading-level': ({ words, sentences, syllables }) => {
    const counts = { words: Number(words), sentences: Number(sentences), syllables: Number(syllables) };
    return { grade: fleschKincaidGrade(counts), ease: readingEase(counts) };
  },
  'text-content': ({ text }) => ({ allowed: wordFaults(str(text)).length === 0 }),
  'opt-out': optOut,
};

function linkState(token: unknown): LinkState {
  const word = str(token);
  return word === 'good' || word === 'expired' || word === 'altered' ? word : 'unknown';
}

function answerLinkRow(given: Given): Found {
  const posts = Array.isArray(given.posts) ? (given.posts as readonly Given[]) : undefined;
  const visits = posts ?? [given];
  const stored: string[] = [];
  let last = openAnswerLink({ method: 'GET', link: 'good', answer: null, before: [], caseClosed: false });
  for (const visit of visits) {
    const method = str(visit.method ?? (posts ? 'POST' : 'GET'));
    last = openAnswerLink({
      method,
      link: linkState(visit.token ?? 'good'),
      // A row may leave out which answer was tapped.
      answer: method === 'POST' ? str(visit.answer ?? '3') : null,
      before: stored,
      caseClosed: /closed|settled|returned|done/i.test(str(given.caseState)),
    });
    if (last.store !== null) stored.push(last.store);
  }
  return {
    status: last.status,
    answersStored: stored.length,
    current: stored.at(-1) ?? null,
    tellsHowToReachShop: last.shows === 'how to reach us',
    revealsWearer: last.shows === 'question' || last.shows === 'thanks',
    reachesPerson: last.reachesPerson,
  };
}

function stopHeaders(): Found {
  const token = 'k7q2m4x5';
  const { headers } = ownHeaders({
    kind: 'by schedule',
    attemptKey: 'a1',
    replyToken: token,
    mailbox: 'care@mail.example',
    bounceMailbox: 'bounce@mail.example',
    stopUrl: `https://shop.example/s/${token}`,
  });
  const one = /^<https:\/\/[^>]+>(?:, <mailto:[^>]+>)?$/.test(headers['List-Unsubscribe'] ?? '');
  return {
    'List-Unsubscribe': one ? '<https://…/token>' : headers['List-Unsubscribe'],
    'List-Unsubscribe-Post': headers['List-Unsubscribe-Post'],
    dkimSignedFields: [...SIGNED_FIELDS],
  };
}

/** Stands for the reply table: one row a far id. */
function replyTable(refuses = false) {
  const rows = new Map<string, InboundText>();
  return {
    rows,
    async keep(text: InboundText) {
      if (refuses) throw new Error('the store refuses the write');
      if (rows.has(text.farId)) return 'kept before' as const;
      rows.set(text.farId, text);
      return 'kept' as const;
    },
  };
}

const INBOUND: Params = {
  MessageSid: 'SM1',
  From: '+12125550123',
  To: '+12125550100',
  Body: 'blurry',
  NumMedia: '0',
};

async function webhookRow(given: Given): Promise<Found> {
  if (given.question !== undefined) return { milliseconds: ANSWER_WITHIN_MS };
  if (given.deliveries !== undefined) return deliveriesRow(given.deliveries as readonly Params[]);
  const params = { ...INBOUND, ...((given.params ?? {}) as Params) };
  const words = str(given.event);
  const table = replyTable(/refuses|down|store fails/i.test(words));
  const answer = await receiveText(
    !/wrong signature|no signature|without (?:a )?signature/i.test(words),
    params,
    table.keep,
  );
  const text = readInboundText(params)!;
  const wearers = given.knownWearer === false ? 0 : 1;
  return {
    ...answer,
    statusClass: Math.floor(answer.status / 100),
    repliesStored: table.rows.size,
    media: text.media.length,
    reachesPerson: needsPerson(text, wearers) !== null,
    automaticAnswer: mayAnswerByMachine(text, wearers),
  };
}

async function deliveriesRow(deliveries: readonly Params[]): Promise<Found> {
  if (deliveries.some((one) => one.MessageStatus !== undefined)) {
    let have: string | null = null;
    let changes = 0;
    for (const one of deliveries) {
      const change = changeByStatus(have, readStatus(one, null)!);
      if (!change) continue;
      have = change.status;
      changes += 1;
    }
    return { status: have, eventsThatChangeState: changes };
  }
  const table = replyTable();
  const statuses: number[] = [];
  for (const one of deliveries)
    statuses.push((await receiveText(true, { ...INBOUND, ...one }, table.keep)).status);
  return {
    repliesStored: table.rows.size,
    bothAnswered: statuses.every((status) => status === statuses[0]) ? statuses[0] : statuses,
  };
}
