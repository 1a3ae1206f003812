import {
  CONFIRM_WITHIN_MINUTES,
  decideStop,
  latestLawfulStop,
  type Medium,
} from '../../src/channels/optOut.ts';
import { whyWithheld } from '../../src/followup/deliver.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import { renderMessage } from '../../templates/renderMessage.ts';
import { wordFaults } from '../../templates/wordsAllowed.ts';
import type { Found, Given } from './messaging.adapters.ts';

const SHOP = { name: 'Fernside Optics', phone: '+1 212 555 0100', localNumbers: [] };
const RING = { locale: 'en', channel: 'text', shop: SHOP, wearer: { firstName: 'Sam' } } as const;

/** Rows on stopping, starting and helping: the sorter reads the words, the decision is the product's. */
export function optOut(given: Given): Found {
  if (given.receivedOn !== undefined) {
    const holidays = Array.isArray(given.holidays) ? given.holidays.map(String) : [];
    return { latestLawfulDate: latestLawfulStop(String(given.receivedOn), holidays) };
  }
  if (Array.isArray(given.steps)) return { textsSent: textsSent(given.steps.map(String)) };

  const text = String(given.text);
  const lastSent = given.lastSent === undefined ? undefined : String(given.lastSent);
  const reading = sortReply({
    text,
    asked: lastSent?.includes('?') ? { kind: 'yes-no', id: 'asked' } : undefined,
  });
  const decided = decideStop({
    reading,
    text,
    channel: medium(given.channel),
    optedOut: given.optedOut === true,
    optOutType: (given.optOutType ?? null) as 'STOP' | 'HELP' | 'START' | null,
    lastSent,
  });
  const confirmation = renderMessage({ ...RING, purpose: 'stop-done', channels: decided.channels }).text;
  return {
    ...decided,
    channels: decided.channels.map((one) => (one === 'text' ? 'sms' : one)),
    ourConfirmations: decided.confirm ? 1 : 0,
    withinMinutes: CONFIRM_WITHIN_MINUTES,
    marketing: wordFaults(confirmation).some((fault) => fault.kind === 'offer'),
    furtherTexts: decided.action === 'stop' ? mayGo('withdrawn') : mayGo('given'),
    mustContain: helpContains(),
  };
}

const medium = (channel: unknown): Medium => (channel === 'email' ? 'email' : 'text');

const mayGo = (consent: 'given' | 'withdrawn') =>
  whyWithheld({ unusable_why: null, consent, any_hour: false }) === null ? 1 : 0;

function helpContains(): readonly string[] {
  const { text } = renderMessage({ ...RING, purpose: 'help' });
  return [
    ...(text.includes(SHOP.name) ? ['shop name'] : []),
    ...(text.includes(SHOP.phone) ? ['how to reach a person'] : []),
    ...(/\bSTOP\b/.test(text) ? ['how to stop'] : []),
  ];
}

/** Steps in the order of their times: what is on record about consent when the worker claims decides. */
function textsSent(steps: readonly string[]): number {
  const timed = steps.map((words) => ({
    words,
    time: /(\d{1,2}:\d\d(?::\d\d)?)\s*$/.exec(words)?.[1] ?? '',
  }));
  const ordered = timed
    .filter(({ words }) => !/queued for/i.test(words))
    .map((step) => ({ ...step, time: step.time.length <= 5 ? `${step.time}:00` : step.time }))
    .sort((one, other) => (one.time < other.time ? -1 : one.time > other.time ? 1 : 0));
  let consent: 'given' | 'withdrawn' = 'given';
  let sent = 0;
  for (const { words } of ordered) {
    if (/\bSTOP received/i.test(words)) consent = 'withdrawn';
    else if (/\bSTART received/i.test(words)) consent = 'given';
    else if (/claims/i.test(words)) sent += mayGo(consent);
  }
  return sent;
}
