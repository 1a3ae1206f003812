import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import type { Channel, SendResult } from '../../src/channels/channel.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { testAlarm } from '../../src/followup/alarmTest.ts';
import { doneWithTray } from '../../src/followup/settleTray.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import { newId } from '../../src/ids.ts';
import type { Database } from '../../src/store/database.ts';
import { storeRaw } from '../../src/store/inbound.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

/* People on call and the danger that they are told of, on both databases. Numbers are reserved for fiction. */

const DANGER = 'since this morning lots of new floaters and flashes in my left eye';
const ANA = { name: 'Ana Brook', phone: '+12025550190', email: 'ana@shop.example' };
const TOM = { name: 'Tom Reyes', phone: '+12025550191', email: 'tom@shop.example' };
const MINUTE = 60_000;

describe.each(DATABASES)('the alarm, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const onCall = async (person: typeof ANA, order: number): Promise<string> => {
    const personId = newId(world.clock.now());
    await database.db
      .insertInto('person')
      .values({
        shop_id: SHOP,
        person_id: personId,
        name: person.name,
        email: person.email,
        phone_e164: person.phone,
        role: 'staff',
        licence_number: null,
        licensed_until: null,
        on_call_order: order + 1,
        created_at: world.clock.now(),
      })
      .execute();
    return personId;
  };
  const calls = () =>
    database.db
      .selectFrom('alarm_call')
      .select(['person_name', 'channel', 'address', 'subject', 'body', 'state', 'why', 'at'])
      .orderBy('at')
      .orderBy('channel', 'desc')
      .execute();
  const told = async () =>
    (await calls())
      .filter((one) => one.channel === 'text')
      .map((one) => `${one.person_name} ${clock(one.at)}`);
  const clock = (at: Date) => at.toISOString().slice(11, 16);
  const arrived = async (address: string) =>
    database.db.selectFrom('rehearsal_item').select(['body', 'at']).where('address', '=', address).execute();
  const onlyCase = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
  const later = (minutes: number) => new Date(world.clock.now().getTime() + minutes * MINUTE);
  const says = (shell: Shell, from: string, body: string) =>
    takeReply(shell, {
      shopId: SHOP,
      channel: 'text',
      farId: `SM-${newId(world.clock.now())}`,
      from,
      to: null,
      body,
      receivedAt: world.clock.now().toISOString(),
      raw: {},
    });

  test('the first person is told by text and email before the reply is answered for, without waiting for a tick', async () => {
    await onCall(ANA, 1);
    await onCall(TOM, 2);
    const { phone } = await world.job({ name: 'Zelda Marsh' });
    await world.playTo('2026-03-05T15:30:00Z');
    await says({ ...world.shell, pagesAt: 'https://shop.example' }, phone, DANGER);
    const [text] = await arrived(ANA.phone);
    const [email] = await arrived(ANA.email);
    expect(text!.at).toEqual(world.clock.now());
    expect(email!.at).toEqual(world.clock.now());
    const file = await onlyCase();
    for (const { body } of [text!, email!]) {
      expect(body).toContain('RING NOW: Z.');
      expect(body).toContain(`https://shop.example/cases/${file.case_id}`);
      for (const word of ['Zelda', 'Marsh', 'floater', 'flash', 'eye', phone])
        expect(body).not.toContain(word);
    }
    expect(await arrived(TOM.phone)).toEqual([]);
  });

  test('again after five minutes, then the next, round and round, half-hourly after an hour, until someone has it', async () => {
    await onCall(ANA, 1);
    await onCall(TOM, 2);
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:00:00Z');
    await world.says(phone, DANGER);
    await world.playTo(later(22));
    expect(await told()).toEqual([
      'Ana Brook 15:00',
      'Ana Brook 15:05',
      'Tom Reyes 15:10',
      'Tom Reyes 15:15',
      'Ana Brook 15:20',
    ]);
    const second = (await calls()).find((one) => clock(one.at) === '15:05')!;
    expect(second.body).toContain('Told 2 times now.');
    expect(second.body).toContain('They have had the caution.');
    for (const at of ['16:20', '16:30', '17:00', '17:10']) await world.playTo(`2026-03-05T${at}:00Z`);
    expect((await told()).slice(11)).toEqual([
      'Tom Reyes 15:55',
      'Ana Brook 16:00',
      'Ana Brook 16:30',
      'Tom Reyes 17:00',
    ]);
    await actOnCase(world.shell, SHOP, (await onlyCase()).case_id, { kind: 'have it' }, 'Ana Brook');
    await world.playTo('2026-03-06T17:10:00Z');
    expect(await told()).toHaveLength(15);
    const alarm = await database.db.selectFrom('alarm').selectAll().executeTakeFirstOrThrow();
    expect(alarm.ended_why).toBe('Ana Brook has it');
  });

  test('a new danger sign on a case that someone has is told again; a second one while the alarm goes is not doubled', async () => {
    await onCall(ANA, 1);
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:00:00Z');
    await world.says(phone, DANGER);
    await world.says(phone, 'now there is a dark curtain over half of my sight');
    expect(await told()).toHaveLength(1);
    await actOnCase(world.shell, SHOP, (await onlyCase()).case_id, { kind: 'have it' }, 'Ana Brook');
    world.clock.moveTo(later(1));
    await world.says(phone, DANGER);
    expect(await told()).toHaveLength(2);
    await actOnCase(world.shell, SHOP, (await onlyCase()).case_id, { kind: 'have it' }, 'Ana Brook');
    await world.playTo(later(30));
    await world.says(phone, DANGER);
    expect(await told()).toHaveLength(3);
  });

  test('the wearer’s stop and the night do not keep it back', async () => {
    await onCall(ANA, 1);
    const { phone } = await world.job();
    // Two in the morning in New York.
    await world.playTo('2026-03-06T07:00:00Z');
    await world.says(phone, 'STOP');
    await world.playTo('2026-03-07T07:00:00Z');
    await world.says(phone, `${DANGER}, and stop texting me`);
    expect(await told()).toEqual(['Ana Brook 07:00']);
  });

  test('killed between storing and sorting, or between sorting and sending: told after the restart', async () => {
    await onCall(ANA, 1);
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:00:00Z');
    await storeRaw(database.db, [
      {
        shopId: SHOP,
        channel: 'text',
        farId: 'SM-killed',
        from: phone,
        to: null,
        body: DANGER,
        receivedAt: world.clock.now().toISOString(),
        raw: {},
      },
    ]);
    expect(await told()).toEqual([]);
    await tick(world.shell);
    expect(await told()).toEqual(['Ana Brook 15:00']);

    const other = await world.job();
    const dies: Shell = {
      ...world.shell,
      carrier(shopId, channel) {
        const carrier = world.shell.carrier(shopId, channel)!;
        return { ...carrier, send: () => new Promise(() => {}) };
      },
    };
    void says(dies, other.phone, DANGER);
    await untilCalls(4);
    expect((await calls()).filter((one) => one.state === 'planned')).toHaveLength(2);
    world.clock.moveTo(later(1));
    await tick(world.shell);
    expect((await calls()).filter((one) => one.state === 'planned')).toEqual([]);
    expect(await arrived(ANA.phone)).toHaveLength(2);
  });

  /** Waits for work of a process that never comes to its end; each question gives it the time that it needs. */
  async function untilCalls(count: number): Promise<void> {
    for (let asked = 0; asked < 500; asked += 1) {
      const taken = await database.db
        .selectFrom('alarm_call')
        .select('call_id')
        .where((or) => or.or([or('lease_until', 'is not', null), or('state', '<>', 'planned')]))
        .execute();
      if (taken.length >= count) return;
    }
    throw new Error('the calls were never taken up');
  }

  test('the text carrier down: it goes by email; both down: the next person after a minute', async () => {
    await onCall(ANA, 1);
    await onCall(TOM, 2);
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:00:00Z');
    const down = async (): Promise<SendResult> => ({ state: 'unsure', why: 'no answer' });
    const textDown: Shell = {
      ...world.shell,
      carrier: (shopId, channel) => without(world.shell.carrier(shopId, channel)!, channel === 'text', down),
    };
    await says(textDown, phone, DANGER);
    expect((await calls()).map((one) => [one.channel, one.state])).toEqual([
      ['text', 'unsure'],
      ['email', 'accepted'],
    ]);
    const allDown: Shell = {
      ...world.shell,
      carrier: (shopId, channel) => without(world.shell.carrier(shopId, channel)!, true, down),
    };
    world.clock.moveTo(later(5));
    await tick(allDown);
    world.clock.moveTo(later(1));
    await tick(world.shell);
    expect(await told()).toEqual(['Ana Brook 15:00', 'Ana Brook 15:05', 'Tom Reyes 15:06']);
  });

  const without = (carrier: Channel, isDown: boolean, down: () => Promise<SendResult>): Channel =>
    isDown ? { ...carrier, send: down } : carrier;

  test('danger from a sender whom nobody knows is told too, until the tray item is settled', async () => {
    await onCall(ANA, 1);
    await world.playTo('2026-03-05T15:00:00Z');
    const inboundId = await world.says('+12025550155', DANGER);
    const [first] = await calls();
    expect(first!.body).toContain('RING NOW: ?.');
    expect(first!.body).toContain('It is in the tray.');
    expect(first!.body).toContain('They have NOT had the caution.');
    await doneWithTray(world.shell, SHOP, inboundId!);
    await world.playTo(later(30));
    expect(await told()).toHaveLength(1);
  });

  test('hours of a person on call are kept; where they are nobody’s, everyone is told in order', async () => {
    const ana = await onCall(ANA, 1);
    const tom = await onCall(TOM, 2);
    const hours = (person_id: string, from_hour: number, to_hour: number) =>
      database.db
        .insertInto('on_call_hours')
        .values({ shop_id: SHOP, person_id, days: [1, 2, 3, 4, 5, 6, 7], from_hour, to_hour })
        .execute();
    await hours(ana, 8, 12);
    await hours(tom, 12, 20);
    const one = await world.job();
    const other = await world.job();
    await world.playTo('2026-03-05T18:00:00Z'); // one o’clock in New York
    await world.says(one.phone, DANGER);
    expect(await told()).toEqual(['Tom Reyes 18:00']);
    await actOnCase(world.shell, SHOP, (await onlyCase()).case_id, { kind: 'have it' }, 'Tom Reyes');
    await world.playTo('2026-03-06T08:00:00Z'); // three at night
    await world.says(other.phone, DANGER);
    expect((await told()).at(-1)).toBe('Ana Brook 08:00');
  });

  test('with nobody on call it waits, and the first who is put on call is told', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:00:00Z');
    await world.says(phone, DANGER);
    await world.playTo(later(20));
    expect(await told()).toEqual([]);
    await onCall(TOM, 1);
    await world.playTo(later(0));
    expect(await told()).toEqual(['Tom Reyes 15:20']);
  });

  test('a tray item that nobody looks at for two open hours is told once, in its own words', async () => {
    await onCall(ANA, 1);
    // Half past four in the afternoon in New York: the shop shuts at five and opens at nine.
    await world.playTo('2026-03-05T21:30:00Z');
    await world.says('+12025550156', 'hello there');
    await world.says('+12025550157', 'zzz');
    await world.playTo('2026-03-06T15:15:00Z');
    expect(await told()).toEqual([]);
    await world.playTo('2026-03-06T15:30:00Z');
    await world.playTo('2026-03-09T18:30:00Z');
    expect(await told()).toEqual(['Ana Brook 15:30']);
    const [text] = await calls();
    expect(text!.body).toBe('PLEASE LOOK: Test shop. 2 messages have waited in the tray for 2 open hours.');
  });

  test('a test alarm goes to everyone on call, says that it is one, and is not repeated', async () => {
    expect(await testAlarm(world.shell, SHOP)).toEqual([]);
    await onCall(ANA, 1);
    await onCall(TOM, 2);
    const went = await testAlarm(world.shell, SHOP);
    expect(went.map((one) => [one.person_name, one.channel, one.state])).toEqual([
      ['Ana Brook', 'text', 'accepted'],
      ['Ana Brook', 'email', 'accepted'],
      ['Tom Reyes', 'text', 'accepted'],
      ['Tom Reyes', 'email', 'accepted'],
    ]);
    expect((await arrived(ANA.phone))[0]!.body).toMatch(/^TEST, nobody is in danger:/);
    await world.playTo(later(60));
    expect(await calls()).toHaveLength(4);
  });
});
