import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { signatureOf } from '../../src/channels/carrierSignature.ts';
import type { OffsetClock } from '../../src/clock.ts';
import { readConfig } from '../../src/config.ts';
import { openRoom, type Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { findShop, keepSettings } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { startStandIn } from '../channels/standIn.ts';
import { tickAll } from '../followup/liveTicks.ts';
import { openWorld, SHOP, type TestWorld } from '../followup/world.ts';
import { freshDatabase } from '../setup/databases.ts';

/* Real texts end to end: the carrier's own package, over sockets, to a stand-in of the carrier on this machine. */

const ACCOUNT = `AC${'0'.repeat(32)}`;
const TOKEN = 'a token for tests only';
const FROM = '+12025550199';
const BASE = 'https://hooks.shop.example';
const LOCAL = [{ who: 'emergency', number: '911' }];

describe('a shop on the carrier of texts', () => {
  let database: Database;
  let world: TestWorld;
  let standIn: Awaited<ReturnType<typeof startStandIn>>;
  let room: Room;
  beforeAll(async () => {
    database = await freshDatabase('embedded');
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    world = await openWorld(database);
    standIn = await startStandIn({
      accountSid: ACCOUNT,
      authToken: TOKEN,
      nowMs: () => world.clock.now().getTime(),
    });
    await database.db
      .updateTable('person')
      .set({ phone_e164: '+12025550190' })
      .where('shop_id', '=', SHOP)
      .execute();
    await tickAll(database.db, SHOP, { address: BASE, sender: FROM });
  });
  afterEach(() => standIn.stop());

  let postStatus: (url: string) => Promise<number> = async () => 500;
  const open = async (publicBase: string | undefined): Promise<Room> => {
    const config = readConfig({
      AFTERFIT_TEXT_ACCOUNT: ACCOUNT,
      AFTERFIT_TEXT_TOKEN: TOKEN,
      AFTERFIT_TEXT_FROM: FROM,
      AFTERFIT_TEXT_RATE: '100',
      ...(publicBase ? { AFTERFIT_PUBLIC_URL: publicBase } : {}),
    });
    if (!config.ok) throw new Error(config.problems[0]!.what);
    const clock: OffsetClock = { now: world.clock.now, offsetMs: () => 0, setOffsetMs() {} };
    // The database outlives the room here.
    const lent = { database: { ...database, close: async () => {} }, journal: noJournal };
    room = (await openRoom(lent, 'own', undefined, silentLog, () => clock, {
      carriers: config.value.carriers,
      trial: { textOrigin: standIn.origin, onlyThisMachine: true },
      world: { txtOf: async () => [], postStatus: (url) => postStatus(url) },
    }))!;
    return room;
  };
  const app = () =>
    createApp(
      { room: () => room, hosts: new Set(['127.0.0.1']), key: 'k', filling: null, choose: async () => [] },
      silentLog,
    );
  const hook = (
    path: string,
    params: Record<string, string>,
    signature = signatureOf(TOKEN, BASE + path, params),
  ) =>
    app().request(`http://127.0.0.1:4310${path}`, {
      method: 'POST',
      headers: {
        host: 'hooks.shop.example',
        'content-type': 'application/x-www-form-urlencoded',
        'x-twilio-signature': signature,
      },
      body: new URLSearchParams(params).toString(),
    });
  const text = (sid: string, from: string, body: string) => ({
    MessageSid: sid,
    From: from,
    To: FROM,
    Body: body,
    NumMedia: '0',
    AccountSid: ACCOUNT,
  });
  const at = (instant: string) => world.clock.moveTo(new Date(instant));
  const attempts = () =>
    database.db.selectFrom('attempt').select(['state', 'code', 'far_id']).orderBy('attempt_id').execute();
  const inbounds = () => database.db.selectFrom('inbound').select(['far_id', 'body']).execute();

  test('what is due goes to the carrier, with our address for its states; a state of the carrier settles it', async () => {
    await open(BASE);
    const { phone } = await world.job();
    await room.work();
    expect(standIn.kept.map((one) => [one.to, one.from])).toEqual([[phone, FROM]]);
    expect((await attempts())[0]).toMatchObject({ state: 'accepted', far_id: standIn.kept[0]!.sid });
    standIn.moveOn(standIn.kept[0]!.sid, 'delivered');
    standIn.moveOn(standIn.kept[0]!.sid, 'sent');
    for (const call of standIn.callbacks) {
      const answer = await hook(call.url.slice(BASE.length), { ...call.params }, call.signature);
      expect(answer.status).toBe(204);
    }
    expect((await attempts())[0]!.state).toBe('delivered');
  });

  test('a number that turns out to be a fixed line is marked, and the check-in becomes a call to make', async () => {
    await open(BASE);
    await world.job();
    await room.work();
    standIn.moveOn(standIn.kept[0]!.sid, 'undelivered', 30006);
    const [call] = standIn.callbacks;
    await hook(call!.url.slice(BASE.length), { ...call!.params }, call!.signature);
    await hook(call!.url.slice(BASE.length), { ...call!.params }, call!.signature);
    expect(await attempts()).toEqual([{ state: 'failed', code: '30006', far_id: standIn.kept[0]!.sid }]);
    const contact = await database.db
      .selectFrom('contact_point')
      .select('unusable_why')
      .executeTakeFirstOrThrow();
    expect(contact.unusable_why).toBe('a fixed line, or a network that takes no texts');
    const rung = await database.db
      .selectFrom('check_in')
      .select('slot')
      .where('state', '=', 'to ring')
      .execute();
    expect(rung).toHaveLength(1);
  });

  test('a text that comes in is kept once however often it is posted, and answered with nothing to say', async () => {
    await open(BASE);
    const { phone } = await world.job();
    await room.work();
    at('2026-03-02T15:10:00Z');
    const params = text('SM-in-1', phone, 'STOP');
    for (let times = 0; times < 3; times += 1) {
      const answer = await hook('/hooks/text', params);
      expect([answer.status, await answer.text()]).toEqual([200, '<Response></Response>']);
    }
    expect(await inbounds()).toEqual([{ far_id: 'SM-in-1', body: 'STOP' }]);
    await room.work();
    const consent = await database.db
      .selectFrom('wearer_contact')
      .select('consent')
      .executeTakeFirstOrThrow();
    expect(consent.consent).toBe('withdrawn');
    expect(standIn.kept.at(-1)!.body).toMatch(/no more texts/i);
  });

  test('the carrier has answered STOP by itself: it is obeyed, and nothing is said again', async () => {
    await open(BASE);
    const { phone } = await world.job();
    await room.work();
    await hook('/hooks/text', { ...text('SM-in-2', phone, 'STOP'), OptOutType: 'STOP' });
    await room.work();
    expect(standIn.kept).toHaveLength(1);
    expect(
      (await database.db.selectFrom('wearer_contact').select('consent').executeTakeFirstOrThrow()).consent,
    ).toBe('withdrawn');
  });

  test('unsigned, signed for another address, or altered after signing: refused, and nothing is kept', async () => {
    await open(BASE);
    const params = text('SM-in-3', '+12025550123', 'hello');
    const elsewhere = signatureOf(TOKEN, 'http://127.0.0.1:4310/hooks/text', params);
    const good = signatureOf(TOKEN, `${BASE}/hooks/text`, params);
    expect((await hook('/hooks/text', params, '')).status).toBe(403);
    expect((await hook('/hooks/text', params, elsewhere)).status).toBe(403);
    expect((await hook('/hooks/text', { ...params, Body: 'hello!' }, good)).status).toBe(403);
    expect(
      (await hook('/hooks/text-status?attempt=1', { MessageSid: 'SM1', MessageStatus: 'failed' }, good))
        .status,
    ).toBe(403);
    expect(await inbounds()).toEqual([]);
  });

  test('by the public name nothing is reached but the two hooks', async () => {
    await open(BASE);
    for (const path of ['/bench', '/letters', '/api/import', '/']) {
      const answer = await app().request(`http://127.0.0.1:4310${path}`, {
        headers: { host: 'hooks.shop.example' },
      });
      expect(answer.status).toBe(403);
    }
  });

  test('danger by text rings the person on call over the same carrier', async () => {
    await open(BASE);
    const { phone } = await world.job();
    await room.work();
    await hook('/hooks/text', text('SM-in-4', phone, 'lots of new floaters and flashes since this morning'));
    await room.work();
    const alarm = standIn.kept.find((one) => one.to === '+12025550190')!;
    expect(alarm.body).toContain('RING NOW: W.');
    expect(standIn.kept.filter((one) => one.to === phone).at(-1)!.body).toContain('911');
  });

  test('without a public address the carrier is asked each minute for texts and states', async () => {
    await tickAll(database.db, SHOP, { sender: FROM });
    await open(undefined);
    const { phone } = await world.job();
    await room.work();
    expect(standIn.kept[0]!.statusCallback).toBeNull();
    standIn.moveOn(standIn.kept[0]!.sid, 'delivered');
    at('2026-03-02T15:10:00Z');
    standIn.receive(phone, FROM, 'all good, thanks');
    at('2026-03-02T15:11:00Z');
    await room.work();
    await room.work();
    expect((await inbounds()).map((one) => one.body)).toEqual(['all good, thanks']);
    expect((await attempts())[0]!.state).toBe('delivered');
    expect((await hook('/hooks/text', text('SM-in-5', phone, 'x'))).status).toBe(403);
  });

  test('at the start the last 7 days are asked for again: what was lost comes back, what is here stays as it is', async () => {
    await open(BASE);
    const { phone } = await world.job();
    at('2026-02-20T15:10:00Z');
    standIn.receive(phone, FROM, 'older than seven days');
    at('2026-03-01T15:10:00Z');
    const known = standIn.receive(phone, FROM, 'known by its hook');
    standIn.receive(phone, FROM, 'lost in a power cut');
    await hook('/hooks/text', text(known.sid, phone, known.body));
    at('2026-03-02T15:10:00Z');
    await room.work();
    expect((await inbounds()).map((one) => one.body).sort()).toEqual([
      'known by its hook',
      'lost in a power cut',
    ]);
    const asked = standIn.requests();
    await room.work();
    expect((await inbounds()).length).toBe(2);
    // Only once: with a public address the carrier is not asked each minute.
    expect(standIn.requests()).toBe(asked);
  });

  test.each([
    'address',
    'sender',
    'local numbers',
    'on call',
    'hours',
    'consent words',
    'licensed person',
    'backup tried',
  ])('a carrier that is set stays off without: %s', async (missing) => {
    const { db } = database;
    await db.deleteFrom('shop_tick').where('tick', '=', missing).execute();
    const { localNumbers, openHours, ...settings } = (await findShop(db, SHOP)).settings;
    await keepSettings(db, SHOP, {
      ...settings,
      ...(missing === 'local numbers' ? {} : { localNumbers: localNumbers ?? LOCAL }),
      ...(missing === 'hours' || openHours === undefined ? {} : { openHours }),
    });
    const person = db.updateTable('person').where('shop_id', '=', SHOP);
    if (missing === 'on call') await person.set({ phone_e164: null }).execute();
    if (missing === 'licensed person') await person.set({ licensed_until: '2026-03-01' }).execute();
    await open(BASE);
    expect((await room.ticks!()).filter((one) => !one.done).map((one) => one.tick)).toEqual([missing]);
    await world.job();
    await room.work();
    expect(standIn.requests()).toBe(0);
  });

  test('tried from page Shop: what works is ticked, and the shop goes live with the tick that was missing', async () => {
    await database.db.deleteFrom('shop_tick').where('tick', 'in', ['address', 'sender']).execute();
    await open(BASE);
    await world.job();
    await room.work();
    expect(standIn.kept).toEqual([]);
    postStatus = async () => 404;
    await room.tryOutside!('Ana');
    expect((await room.ticks!()).filter((one) => !one.done).map((one) => one.tick)).toEqual(['address']);
    postStatus = async (url) => (url === `${BASE}/w/here` ? 204 : 403);
    await room.tryOutside!('Ana');
    expect((await room.ticks!()).every((one) => one.done)).toBe(true);
    const { phone } = await world.job({ phone: '+12025550178' });
    await room.work();
    expect(standIn.kept.map((one) => one.to)).toEqual([phone]);
  });

  test('another sending number is tried again before anything leaves from it', async () => {
    await tickAll(database.db, SHOP, { address: BASE, sender: '+12025550111' });
    await open(BASE);
    await world.job();
    await room.work();
    expect(standIn.requests()).toBe(0);
  });
});

test('a carrier that is set by half is refused, with what is missing', () => {
  const config = readConfig({ AFTERFIT_TEXT_ACCOUNT: ACCOUNT, AFTERFIT_TEXT_FROM: FROM });
  expect(config.ok ? [] : config.problems.map((one) => one.what)).toEqual([
    'AFTERFIT_TEXT_TOKEN must be set too',
  ]);
  const none = readConfig({});
  expect(none.ok && none.value.carriers).toEqual({
    links: undefined,
    text: undefined,
    mail: undefined,
  });
});
