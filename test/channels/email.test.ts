import type { AddressInfo } from 'node:net';
import { type ParsedMail, simpleParser } from 'mailparser';
import { SMTPServer } from 'smtp-server';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { type EmailChannel, emailChannel } from '../../src/channels/email.ts';
import { headersFor, tokenInMessageId } from '../../src/channels/emailHeaders.ts';
import { renderMessage } from '../../templates/renderMessage.ts';

type Got = { readonly from: string; readonly to: readonly string[]; readonly mail: ParsedMail };

const got: Got[] = [];
const hangUpAfterTheWords = new Set<string>();
let server: SMTPServer;
let mail: EmailChannel;

const REFUSALS: Readonly<Record<string, string>> = {
  'nobody@example.com': '550 5.1.1 no such user',
  'gone@example.com': '550 no mailbox here',
  'full@example.com': '552 5.2.2 over quota',
  'grey@example.com': '451 4.7.1 try again later',
  'policy@example.com': '554 5.7.1 not from you',
};

beforeAll(async () => {
  server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    allowInsecureAuth: true,
    onAuth: (auth, _session, done) =>
      auth.password === 'right' ? done(null, { user: 'shop' }) : done(new Error('wrong sign-in')),
    onRcptTo(address, _session, done) {
      const refusal = REFUSALS[address.address];
      if (!refusal) return done();
      const error = Object.assign(new Error(refusal.slice(4)), { responseCode: Number(refusal.slice(0, 3)) });
      return done(error);
    },
    onData(stream, session, done) {
      const pieces: Buffer[] = [];
      stream.on('data', (piece: Buffer) => pieces.push(piece));
      stream.on('end', async () => {
        const to = session.envelope.rcptTo.map((one) => one.address);
        const from = session.envelope.mailFrom === false ? '' : session.envelope.mailFrom.address;
        got.push({ from, to, mail: await simpleParser(Buffer.concat(pieces)) });
        // It has the words, and goes without a word of its own.
        if (to.some((one) => hangUpAfterTheWords.has(one)))
          for (const one of server.connections) one._socket.destroy();
        else done();
      });
    },
  });
  server.on('error', () => {});
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  mail = channelTo((server.server.address() as AddressInfo).port);
});
afterAll(async () => {
  mail.close();
  await new Promise<void>((done) => server.close(done));
});
beforeEach(() => {
  got.length = 0;
});

function channelTo(port: number, extra: object = {}) {
  return emailChannel({
    host: '127.0.0.1',
    port,
    secure: false,
    fromName: 'Fernside Optics',
    mailbox: 'care@mail.example',
    bounceMailbox: 'bounce@mail.example',
    onlyThisMachine: true,
    deadlineMs: 5000,
    ...extra,
  });
}
const portOf = () => (server.server.address() as AddressInfo).port;

const TOKEN = 'k7q2m4x5k7q2m4x5k7q2m';
const headers = (attemptKey: string) =>
  headersFor({
    kind: 'by schedule',
    attemptKey,
    replyToken: TOKEN,
    mailbox: 'care@mail.example',
    bounceMailbox: 'bounce@mail.example',
    stopUrl: `https://shop.example/s/${TOKEN}`,
  });

function checkIn(attemptId: string, to = 'sam@example.com') {
  const letter = renderMessage({
    purpose: 'check-in',
    day: 3,
    locale: 'es',
    channel: 'email',
    shop: { name: 'Fernside Optics', phone: '+1 212 555 0100', localNumbers: [] },
    wearer: { firstName: 'María' },
  });
  return mail.send({
    attemptId,
    to,
    subject: letter.subject ?? '',
    text: letter.text,
    html: letter.html ?? '',
    headers: headers(attemptId),
  });
}

test('a check-in arrives in plain words and HTML, from the shop, with a reply address and a bounce address of its own', async () => {
  const result = await checkIn('a1');
  const { from, to, mail: arrived } = got[0]!;
  expect(result).toEqual({ state: 'accepted', farId: `<ci-a1.${TOKEN}@mail.example>` });
  expect(to).toEqual(['sam@example.com']);
  expect(from).toBe(`bounce+${TOKEN}@mail.example`);
  expect(arrived.from?.text).toBe('"Fernside Optics" <care@mail.example>');
  expect(arrived.replyTo?.text).toBe(`care+${TOKEN}@mail.example`);
  expect(arrived.subject).toBe('¿Qué tal sus lentes nuevos?');
  expect(arrived.text).toContain('1 veo bien · 2 voy mejor');
  expect(arrived.html).toContain('<p>Hola, Mar');
});

test('it says that a machine wrote it, and how to stop with one click', async () => {
  await checkIn('a2');
  const { headerLines } = got[0]!.mail;
  const line = (name: string) => headerLines.find((one) => one.key === name)?.line.replace(/\s+/g, ' ');
  expect(line('auto-submitted')).toBe('Auto-Submitted: auto-generated');
  expect(line('list-unsubscribe')).toBe(`List-Unsubscribe: <https://shop.example/s/${TOKEN}>`);
  expect(line('list-unsubscribe-post')).toBe('List-Unsubscribe-Post: List-Unsubscribe=One-Click');
  expect(line('return-path')).toBeUndefined();
});

test('a repeat is the same message: its id is the same', async () => {
  await checkIn('a3');
  await checkIn('a3');
  expect(new Set(got.map((one) => one.mail.messageId)).size).toBe(1);
  expect(tokenInMessageId(got[0]!.mail.messageId!, 'mail.example')).toBe(TOKEN);
});

test.each([
  ['nobody@example.com', 'bad address'],
  ['gone@example.com', 'bad address'],
  ['full@example.com', 'later'],
  ['grey@example.com', 'later'],
  ['policy@example.com', 'tell staff'],
])('%s is refused: %s', async (to, act) => {
  expect(await checkIn('r1', to)).toMatchObject({ state: 'refused', act });
  expect(got).toEqual([]);
});

test('a line that drops after the words were sent leaves the message unsure', async () => {
  hangUpAfterTheWords.add('dropped@example.com');
  expect(await checkIn('d1', 'dropped@example.com')).toMatchObject({ state: 'unsure' });
  expect(got).toHaveLength(1);
});

test('a mail server that is not there has taken nothing: later', async () => {
  const nowhere = channelTo(1);
  expect(await nowhere.send({ attemptId: 'x', to: 'sam@example.com', text: 'x' })).toMatchObject({
    state: 'refused',
    act: 'later',
  });
  expect(await nowhere.verify()).toMatch(/ECONNREFUSED/);
});

test('a sign-in that is not accepted holds every email', async () => {
  const wrong = channelTo(portOf(), { user: 'shop', password: 'wrong' });
  expect(await wrong.send({ attemptId: 'x', to: 'sam@example.com', text: 'x' })).toMatchObject({
    act: 'hold all',
  });
  expect(await channelTo(portOf(), { user: 'shop', password: 'right' }).verify()).toBeUndefined();
});

test('a line break in a subject or an address adds no header', async () => {
  await mail.send({
    attemptId: 'i1',
    to: 'sam@example.com',
    subject: 'Hello\r\nBcc: other@example.org',
    text: 'x',
    headers: headers('i1'),
  });
  expect(got[0]!.to).toEqual(['sam@example.com']);
  expect(got[0]!.mail.bcc).toBeUndefined();
});

test('no host but this machine may be reached in tests', () => {
  expect(() => channelTo(25, { host: 'smtp.example.com' })).toThrow(/not this machine/);
});
