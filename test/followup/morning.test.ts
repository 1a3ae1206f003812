import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { isMorning, sendMorningLists } from '../../src/followup/morningLists.ts';
import { endingSoon, watchDeadlines } from '../../src/followup/watchDeadlines.ts';
import type { Database } from '../../src/store/database.ts';
import { findShop } from '../../src/store/shops.ts';
import { morningMail } from '../../templates/morningList.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

const usual = { time_zone: 'America/New_York', settings: {} };

describe('when the morning list goes', () => {
  test.each([
    ['7:29 on a Monday', '2026-03-02T12:29:59Z', false],
    ['7:30', '2026-03-02T12:30:00Z', true],
    ['11:59', '2026-03-02T16:59:59Z', true],
    ['noon', '2026-03-02T17:00:00Z', false],
    ['7:30 on a Sunday, closed', '2026-03-01T12:30:00Z', false],
    ['7:30 once the clocks have gone forward', '2026-03-09T11:30:00Z', true],
  ])('%s', (_when, at, is) => {
    expect(isMorning(usual, new Date(at))).toBe(is);
  });
});

const quiet = {
  shopName: 'Shop',
  firstName: 'Ana',
  day: 'Mon 2 Mar',
  danger: 0,
  toRing: [],
  endsSoon: [],
  cases: 0,
  heldByYou: 0,
  tray: 0,
  claims: 0,
};

test('an empty day brings no mail; thirteen to ring are twelve lines and one more', () => {
  expect(morningMail(quiet)).toBeUndefined();
  const line = { initial: 'O', job: 'J-1', what: 'asked to be rung' };
  const mail = morningMail({ ...quiet, toRing: Array.from({ length: 13 }, () => line) })!;
  expect(mail.subject).toBe('Shop, Mon 2 Mar: 13 to ring');
  expect(mail.text.match(/- O\., job J-1: asked to be rung/g)).toHaveLength(12);
  expect(mail.text).toContain('- and 1 more');
});

describe.each(DATABASES)('the morning of a shop (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
    await database.db.updateTable('person').set({ email: 'owner@example.org' }).execute();
  });
  afterAll(() => database.close());

  const mails = () =>
    database.db
      .selectFrom('rehearsal_item')
      .select(['address', 'subject', 'body'])
      .where('address', '=', 'owner@example.org')
      .where('attempt_id', 'like', 'morning-%')
      .execute();
  const notes = async () =>
    (
      await database.db
        .selectFrom('case_event')
        .select('detail')
        .where('by_name', '=', 'Afterfit')
        .where('kind', '=', 'note')
        .execute()
    ).map((row) => row.detail.text);

  test('each person gets it once a day, with initials and job numbers and no word of a wearer', async () => {
    const { phone } = await world.job({ name: 'Otto Lind', number: 'J-8' });
    await world.says(phone, 'please ring me, reading is hopeless with these');
    world.clock.moveTo(new Date('2026-03-03T12:30:00Z'));
    expect(await sendMorningLists(world.shell)).toBe(1);
    expect(await sendMorningLists(world.shell)).toBe(0);
    const [mail, ...more] = await mails();
    expect(more).toEqual([]);
    expect(mail!.subject).toBe('Test shop, Tue 3 Mar: 1 to ring, 1 case');
    expect(mail!.body).toContain('- O., job J-8: asked to be rung; promised by Mon 2 Mar 17:00');
    expect(mail!.body).not.toMatch(/Otto|Lind|reading|hopeless/);
    world.clock.moveTo(new Date('2026-03-04T12:30:00Z'));
    expect(await sendMorningLists(world.shell)).toBe(1);
  });

  test('who has left, and who has no address, gets none; who holds a case is told so', async () => {
    const { phone } = await world.job();
    await world.says(phone, 'the frame is crooked on my face');
    const file = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
    await actOnCase(world.shell, SHOP, file.case_id, { kind: 'hold' }, 'Owner');
    const staff = {
      shop_id: SHOP,
      phone_e164: null,
      role: 'staff' as const,
      licence_number: null,
      licensed_until: null,
      on_call_order: null,
      created_at: world.clock.now(),
    };
    await database.db
      .insertInto('person')
      .values([
        { ...staff, person_id: 'gone', name: 'Gone', email: 'gone@example.org', active: false },
        { ...staff, person_id: 'silent', name: 'Silent', email: null },
      ])
      .execute();
    world.clock.moveTo(new Date('2026-03-03T13:00:00Z'));
    expect(await sendMorningLists(world.shell)).toBe(1);
    expect((await mails())[0]!.body).toContain('You hold 1 case.');
  });

  test('a promise is spoken of from three days before its last day, once, and not when it is past', async () => {
    // First worn on 2 March: 30 days end on 1 April; the lab's 60 from the hand-over, at worst, on 1 May.
    const { phone } = await world.job({ handedOverOn: '2026-03-02' });
    await world.says(phone, 'the frame is crooked on my face');
    world.clock.moveTo(new Date('2026-03-28T16:00:00Z'));
    expect(await watchDeadlines(world.shell)).toBe(0);
    world.clock.moveTo(new Date('2026-03-29T16:00:00Z'));
    expect(await watchDeadlines(world.shell)).toBe(1);
    expect(await watchDeadlines(world.shell)).toBe(0);
    expect(await notes()).toEqual(['our promise to the wearer ends on 2026-04-01: 3 days left']);
    const soon = async () =>
      (await endingSoon(database.db, await findShop(database.db, SHOP), world.clock.now())).map(
        (one) => one.deadline.whose,
      );
    world.clock.moveTo(new Date('2026-04-01T16:00:00Z'));
    expect(await soon()).toEqual(['promise']);
    world.clock.moveTo(new Date('2026-04-02T16:00:00Z'));
    expect(await soon()).toEqual([]);
    world.clock.moveTo(new Date('2026-04-29T16:00:00Z'));
    await watchDeadlines(world.shell);
    expect((await notes()).at(-1)).toBe('the lab’s remake window ends on 2026-05-01: 2 days left, at worst');
  });

  test('a deadline that is moved by a date is a new one', async () => {
    const { phone } = await world.job({ handedOverOn: '2026-03-02' });
    await world.says(phone, 'the frame is crooked on my face');
    world.clock.moveTo(new Date('2026-04-29T16:00:00Z'));
    expect(await watchDeadlines(world.shell)).toBe(1);
    await database.db.updateTable('job').set({ lab_invoiced_on: '2026-03-01' }).execute();
    expect(await watchDeadlines(world.shell)).toBe(1);
  });
});
