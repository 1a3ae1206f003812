import { afterEach, beforeEach, expect, test } from 'vitest';
import { type MailCursor, visitMailbox } from '../../src/channels/mailbox.ts';
import type { InboundEmail } from '../../src/channels/readMail.ts';
import { startImapStandIn } from './imapStandIn.ts';

const SIGN = { user: 'care', password: 'a secret of the mailbox' };
const TOKEN = 'k7q2m4x5k7q2m4x5k7q2m';
const NOW = new Date('2026-03-03T10:00:00Z');
const WEARERS = new Set(['sam@example.com']);

let server: Awaited<ReturnType<typeof startImapStandIn>>;
let kept: InboundEmail[];

beforeEach(async () => {
  server = await startImapStandIn(SIGN);
  kept = [];
});
afterEach(() => server.stop());

function visit(
  cursor: MailCursor | undefined,
  keep?: (mail: InboundEmail) => Promise<void>,
  password = SIGN.password,
) {
  return visitMailbox(
    {
      host: '127.0.0.1',
      port: server.port,
      secure: false,
      user: SIGN.user,
      password,
      mailbox: 'care@mail.example',
      bounceMailbox: 'bounce@mail.example',
      onlyThisMachine: true,
      deadlineMs: 5000,
    },
    cursor,
    NOW,
    async (address) => WEARERS.has(address),
    keep ??
      (async (mail) => {
        kept.push(mail);
      }),
  );
}

async function started(): Promise<MailCursor> {
  const first = await visit(undefined);
  if (!first.ok) throw new Error(first.why);
  return first.cursor;
}

const mail = (headers: string, body: string) =>
  `Message-ID: <m${body.length}@example.com>\n${headers}\n\n${body}\n`;
const REPLY = mail(
  `From: Sam <other@example.org>\nTo: care+${TOKEN}@mail.example\nSubject: Re: How are your new glasses?`,
  'Stairs still swim.\n\nOn Tue, 3 Mar 2026 at 09:12, Fernside Optics <care@mail.example> wrote:\n> How are they?',
);
const STRANGER = mail('From: ads@example.net\nTo: care@mail.example\nSubject: Cheap lenses', 'Buy now');

test('the first visit begins with what comes from then on', async () => {
  server.arrive(REPLY);
  const cursor = await started();
  expect(kept).toEqual([]);
  server.arrive(REPLY);
  expect(await visit(cursor)).toMatchObject({ ok: true, looked: 1, kept: 1 });
});

test('a reply to our address is kept with its own words, whoever sent it, and marked as seen', async () => {
  const cursor = await started();
  const arrived = server.arrive(REPLY);
  const second = await visit(cursor);
  expect(kept[0]).toMatchObject({ from: 'other@example.org', to: [`care+${TOKEN}@mail.example`] });
  expect(kept[0]!.reply).toEqual({ text: 'Stairs still swim.', reachesPerson: false, why: null });
  expect(kept[0]!.wholeText).toContain('> How are they?');
  expect(arrived.flags.has('\\Seen')).toBe(true);
  if (!second.ok) throw new Error(second.why);
  expect(await visit(second.cursor)).toMatchObject({ ok: true, looked: 0, kept: 0 });
});

test('mail in a thread of ours and mail from a wearer is kept', async () => {
  const cursor = await started();
  server.arrive(
    mail(
      `From: x@example.org\nTo: care@mail.example\nReferences: <ci-9.${TOKEN}@mail.example>`,
      'in the thread',
    ),
  );
  server.arrive(mail('From: Sam <Sam@Example.com>\nTo: care@mail.example', 'from a wearer'));
  await visit(cursor);
  expect(kept.map((one) => one.wholeText.trim())).toEqual(['in the thread', 'from a wearer']);
});

test('what is not ours is neither fetched nor marked', async () => {
  const cursor = await started();
  const strangers = [
    server.arrive(STRANGER),
    server.arrive(
      mail('From: x@example.org\nTo: care@mail.example\nReferences: <ci-9.abc@evil.example>', 'y'),
    ),
    server.arrive(mail('From: x@example.org\nTo: news+abc@other.example', 'z')),
  ];
  expect(await visit(cursor)).toMatchObject({ ok: true, looked: 3, kept: 0 });
  expect(kept).toEqual([]);
  for (const one of strangers) expect(one.flags.size).toBe(0);
  const fetches = server.commands.filter((command) => command.startsWith('UID FETCH'));
  expect(fetches.length).toBe(3);
  for (const command of fetches) expect(command).toMatch(/BODY\.PEEK\[HEADER\.FIELDS/);
});

test('a mail that could not be kept is not marked, and is read again', async () => {
  const cursor = await started();
  const arrived = server.arrive(REPLY);
  const failed = await visit(cursor, async () => {
    throw new Error('the store refuses the write');
  });
  expect(failed).toMatchObject({ ok: false, why: 'the store refuses the write', cursor });
  expect(arrived.flags.size).toBe(0);
  await visit(failed.cursor);
  expect(kept).toHaveLength(1);
});

test('a line that drops after the mail was kept reads it again under the same far id', async () => {
  const cursor = await started();
  server.arrive(REPLY);
  server.dropLineAt('UID STORE');
  expect(await visit(cursor)).toMatchObject({ ok: false, signInFailed: false });
  // The process died before it wrote down how far it had come.
  await visit(cursor);
  expect(kept).toHaveLength(2);
  expect(kept[0]!.farId).toBe(kept[1]!.farId);
});

test('a mailbox that was numbered anew is looked through again, and what was kept is known by its far id', async () => {
  const cursor = await started();
  server.arrive(STRANGER);
  server.arrive(REPLY);
  const before = await visit(cursor);
  server.renumber();
  const again = await visit(before.cursor);
  expect(again).toMatchObject({ ok: true, looked: 2, kept: 1 });
  expect(new Set(kept.map((one) => one.farId)).size).toBe(1);
});

test('a forged Message-ID shadows nobody’s mail', async () => {
  const cursor = await started();
  server.arrive(REPLY);
  server.arrive(REPLY.replace('Stairs', 'Floors'));
  await visit(cursor);
  expect(new Set(kept.map((one) => one.messageId)).size).toBe(1);
  expect(new Set(kept.map((one) => one.farId)).size).toBe(2);
});

test('a wrong sign-in says so, and says nothing of the password', async () => {
  const refused = await visit(undefined, undefined, 'wrong');
  expect(refused).toMatchObject({ ok: false, signInFailed: true });
  expect(JSON.stringify(refused)).not.toContain('"wrong"');
});

test('a bounce to its own address tells which recipient failed and why', async () => {
  const cursor = await started();
  server.arrive(
    [
      'From: Mail Delivery System <MAILER-DAEMON@mx.example>',
      `To: bounce+${TOKEN}@mail.example`,
      'Message-ID: <b1@mx.example>',
      'MIME-Version: 1.0',
      'Content-Type: multipart/report; report-type=delivery-status; boundary="b"',
      '',
      '--b',
      'Content-Type: text/plain',
      '',
      'Your message could not be delivered.',
      '--b',
      'Content-Type: message/delivery-status',
      '',
      'Reporting-MTA: dns; mx.example',
      '',
      'Final-Recipient: rfc822; sam@example.com',
      'Action: failed',
      'Status: 5.1.1',
      '--b--',
      '',
    ].join('\n'),
  );
  await visit(cursor);
  expect(kept[0]!.automatic).toMatchObject({ automatic: true, mayAnswer: false });
  expect(kept[0]!.bounces).toMatchObject([{ address: 'sam@example.com', addressBad: true }]);
});

test('an out-of-office is kept and never answered', async () => {
  const cursor = await started();
  server.arrive(
    mail(
      'From: sam@example.com\nTo: care@mail.example\nAuto-Submitted: auto-replied\nSubject: Away',
      'Back on Monday',
    ),
  );
  await visit(cursor);
  expect(kept[0]!.automatic).toEqual({
    automatic: true,
    mayAnswer: false,
    isReply: false,
    reachesPerson: false,
  });
});

test('pictures are kept without where they were taken, other attachments are counted', async () => {
  const cursor = await started();
  const jpeg = Buffer.concat([
    Buffer.from([0xff, 0xd8, 0xff, 0xe1, 0, 12]),
    Buffer.from('Exif\0\0GPS!'),
    Buffer.from([0xff, 0xda, 0, 2, 1, 2, 3, 0xff, 0xd9]),
  ]);
  server.arrive(
    [
      'From: sam@example.com',
      'To: care@mail.example',
      'Message-ID: <p1@example.com>',
      'MIME-Version: 1.0',
      'Content-Type: multipart/mixed; boundary="b"',
      '',
      '--b',
      'Content-Type: text/plain',
      '',
      'see here',
      '--b',
      'Content-Type: image/jpeg; name="a.jpg"',
      'Content-Transfer-Encoding: base64',
      'Content-Disposition: attachment; filename="a.jpg"',
      '',
      jpeg.toString('base64'),
      '--b',
      'Content-Type: application/zip; name="a.zip"',
      'Content-Transfer-Encoding: base64',
      'Content-Disposition: attachment; filename="a.zip"',
      '',
      'UEsDBA==',
      '--b--',
      '',
    ].join('\n'),
  );
  await visit(cursor);
  expect(kept[0]!.leftOut).toBe(1);
  expect(kept[0]!.pictures).toHaveLength(1);
  expect(Buffer.from(kept[0]!.pictures[0]!.bytes).includes('GPS')).toBe(false);
});

test('no host but this machine may be reached in tests', async () => {
  await expect(
    visitMailbox(
      {
        host: 'imap.example.com',
        port: 993,
        secure: true,
        user: '',
        password: '',
        mailbox: 'care@mail.example',
        bounceMailbox: 'bounce@mail.example',
        onlyThisMachine: true,
      },
      undefined,
      NOW,
      async () => false,
      async () => {},
    ),
  ).rejects.toThrow(/not this machine/);
});
