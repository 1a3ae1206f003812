import { sql } from 'kysely';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type MovableClock, type OffsetClock, standingClock } from '../../src/clock.ts';
import { makeToken } from '../../src/followup/apiTokens.ts';
import { ownerLink } from '../../src/followup/signInLink.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import { openRoom, type Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { benchJobs, phoneOf } from '../bench/people.ts';
import { startStandIn } from '../channels/standIn.ts';
import { tickAll } from '../followup/liveTicks.ts';
import { freshDatabase } from '../setup/databases.ts';

/* Rules of our own: one process and one address for several shops, and each sees its own. */

const ACCOUNT = `AC${'0'.repeat(32)}`;
const TOKEN = 'a token of nobody';
const FROM = '+12025550111';
const BASE = 'https://glasses.example';
const PASSWORD = 'blue kettle seven rivers';
/** A Monday, 10:00 in New York. */
const MONDAY = new Date('2026-03-16T14:00:00Z');

describe('two shops in one process', () => {
  let database: Database;
  let clock: MovableClock;
  let room: Room;
  let app: ReturnType<typeof createApp>;
  let standIn: Awaited<ReturnType<typeof startStandIn>>;
  let jar: Map<string, string>;
  beforeAll(async () => {
    database = await freshDatabase('server');
  });
  afterAll(() => database.close());
  afterEach(async () => {
    await standIn.stop();
  });
  beforeEach(async () => {
    clock = standingClock(MONDAY);
    jar = new Map();
    standIn = await startStandIn({
      accountSid: ACCOUNT,
      authToken: TOKEN,
      nowMs: () => clock.now().getTime(),
    });
    await sql`truncate shop cascade`.execute(database.db);
    for (const shopId of ['north', 'south']) {
      await openShop(
        database.inShop(shopId),
        {
          shopId,
          name: `Shop in the ${shopId}`,
          kind: 'own',
          country: 'US',
          timeZone: 'America/New_York',
          settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
          owner: { name: `Owner ${shopId}`, email: `owner@${shopId}.example`, phoneE164: '+12025550190' },
        },
        shopId === 'north' ? new Date(0) : MONDAY,
      );
    }
    const carriers = {
      links: { base: BASE, secret: 'a secret that is long enough for every test' },
      text: { accountSid: ACCOUNT, authToken: TOKEN, from: FROM, perSecond: 100, publicBase: BASE },
      mail: undefined,
    };
    const offset: OffsetClock = { now: clock.now, offsetMs: () => 0, setOffsetMs() {} };
    const lent = { database: { ...database, close: async () => {} }, journal: noJournal };
    room = (await openRoom(lent, 'own', undefined, silentLog, () => offset, {
      carriers,
      trial: { textOrigin: standIn.origin, onlyThisMachine: true },
    }))!;
    app = createApp(
      { room: () => room, hosts: new Set(['shop.test']), key: 'k', filling: null, choose: async () => [] },
      silentLog,
    );
  });

  const ask = async (
    path: string,
    form?: Readonly<Record<string, string>>,
    headers: Record<string, string> = {},
  ) => {
    const cookie = [...jar].map(([name, value]) => `${name}=${value}`).join('; ');
    const answer = await app.request(`http://shop.test${path}`, {
      headers: { host: 'shop.test', cookie, ...headers },
      ...(form ? { method: 'POST', body: new URLSearchParams(form) } : {}),
    });
    for (const line of answer.headers.getSetCookie()) {
      const [name, value] = line.split(';')[0]!.split('=');
      if (value) jar.set(name!, value);
      else jar.delete(name!);
    }
    return { status: answer.status, to: answer.headers.get('location'), html: await answer.text() };
  };
  /** Opens a page and presses its button with what is typed. */
  const fill = async (path: string, typed: Readonly<Record<string, string>>) => {
    const { html } = await ask(path);
    const csrf = /name="csrf" value="([^"]+)"/.exec(html)?.[1] ?? '';
    return ask(path, { csrf, ...typed });
  };
  const join = async (shopId: string) => {
    const shell = { ...room.shell, db: database.inShop(shopId) };
    const path = (await ownerLink(shell, shopId, { onlyFirst: true, dropsFactor: false }))!;
    return fill(path, {
      name: `Owner ${shopId}`,
      email: `owner@${shopId}.example`,
      password: PASSWORD,
      password_again: PASSWORD,
    });
  };
  const takeJob = (shopId: string, number: number) =>
    takeJobs(
      { ...room.shell, db: database.inShop(shopId) },
      shopId,
      benchJobs(number, 1, '2026-03-16'),
      'test',
    );

  test('a link of the second shop lets its owner in there; signed in anew by address and password they are there again', async () => {
    await takeJob('north', 1);
    await takeJob('south', 2);
    expect((await join('south')).status).toBe(303);
    for (const way of ['by the link', 'by the password']) {
      const bench = await ask('/bench');
      expect(bench.status, way).toBe(200);
      expect(bench.html, way).toContain('Shop in the south');
      expect(bench.html, way).not.toContain('Shop in the north');
      const wearers = (await ask('/wearers')).html;
      expect(wearers, way).toContain('Wearer 2 ');
      expect(wearers, way).not.toContain('Wearer 1 ');
      const out = await ask('/my-sign-in');
      const csrf = /name="csrf" value="([^"]+)"/.exec(out.html)?.[1] ?? '';
      expect((await ask('/sign-out', { csrf })).to).toBe('/sign-in');
      expect((await ask('/bench')).status).toBe(303);
      const done = await fill('/sign-in', { email: 'Owner@South.example', password: PASSWORD, to: '/bench' });
      expect([done.status, done.to], way).toEqual([303, '/bench']);
    }
  });

  test('each owner sees their own shop by the same address; a wrong password opens neither', async () => {
    await join('south');
    jar.clear();
    await join('north');
    expect((await ask('/shop')).html).toContain('Shop in the north');
    jar.clear();
    expect(
      (await fill('/sign-in', { email: 'owner@south.example', password: 'not this one at all' })).status,
    ).toBe(400);
    expect((await fill('/sign-in', { email: 'nobody@south.example', password: PASSWORD })).status).toBe(400);
    await fill('/sign-in', { email: 'owner@south.example', password: PASSWORD });
    expect((await ask('/shop')).html).toContain('Shop in the south');
    // A wearer of the other shop is nobody here, also under their very id.
    await takeJob('north', 1);
    const { wearer_id } = await database
      .inShop('north')
      .selectFrom('wearer')
      .select('wearer_id')
      .executeTakeFirstOrThrow();
    expect((await ask(`/wearers/${wearer_id}`)).status).toBe(404);
  });

  test('somebody who works in both with an address and two passwords comes in where the password is', async () => {
    await sql`update person set email = 'both@example.com'`.execute(database.db);
    for (const [shopId, password] of [
      ['north', PASSWORD],
      ['south', 'seven rivers of kettles'],
    ] as const) {
      const shell = { ...room.shell, db: database.inShop(shopId) };
      const path = (await ownerLink(shell, shopId, { onlyFirst: true, dropsFactor: false }))!;
      await fill(path, { name: 'Both', email: 'both@example.com', password, password_again: password });
      jar.clear();
    }
    await fill('/sign-in', { email: 'both@example.com', password: 'seven rivers of kettles' });
    expect((await ask('/bench')).html).toContain('Shop in the south');
    jar.clear();
    await fill('/sign-in', { email: 'both@example.com', password: PASSWORD });
    expect((await ask('/bench')).html).toContain('Shop in the north');
  });

  test('a shop goes live by its own ticks: its texts leave, with its shop in what is reported back, and its link opens its page', async () => {
    await tickAll(database.db, 'south', { address: BASE, sender: FROM });
    await takeJob('north', 1);
    await takeJob('south', 2);
    // Tips go out at once; the first question on the third day.
    clock.moveTo(new Date('2026-03-19T15:00:00Z'));
    await room.work();
    expect(new Set(standIn.kept.map((one) => one.to))).toEqual(new Set([phoneOf(2)]));
    const reported = standIn.kept[0]!;
    standIn.moveOn(reported.sid, 'delivered');
    const call = standIn.callbacks.at(-1)!;
    expect(call.url).toContain('shop=south');
    const answer = await app.request(`http://shop.test${call.url.slice(BASE.length)}`, {
      method: 'POST',
      headers: {
        host: 'glasses.example',
        'content-type': 'application/x-www-form-urlencoded',
        'x-twilio-signature': call.signature,
      },
      body: new URLSearchParams(call.params).toString(),
    });
    expect(answer.status).toBe(204);
    const states = await database.inShop('south').selectFrom('attempt').select(['state', 'far_id']).execute();
    expect(states.find((one) => one.far_id === reported.sid)?.state).toBe('delivered');
    const link = standIn.kept
      .map((one) => /\/w\/[a-z2-7]+/.exec(one.body)?.[0])
      .find((one) => one !== undefined);
    expect(link).toBeDefined();
    const page = await ask(link!);
    expect(page.status).toBe(200);
    expect(page.html).toContain('Shop in the south');
  });

  test('a program with a token of the second shop works in the second shop', async () => {
    const shell = { ...room.shell, db: database.inShop('south') };
    const made = await makeToken(shell, 'south', { name: 'till', scopes: ['corrections'] }, 'Owner south');
    if (!made.ok) throw new Error(made.problems[0]!.what);
    const asked = await ask('/api/corrections', undefined, { authorization: `Bearer ${made.value.token}` });
    expect(asked.status).toBe(200);
    expect(
      (await ask('/api/corrections', undefined, { authorization: `Bearer ${'x'.repeat(43)}` })).status,
    ).toBe(403);
  });
});
