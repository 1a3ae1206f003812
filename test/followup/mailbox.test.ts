import type { AddressInfo } from 'node:net';
import { sql } from 'kysely';
import { type ParsedMail, simpleParser } from 'mailparser';
import { SMTPServer } from 'smtp-server';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { OffsetClock } from '../../src/clock.ts';
import { readConfig } from '../../src/config.ts';
import { standingTroubles } from '../../src/followup/standing.ts';
import { openRoom, type Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { findShop } from '../../src/store/shops.ts';
import { startImapStandIn } from '../channels/imapStandIn.ts';
import { freshDatabase } from '../setup/databases.ts';
import { tickAll } from './liveTicks.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

/* Emails end to end on this machine: out by SMTP to a real server's library, in by IMAP from a stand-in. */

const IDA = 'ida.quill@mail.example';
const BOX = { user: 'care', password: 'a secret of the mailbox' };

describe('a shop with a mailbox', () => {
  let database: Database;
  let world: TestWorld;
  let room: Room;
  let smtp: SMTPServer;
  let imap: Awaited<ReturnType<typeof startImapStandIn>>;
  let got: { from: string; mail: ParsedMail }[];
  beforeAll(async () => {
    database = await freshDatabase('embedded');
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    got = [];
    world = await openWorld(database);
    await tickAll(database.db, SHOP, { mailbox: 'care@shop.example' });
    imap = await startImapStandIn(BOX);
    smtp = new SMTPServer({
      authOptional: true,
      disabledCommands: ['STARTTLS'],
      onData(stream, session, done) {
        const pieces: Buffer[] = [];
        stream.on('data', (piece: Buffer) => pieces.push(piece));
        stream.on('end', async () => {
          const from = session.envelope.mailFrom === false ? '' : session.envelope.mailFrom.address;
          got.push({ from, mail: await simpleParser(Buffer.concat(pieces)) });
          done();
        });
      },
    });
    await new Promise<void>((ready) => smtp.listen(0, '127.0.0.1', ready));
    await database.db
      .updateTable('person')
      .set({ email: 'ana@shop.example' })
      .where('shop_id', '=', SHOP)
      .execute();
    room = await open();
    await room.work();
  });
  afterEach(async () => {
    await room.close();
    await imap.stop();
    await new Promise<void>((done) => smtp.close(() => done()));
  });

  const open = async (password = BOX.password): Promise<Room> => {
    const config = readConfig({
      AFTERFIT_SMTP_HOST: '127.0.0.1',
      AFTERFIT_SMTP_PORT: String((smtp.server.address() as AddressInfo).port),
      AFTERFIT_IMAP_HOST: '127.0.0.1',
      AFTERFIT_IMAP_PORT: String(imap.port),
      AFTERFIT_IMAP_USER: BOX.user,
      AFTERFIT_IMAP_PASSWORD: password,
      AFTERFIT_MAILBOX: 'care@shop.example',
      AFTERFIT_BOUNCE_MAILBOX: 'bounce@shop.example',
      AFTERFIT_SECRET: 'a secret that is only for these tests',
    });
    if (!config.ok) throw new Error(config.problems[0]!.what);
    const clock: OffsetClock = { now: world.clock.now, offsetMs: () => 0, setOffsetMs() {} };
    const lent = { database: { ...database, close: async () => {} }, journal: noJournal };
    const outside = { carriers: config.value.carriers, trial: { onlyThisMachine: true } };
    return (await openRoom(lent, 'own', undefined, silentLog, () => clock, outside))!;
  };
  const toIda = () => got.filter((one) => [one.mail.to].flat()[0]?.text === IDA);
  const written = (headers: string, body: string) =>
    imap.arrive(`Message-ID: <m${got.length}.${body.length}@mail.example>\n${headers}\n\n${body}\n`);
  const newest = () =>
    database.db
      .selectFrom('inbound as i')
      .innerJoin('inbound_standing as s', 's.inbound_id', 'i.inbound_id')
      .select(['i.body', 's.state', 's.linked_how', 's.tray_why', 's.answer_state'])
      .orderBy('i.received_at', 'desc')
      .executeTakeFirst();
  const replyTo = () => [toIda().at(-1)!.mail.replyTo].flat()[0]!.text;
  const emailWearer = () => world.job({ email: IDA, prefers: 'email' });

  test('tips go out with an address of their own for replies; a reply to it is linked by it, whoever sent it', async () => {
    await emailWearer();
    await room.work();
    expect(toIda()).toHaveLength(1);
    expect(replyTo()).toMatch(/^care\+[a-z2-7]{21}@shop\.example$/);
    expect(toIda()[0]!.from).toBe(replyTo().replace('care', 'bounce'));
    written(
      `From: Sam <another@mail.example>\nTo: ${replyTo()}\nSubject: Re: your new glasses`,
      'the floor sways when I turn my head\n\nOn Mon, 2 Mar 2026 at 10:00, Test shop <care@shop.example> wrote:\n> Tips for the first days',
    );
    world.clock.moveTo(new Date('2026-03-02T15:05:00Z'));
    await room.work();
    expect(await newest()).toMatchObject({
      body: 'the floor sways when I turn my head',
      state: 'sorted',
      linked_how: 'reply token',
    });
    written(`From: ${IDA}\nTo: ${replyTo()}\nSubject: Re: your new glasses`, 'is it ok to drive in them?');
    await room.work();
    world.clock.moveTo(new Date('2026-03-02T15:10:00Z'));
    await room.work();
    const answer = toIda().at(-1)!.mail;
    expect(answer.inReplyTo).toMatch(/^<m1\.\d+@mail\.example>$/);
    expect(answer.headers.get('auto-submitted')).toBe('auto-replied');
  });

  test('at the start mail of the last 7 days that is not on record comes back, and what is there is not read anew', async () => {
    await emailWearer();
    await room.work();
    written(`From: ${IDA}\nTo: ${replyTo()}\nSubject: Re: your new glasses`, 'they keep slipping down');
    written(`From: ${IDA}\nTo: ${replyTo()}\nSubject: Re: your new glasses`, 'and the arm pinches');
    await room.work();
    const bodies = async () =>
      (await database.db.selectFrom('inbound').select('body').orderBy('received_at').execute()).map(
        (row) => row.body,
      );
    expect(await bodies()).toHaveLength(2);
    await sql`truncate inbound cascade`.execute(database.db);
    await room.work();
    expect(await bodies()).toEqual([]);
    // As after a restore from an older copy: the process starts again.
    room = await open();
    await room.work();
    expect((await bodies()).sort()).toEqual(['and the arm pinches', 'they keep slipping down']);
    room = await open();
    await room.work();
    expect(await bodies()).toHaveLength(2);
  });

  test('stop by email is obeyed and confirmed once; danger by email rings the person on call', async () => {
    await emailWearer();
    await room.work();
    written(`From: ${IDA}\nTo: care@shop.example\nSubject: no more`, 'please stop emailing me');
    await room.work();
    await room.work();
    expect(toIda().at(-1)!.mail.text).toMatch(/no more emails/i);
    written(
      `From: ${IDA}\nTo: care@shop.example\nSubject: eye`,
      'since this morning lots of new floaters and flashes',
    );
    await room.work();
    await room.work();
    const alarm = got.find((one) => [one.mail.to].flat()[0]?.text === 'ana@shop.example')!;
    expect(alarm.mail.subject).toContain('RING NOW: W.');
    expect(`${alarm.mail.subject} ${alarm.mail.text}`).not.toMatch(/floater|flash/i);
  });

  test('the mail program’s own stop button sends an empty mail with STOP for its subject, and it is a stop', async () => {
    await emailWearer();
    await room.work();
    const offered = toIda()[0]!.mail.headerLines.find((line) => line.key === 'list-unsubscribe')!.line;
    expect(offered.replace(/\s+/g, ' ')).toBe(`List-Unsubscribe: <mailto:${replyTo()}?subject=STOP>`);
    written(`From: ${IDA}\nTo: ${replyTo()}\nSubject: STOP`, '');
    await room.work();
    const consents = await database.db.selectFrom('wearer_contact').select('consent').execute();
    expect(consents.map((one) => one.consent)).toEqual(['withdrawn', 'withdrawn']);
  });

  test('out of office is kept and shown, and is no answer', async () => {
    await emailWearer();
    await room.work();
    written(
      `From: ${IDA}\nTo: ${replyTo()}\nSubject: Away\nAuto-Submitted: auto-replied`,
      'I stop work for the week and am back on Monday',
    );
    await room.work();
    expect(await newest()).toMatchObject({ state: 'sorted', answer_state: 'none' });
    expect(await database.db.selectFrom('reading').selectAll().execute()).toEqual([]);
    const consent = await database.db
      .selectFrom('wearer_contact')
      .select('consent')
      .where('channel', '=', 'email')
      .executeTakeFirstOrThrow();
    expect(consent.consent).toBe('given');
  });

  test('a bounce marks the address and the message goes by the other channel, or a person rings', async () => {
    await emailWearer();
    await room.work();
    const bounceTo = toIda()[0]!.from;
    imap.arrive(
      [
        'Message-ID: <b1@mail.example>',
        'From: MAILER-DAEMON@mail.example',
        `To: ${bounceTo}`,
        'Subject: Undelivered',
        'Auto-Submitted: auto-replied',
        'Content-Type: multipart/report; report-type=delivery-status; boundary="x"',
        '',
        '--x',
        'Content-Type: text/plain',
        '',
        'It could not be delivered.',
        '--x',
        'Content-Type: message/delivery-status',
        '',
        'Reporting-MTA: dns; mail.example',
        '',
        `Final-Recipient: rfc822; ${IDA}`,
        'Action: failed',
        'Status: 5.1.1',
        'Diagnostic-Code: smtp; 550 5.1.1 no such user',
        '',
        '--x--',
        '',
      ].join('\n'),
    );
    await room.work();
    const contact = await database.db
      .selectFrom('contact_point')
      .select('unusable_why')
      .where('channel', '=', 'email')
      .executeTakeFirstOrThrow();
    expect(contact.unusable_why).toContain('no such user');
    expect(await database.db.selectFrom('inbound').selectAll().execute()).toEqual([]);
  });

  test('a mailbox that cannot be read has a standing line until it can', async () => {
    await room.close();
    room = await open('a wrong password');
    await room.work();
    const shop = await findShop(database.db, SHOP);
    expect((await standingTroubles(room.shell, shop)).join(' ')).toContain(
      'The mailbox cannot be read: the mail server does not accept our sign-in.',
    );
    await room.close();
    room = await open();
    await room.work();
    expect(await standingTroubles(room.shell, shop)).toEqual([]);
  });
});
