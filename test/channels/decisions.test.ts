import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LINK_HEADERS, openAnswerLink } from '../../src/channels/answerLink.ts';
import { actOnError, carrierError } from '../../src/channels/carrierErrors.ts';
import { afterStatus, attemptStateOf } from '../../src/channels/carrierStatus.ts';
import { nullCarrier } from '../../src/channels/nullCarrier.ts';
import { decideStop } from '../../src/channels/optOut.ts';
import { type DeliveredRow, rehearsalChannel } from '../../src/channels/rehearsal.ts';
import { isToken, newToken, subAddress, TOKEN_LENGTH, tokenInAddress } from '../../src/channels/tokens.ts';
import { readInboundText, receiveText } from '../../src/channels/webhook.ts';
import { sortReply } from '../../src/replies/sortReply.ts';

const key = { version: 1, secret: 'one secret of the shop' };
const older = { version: 0, secret: 'the secret before' };

test('a token fits a path of 24 characters and has 80 bits that cannot be guessed', () => {
  const tokens = Array.from({ length: 500 }, () => newToken('answer', key));
  expect(new Set(tokens).size).toBe(500);
  for (const token of tokens) {
    expect(`/a/${token}`).toHaveLength(24);
    expect(token).toMatch(/^[a-z2-7]+$/);
    expect(isToken(token, 'answer', [key])).toBe(true);
  }
});

test('a token holds for one purpose and one key, in any case, and an old key is still known', () => {
  const token = newToken('answer', older);
  expect(isToken(token, 'stop', [key, older])).toBe(false);
  expect(isToken(token, 'answer', [key])).toBe(false);
  expect(isToken(token, 'answer', [key, older])).toBe(true);
  expect(isToken(token.toUpperCase(), 'answer', [key, older])).toBe(true);
  expect(isToken(token, 'answer', [{ version: 0, secret: 'another shop' }])).toBe(false);
});

test('a token with one letter altered does not pass, but for one in about a million', () => {
  const token = newToken('answer', key);
  let passed = 0;
  for (let at = 0; at < TOKEN_LENGTH; at++) {
    for (const letter of 'abcdefghijklmnopqrstuvwxyz234567') {
      const altered = token.slice(0, at) + letter + token.slice(at + 1);
      if (altered !== token && isToken(altered, 'answer', [key])) passed += 1;
    }
  }
  expect(passed).toBeLessThanOrEqual(1);
  expect(isToken('', 'answer', [key])).toBe(false);
  expect(isToken(`${token}a`, 'answer', [key])).toBe(false);
});

test('a token in an address comes back from it, whatever the case', () => {
  const token = newToken('reply address', key);
  expect(tokenInAddress(subAddress('care@shop.example', token).toUpperCase())).toBe(token);
  expect(tokenInAddress('care@shop.example')).toBeNull();
});

test('no order of callbacks takes a text back from a final state', () => {
  const words = ['queued', 'sending', 'sent', 'delivered', 'undelivered', 'failed', 'new word'];
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...words), { maxLength: 8 }), (events) => {
      let have: string | null = null;
      let settled: string | null = null;
      for (const event of events) {
        have = afterStatus(have, event);
        if (settled !== null) expect(have).toBe(settled);
        if (have !== null && attemptStateOf(have) !== 'accepted') settled ??= have;
      }
    }),
    { seed: 7 },
  );
});

test('what the carrier says of a number, of our set-up and of speed leads to one act each', () => {
  expect(actOnError(carrierError(21610))).toBe('stop');
  expect(actOnError(carrierError(30034))).toBe('hold all');
  expect(actOnError(carrierError(30006))).toBe('bad address');
  expect(actOnError(carrierError(30003))).toBe('later');
  expect(actOnError(carrierError(30007))).toBe('other channel');
  expect(carrierError(12345)).toMatchObject({ retry: false, tellStaff: true });
});

test('a webhook that is not signed keeps nothing and says nothing about wearers', async () => {
  let kept = 0;
  const answer = await receiveText(
    false,
    { MessageSid: 'SM1', From: '+12125550123', Body: 'x' },
    async () => {
      kept += 1;
      return 'kept';
    },
  );
  expect(answer.status).toBe(403);
  expect(answer.body).not.toMatch(/555|wearer/);
  expect(kept).toBe(0);
});

test('a signed call that is no text is refused without touching the store', async () => {
  const answer = await receiveText(true, { Body: 'x' }, async () => {
    throw new Error('must not be asked');
  });
  expect(answer.status).toBe(400);
});

test('a count of pictures that cannot be is not believed', () => {
  const text = readInboundText({ MessageSid: 'SM1', From: '+12125550123', NumMedia: '100000' });
  expect(text?.media.length).toBe(10);
  expect(readInboundText({ MessageSid: 'SM1', From: '+12125550123', NumMedia: 'x' })?.media).toEqual([]);
});

test('an answer link that has run out tells how to reach the shop, an altered one tells nothing', () => {
  const visit = { method: 'POST', answer: '2', before: [], caseClosed: false };
  expect(openAnswerLink({ ...visit, link: 'expired' })).toMatchObject({
    status: 410,
    shows: 'how to reach us',
  });
  expect(openAnswerLink({ ...visit, link: 'altered' })).toMatchObject({ status: 404, shows: 'nothing' });
  expect(openAnswerLink({ ...visit, link: 'good', method: 'DELETE' })).toMatchObject({
    status: 405,
    store: null,
  });
  expect(openAnswerLink({ ...visit, link: 'good', answer: '  ' })).toMatchObject({
    status: 400,
    store: null,
  });
  expect(LINK_HEADERS['Referrer-Policy']).toBe('no-referrer');
});

test('the pretend carrier keeps an attempt once and finds it again', async () => {
  const rows = new Map<string, DeliveredRow>();
  const handset = rehearsalChannel('text', {
    async putDelivered(row) {
      if (!rows.has(row.attemptId)) rows.set(row.attemptId, row);
      return `far-${row.attemptId}`;
    },
    async findByAttempt(attemptId) {
      return rows.has(attemptId) ? { id: `far-${attemptId}` } : undefined;
    },
  });
  expect(await handset.find('a1')).toBe('not there');
  const message = { attemptId: 'a1', to: '+12125550123', text: 'Hello' };
  expect(await handset.send(message)).toEqual({ state: 'accepted', farId: 'far-a1' });
  expect(await handset.send(message)).toEqual({ state: 'accepted', farId: 'far-a1' });
  expect([...rows.values()]).toEqual([
    { attemptId: 'a1', channel: 'text', to: '+12125550123', subject: null, text: 'Hello', html: null },
  ]);
  expect(await handset.find('a1')).toBe('accepted');
});

test('the null carrier takes all and remembers which', async () => {
  const carrier = nullCarrier('email');
  await carrier.send({ attemptId: 'a1', to: 'sam@example.com', text: 'x' });
  expect(await carrier.find('a1')).toBe('accepted');
  expect(await carrier.find('a2')).toBe('not there');
  expect(carrier.taken.size).toBe(1);
});

const said = (text: string, extra: object = {}) =>
  decideStop({ reading: sortReply({ text }), text, channel: 'text', optedOut: false, ...extra });

test('a stop is confirmed once: not again, not after the carrier, and not to a house in mourning', () => {
  expect(said('STOP')).toMatchObject({ action: 'stop', confirm: true, channels: ['text', 'email'] });
  expect(said('STOP', { optedOut: true })).toMatchObject({ action: 'stop', confirm: false });
  expect(said('STOP', { optOutType: 'STOP' })).toMatchObject({ action: 'stop', confirm: false });
  expect(said('Sam passed away last week')).toMatchObject({
    action: 'stop',
    confirm: false,
    reachesPerson: true,
  });
});

test('what the carrier took for a stop stops, whatever the sorter reads', () => {
  expect(said('ok', { optOutType: 'STOP' })).toMatchObject({ action: 'stop', confirm: false });
});

test('START and a bare yes count only from someone who is stopped', () => {
  expect(said('START', { optedOut: true })).toMatchObject({ action: 'start', confirm: true });
  expect(said('Yes.', { optedOut: true }).action).toBe('start');
  expect(said('Yes.').action).toBe('none');
  expect(said('STOP', { optedOut: true }).action).toBe('stop');
});

test('a wrong number stops, marks the number and goes to a person', () => {
  expect(said('wrong number mate')).toMatchObject({ action: 'stop', numberBad: true, reachesPerson: true });
});
