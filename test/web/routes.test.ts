import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { openShop } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { freshDatabase } from '../setup/databases.ts';
import { MONDAY, openScreen, type Screen, SHOP } from './screen.ts';
import { signedIn } from './signedIn.ts';

/*
 * Every route that there is, taken from the program itself, so that a new one cannot be forgotten: it is closed unless it is
 * named here.
 */
const OPEN = [
  /^\/hooks\//,
  /^\/w\//,
  /^\/style\.css$/,
  /^\/(island|photo)\.js$/,
  /^\/(healthz|readyz|metrics)$/,
  /^\/sign-in(\/|$)/,
  /^\/welcome$/,
];
const KEYED = /^\/api\//;
const FOR_OWNERS = [
  /^\/lens-designs/,
  /^\/claims/,
  /^\/weights/,
  /^\/people/,
  /^\/shop/,
  /^\/wearers\/[^/]+\/(records|erase)/,
];

let database: Database;
let screen: Screen;
let app: ReturnType<typeof createApp>;
const who: Record<string, { cookie: string; csrf: string }> = {};
beforeAll(async () => {
  database = await freshDatabase('embedded');
  screen = await openScreen(database);
  const other = database.inShop('other');
  await openShop(
    other,
    {
      shopId: 'other',
      name: 'Other shop',
      kind: 'own',
      country: 'US',
      timeZone: 'America/New_York',
      settings: {},
      owner: { name: 'Bea Other' },
    },
    MONDAY,
  );
  await database.db
    .insertInto('person')
    .values({
      shop_id: SHOP,
      person_id: 'staff',
      name: 'Tom Sample',
      email: null,
      phone_e164: null,
      role: 'staff',
      licence_number: null,
      licensed_until: null,
      on_call_order: null,
      created_at: MONDAY,
    })
    .execute();
  const none = async () => {};
  const room = {
    shell: screen.shell,
    shopId: SHOP,
    kind: 'own',
    work: none,
    moveClock: none,
    close: none,
  } as const;
  app = createApp(
    { room: () => room, hosts: new Set(['shop.test']), key: 'k', filling: null, choose: async () => [] },
    silentLog,
  );
  who.owner = await signedIn(screen.shell.db, SHOP, screen.clock);
  who.staff = await signedIn(screen.shell.db, SHOP, screen.clock, 'staff');
  who['another shop’s owner'] = await signedIn(other, 'other', screen.clock);
});
afterAll(() => database.close());

/** Method and path of every route, parameters filled with something. */
function routes(): { method: string; path: string }[] {
  const found = app.routes
    .filter((route) => route.method !== 'ALL' || route.path.startsWith('/w/'))
    .map(({ method, path }) => ({
      method: method === 'ALL' ? 'GET' : method,
      path: path.replace(/:\w+\??/g, 'x').replace(/\*$/, 'x'),
    }))
    .filter(({ path }) => !path.endsWith('/*'));
  return [...new Map(found.map((one) => [`${one.method} ${one.path}`, one])).values()];
}
const isOpen = (path: string) => OPEN.some((one) => one.test(path));

async function ask(method: string, path: string, as?: { cookie: string; csrf: string }): Promise<Response> {
  const headers: Record<string, string> = { host: 'shop.test', ...(as ? { cookie: as.cookie } : {}) };
  const form = new URLSearchParams(as ? { csrf: as.csrf } : {});
  const init = method === 'GET' ? { headers } : { method, headers, body: form };
  // A new address each time, so that no count of one address ends the walk.
  asked += 1;
  const remoteAddress = `198.51.100.${asked % 250}`;
  return app.request(`http://shop.test${path}`, init, { incoming: { socket: { remoteAddress } } });
}
let asked = 0;

test('there are as many routes as a shop needs, so that the walk below walks', () => {
  expect(routes().length).toBeGreaterThan(100);
});

describe('every route', () => {
  test('signed out: closed pages lead to the sign-in, closed acts are refused, programs without a key too', async () => {
    const passed: string[] = [];
    for (const { method, path } of routes()) {
      if (isOpen(path)) continue;
      const answer = await ask(method, path);
      const closed = KEYED.test(path)
        ? answer.status === 403
        : answer.status === 401 ||
          (answer.status === 303 && answer.headers.get('location')!.startsWith('/sign-in'));
      if (!closed) passed.push(`${method} ${path}: ${answer.status}`);
    }
    expect(passed).toEqual([]);
  });

  test('with the session of another shop’s owner: as closed as to nobody', async () => {
    const passed: string[] = [];
    for (const { method, path } of routes()) {
      if (isOpen(path) || KEYED.test(path)) continue;
      const answer = await ask(method, path, who['another shop’s owner']);
      const closed =
        answer.status === 401 ||
        (answer.status === 303 && answer.headers.get('location')!.startsWith('/sign-in'));
      if (!closed) passed.push(`${method} ${path}: ${answer.status}`);
    }
    expect(passed).toEqual([]);
  });

  test('as staff: what is for owners is refused, the rest is not', async () => {
    const wrong: string[] = [];
    for (const { method, path } of routes()) {
      if (isOpen(path) || KEYED.test(path) || path === '/sign-out') continue;
      const answer = await ask(method, path, who.staff);
      const forOwners = FOR_OWNERS.some((one) => one.test(path));
      if (forOwners !== (answer.status === 403) && !(await onlyInvented(answer)))
        wrong.push(`${method} ${path}: ${answer.status}`);
      if (answer.status >= 500) wrong.push(`${method} ${path}: ${answer.status}`);
    }
    expect(wrong).toEqual([]);
  });

  test('as the owner: nothing fails, and an id of another shop’s is not there', async () => {
    const wrong: string[] = [];
    for (const { method, path } of routes()) {
      if (isOpen(path) || KEYED.test(path) || path === '/sign-out') continue;
      const answer = await ask(method, path, who.owner);
      if (answer.status >= 500 || answer.status === 401) wrong.push(`${method} ${path}: ${answer.status}`);
    }
    expect(wrong).toEqual([]);
  });

  test('opens a page of staff’s only with a session that has passed every stage', async () => {
    for (const stage of ['code', 'set-up'] as const) {
      await database.db.updateTable('session').set({ stage }).where('person_id', '=', 'staff').execute();
      expect((await ask('GET', '/bench', who.staff)).headers.get('location')).toMatch(/^\/sign-in\//);
    }
    await database.db
      .updateTable('session')
      .set({ stage: 'whole' })
      .where('person_id', '=', 'staff')
      .execute();
  });
});

/** Some acts are refused to everybody in a shop of one's own. */
const onlyInvented = async (answer: Response): Promise<boolean> =>
  answer.status === 403 && /invented shop/i.test(await answer.text());
