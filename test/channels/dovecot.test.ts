import { ImapFlow } from 'imapflow';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type MailCursor, visitMailbox } from '../../src/channels/mailbox.ts';
import type { InboundEmail } from '../../src/channels/readMail.ts';
import { type DovecotServer, hasDovecot, startDovecot } from './dovecotServer.ts';

/* The mailbox against a real IMAP server. Where it is missing the reason is printed; in CI that is a failure. */

const TOKEN = 'k7q2m4x5k7q2m4x5k7q2m';
const there = hasDovecot();

test('the IMAP server is on this machine, or this is no CI', () => {
  expect(there || !process.env.CI, 'dovecot-core and dovecot-imapd are installed by .ci/run').toBe(true);
});
if (!there) console.warn('skipped: /usr/sbin/dovecot is not on this machine, or this is not root');

describe.runIf(there)('against Dovecot', () => {
  let server: DovecotServer;
  beforeAll(async () => {
    server = await startDovecot();
  });
  afterAll(() => server?.stop());

  const lineTo = () =>
    new ImapFlow({
      host: '127.0.0.1',
      port: server.port,
      secure: false,
      auth: { user: server.user, pass: server.password },
      logger: false,
    });
  /** Puts mails into the mailbox as another program would, and gives the flags of all. */
  const withLine = async <T>(work: (line: ImapFlow) => Promise<T>): Promise<T> => {
    const line = lineTo();
    await line.connect();
    try {
      return await work(line);
    } finally {
      await line.logout();
    }
  };
  const arrive = (...mails: readonly string[]) =>
    withLine(async (line) => {
      for (const mail of mails) await line.append('INBOX', mail.replace(/\r?\n/g, '\r\n'));
    });
  const flags = () =>
    withLine(async (line) => {
      await line.mailboxOpen('INBOX', { readOnly: true });
      const seen: boolean[] = [];
      for await (const one of line.fetch('1:*', { flags: true })) seen.push(one.flags!.has('\\Seen'));
      return seen;
    });
  const visit = (
    cursor: MailCursor | undefined,
    keep: (mail: InboundEmail) => Promise<void>,
    password?: string,
  ) =>
    visitMailbox(
      {
        host: '127.0.0.1',
        port: server.port,
        secure: false,
        user: server.user,
        password: password ?? server.password,
        mailbox: 'care@mail.example',
        bounceMailbox: 'bounce@mail.example',
        onlyThisMachine: true,
        deadlineMs: 10_000,
      },
      cursor,
      new Date('2026-03-03T10:00:00Z'),
      async (address) => address === 'sam@example.com',
      keep,
    );
  const mail = (number: number, headers: string, body: string) =>
    `Message-ID: <m${number}@example.com>\n${headers}\n\n${body}\n`;
  const toUs = (number: number) =>
    mail(
      number,
      `From: Sam <other@example.org>\nTo: care+${TOKEN}@mail.example\nSubject: Re: new glasses`,
      `Stairs swim ${number}.\n\nOn Tue, 3 Mar 2026 at 09:12, Fernside Optics <care@mail.example> wrote:\n> How are they?`,
    );

  test('only what concerns us is fetched and marked; 200 mails in one visit; what fails is read again', async () => {
    const kept: InboundEmail[] = [];
    const keep = async (one: InboundEmail) => void kept.push(one);
    const first = await visit(undefined, keep);
    if (!first.ok) throw new Error(first.why);
    const stranger = mail(
      1,
      'From: ads@example.net\nTo: care@mail.example\nSubject: Cheap lenses',
      'Buy now',
    );
    const wearer = mail(2, 'From: sam@example.com\nTo: care@mail.example\nSubject: hello', 'They slip.');
    const bounce = mail(
      3,
      `From: mailer-daemon@mx.example\nTo: bounce+${TOKEN}@mail.example\nSubject: failed\nMIME-Version: 1.0\nContent-Type: multipart/report; report-type=delivery-status; boundary=b`,
      '--b\nContent-Type: text/plain\n\nNot delivered.\n--b\nContent-Type: message/delivery-status\n\nReporting-MTA: dns; mx.example\n\nFinal-Recipient: rfc822; sam@example.com\nAction: failed\nStatus: 5.1.1\n\n--b--',
    );
    await arrive(toUs(0), stranger, wearer, bounce);
    const second = await visit(first.cursor, keep);
    expect(second).toMatchObject({ ok: true, looked: 4, kept: 3 });
    expect(kept.map((one) => one.reply.text.split('\n')[0])).toEqual([
      'Stairs swim 0.',
      'They slip.',
      'Not delivered.',
    ]);
    expect(kept[2]!.bounces).toMatchObject([{ status: '5.1.1', addressBad: true }]);
    expect(await flags()).toEqual([true, false, true, true]);

    kept.length = 0;
    if (!second.ok) throw new Error(second.why);
    await arrive(toUs(10), toUs(11));
    const broken = await visit(second.cursor, async (one) => {
      if (one.messageId === '<m11@example.com>') throw new Error('the store refuses');
      kept.push(one);
    });
    expect(broken).toMatchObject({ ok: false, why: 'the store refuses', signInFailed: false });
    expect((await flags()).slice(-2)).toEqual([true, false]);
    const again = await visit(broken.cursor, keep);
    expect(kept.map((one) => one.messageId)).toEqual(['<m10@example.com>', '<m11@example.com>']);
    if (!again.ok) throw new Error(again.why);

    kept.length = 0;
    await arrive(...Array.from({ length: 200 }, (_, at) => toUs(100 + at)));
    expect(await visit(again.cursor, keep)).toMatchObject({ ok: true, kept: 200 });
    expect(new Set(kept.map((one) => one.farId)).size).toBe(200);
  });

  test('a wrong password is told as such and the place in the mailbox is kept', async () => {
    const cursor = { uidValidity: '1', uid: 7 };
    const refused = await visit(cursor, async () => {}, 'wrong');
    expect(refused).toEqual({
      ok: false,
      why: 'the mail server does not accept our sign-in',
      signInFailed: true,
      cursor,
    });
  });
});
