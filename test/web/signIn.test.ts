import { mkdtempSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import decodeQR from 'qr/decode.js';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type FactorSeal, factorSeal } from '../../src/followup/factorSeal.ts';
import { oneTimeCode, stepAt, stepOfCode } from '../../src/followup/oneTimeCode.ts';
import { allowPassword } from '../../src/followup/passwordAllowed.ts';
import { hashPassword, isPassword } from '../../src/followup/passwordHash.ts';
import { ownerLink } from '../../src/followup/signInLink.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { keptKey } from '../../src/store/keptKey.ts';
import { createApp } from '../../src/web/app.tsx';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';
import { signedIn } from './signedIn.ts';

describe('one-time codes', () => {
  // RFC 6238, appendix B: the SHA-1 rows of the table of test vectors, eight digits.
  test.each([
    [59, '94287082'],
    [1111111109, '07081804'],
    [1111111111, '14050471'],
    [1234567890, '89005924'],
    [2000000000, '69279037'],
    [20000000000, '65353130'],
  ])('at %i seconds the code of the RFC’s secret is %s', (seconds, code) => {
    expect(oneTimeCode(Buffer.from('12345678901234567890'), Math.floor(seconds / 30), 8)).toBe(code);
  });

  // "12345678901234567890" in Base32 (RFC 4648).
  const SECRET = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ';
  test('a code is good in its half minute and the one before and after, and not two away', () => {
    const now = new Date(1111111109_000);
    const codeAt = (step: number) => oneTimeCode(Buffer.from('12345678901234567890'), step);
    const here = stepAt(now);
    expect(stepOfCode(SECRET, codeAt(here), now)).toBe(here);
    expect(stepOfCode(SECRET, codeAt(here - 1), now)).toBe(here - 1);
    expect(stepOfCode(SECRET, codeAt(here + 1), now)).toBe(here + 1);
    expect(stepOfCode(SECRET, codeAt(here + 2), now)).toBeUndefined();
    expect(stepOfCode(SECRET, `${codeAt(here).slice(0, 3)} ${codeAt(here).slice(3)}`, now)).toBe(here);
    expect(stepOfCode(SECRET, '', now)).toBeUndefined();
  });
});

describe('secrets of second factors', () => {
  const [one, other] = [factorSeal(Buffer.alloc(32, 1)), factorSeal(Buffer.alloc(32, 2))];

  test('lie closed, other letters each time, and open only with their key and for whom they are', () => {
    const closed = one.close('GEZDGNBV', 'ana');
    expect(closed).not.toContain('GEZDGNBV');
    expect(closed).not.toBe(one.close('GEZDGNBV', 'ana'));
    expect(one.open(closed, 'ana')).toBe('GEZDGNBV');
    expect(one.open(closed, 'tom')).toBeUndefined();
    expect(other.open(closed, 'ana')).toBeUndefined();
    expect(one.open(`${closed.slice(0, -2)}AA`, 'ana')).toBeUndefined();
    expect(one.open('sealed.', 'ana')).toBeUndefined();
  });

  test('the key lies beside the records for its user alone, is the same at the next start, and a damaged one is told', () => {
    const folder = join(mkdtempSync(join(tmpdir(), 'afterfit-key-')), 'data');
    const key = keptKey(folder);
    expect(key).toHaveLength(32);
    expect(keptKey(folder)).toEqual(key);
    if (process.platform !== 'win32') expect(statSync(join(folder, 'keys.secret')).mode & 0o777).toBe(0o600);
    writeFileSync(join(folder, 'keys.secret'), 'nothing');
    expect(() => keptKey(folder)).toThrow('holds no key');
  });
});

describe('passwords', () => {
  test('are kept by scrypt with a salt of their own, and only the same one opens', async () => {
    const [one, other] = [await hashPassword('blue kettle seven'), await hashPassword('blue kettle seven')];
    expect(one).toMatch(/^scrypt\$15\$8\$3\$/);
    expect(one).not.toBe(other);
    expect(await isPassword('blue kettle seven', one)).toBe(true);
    expect(await isPassword('blue kettle Seven', one)).toBe(false);
    expect(await isPassword('blue kettle seven', undefined)).toBe(false);
  });

  test.each([
    'short one',
    'password1234',
    '123456789012',
    'qwertyuiop12',
    'iloveyou1234',
    'Ana Example 2026',
  ])('“%s” is refused', async (password) => {
    expect((await allowPassword(password, password, ['Ana Example', 'Test shop'])).ok).toBe(false);
  });

  test('twelve letters that nobody guesses, and words that do not belong together, are taken', async () => {
    for (const password of ['Kf8s-wWq2-Lp', 'blue kettle seven rivers'])
      expect((await allowPassword(password, password, ['Ana Example'])).ok, password).toBe(true);
    expect((await allowPassword('blue kettle seven rivers', 'blue kettle', [])).ok).toBe(false);
  });
});

describe('signing in', () => {
  const PASSWORD = 'blue kettle seven rivers';
  const AWAY = { incoming: { socket: { remoteAddress: '203.0.113.5' } } };
  let database: Database;
  let screen: Screen;
  let app: ReturnType<typeof createApp>;
  let jar: Map<string, string>;
  let seal: FactorSeal | undefined;
  beforeAll(async () => {
    database = await freshDatabase('embedded');
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    screen = await openScreen(database);
    jar = new Map();
    seal = undefined;
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
      {
        room: () => room,
        hosts: new Set(['shop.test', 'far.example']),
        key: 'k',
        filling: null,
        choose: async () => [],
        pagesUrl: 'https://far.example',
        get factorSeal() {
          return seal;
        },
      },
      silentLog,
    );
  });

  const ask = async (
    path: string,
    init: RequestInit = {},
    env: object | undefined = undefined,
    host = 'shop.test',
  ) => {
    const cookie = [...jar].map(([name, value]) => `${name}=${value}`).join('; ');
    const response = await app.request(
      `http://${host}${path}`,
      { ...init, headers: { host, cookie, ...init.headers } },
      env,
    );
    for (const line of response.headers.getSetCookie()) {
      const [name, value] = line.split(';')[0]!.split('=');
      if (value === '') jar.delete(name!);
      else jar.set(name!, value!);
    }
    return response;
  };
  const post = async (
    path: string,
    page: string,
    fields: Record<string, string>,
    env?: object,
    host?: string,
  ): Promise<Response> => {
    const html = await (await ask(page, {}, env, host)).text();
    const csrf = /name="csrf" value="([^"]*)"/.exec(html)?.[1] ?? '';
    const body = new URLSearchParams({ csrf, ...fields });
    return ask(path, { method: 'POST', body }, env, host);
  };
  /** The one wearer of these tests, whose page somebody looks at. */
  const aWearer = () =>
    database.db
      .insertInto('wearer')
      .values({
        shop_id: SHOP,
        wearer_id: 'w1',
        name: 'Ida Quill',
        prefers: 'text',
        time_zone: null,
        zone_candidates: ['America/New_York'],
        zone_how: 'shop',
        country: 'US',
        created_at: screen.clock.now(),
      } as never)
      .execute();

  const join = async (env?: object, host?: string) => {
    const link = (await ownerLink(screen.shell, SHOP, { onlyFirst: false, dropsFactor: false }))!;
    const fields = {
      name: 'Ana Example',
      email: 'ana@example.com',
      password: PASSWORD,
      password_again: PASSWORD,
    };
    return { link, answer: await post(link, link, fields, env, host) };
  };
  const signIn = (password = PASSWORD, env?: object, host?: string, email = 'ana@example.com') =>
    post('/sign-in', '/sign-in', { email, password }, env, host);
  const minutes = (count: number) =>
    screen.clock.moveTo(new Date(screen.clock.now().getTime() + count * 60_000));
  /** The secret that the page shows, and the code that an app would show now. */
  const secretOn = (html: string) => /<code>([A-Z2-7 ]+)<\/code>/.exec(html)![1]!.replaceAll(' ', '');
  const codeOf = (secret: string) => {
    const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
    const bits = [...secret].map((sign) => signs.indexOf(sign).toString(2).padStart(5, '0')).join('');
    const key = Buffer.from(bits.match(/.{8}/g)!.map((eight) => Number.parseInt(eight, 2)));
    return oneTimeCode(key, stepAt(screen.clock.now()));
  };
  const setUpFactor = async (env?: object, host?: string) => {
    const html = await (await ask('/sign-in/second-factor', {}, env, host)).text();
    const secret = secretOn(html);
    const answer = await post(
      '/sign-in/second-factor',
      '/sign-in/second-factor',
      { code: codeOf(secret) },
      env,
      host,
    );
    const page = await answer.text();
    const codes = [...page.matchAll(/<code>([a-z0-9-]+)<\/code>/g)].map((found) => found[1]!);
    return { secret, answer, codes };
  };

  test('the owner’s link makes the owner once; then the password opens the shop, and nothing else does', async () => {
    expect((await ask('/bench')).headers.get('location')).toBe('/sign-in?to=%2Fbench');
    expect(seen(await (await ask('/sign-in')).text())).toContain('Nobody can sign in yet');
    const { link, answer } = await join();
    expect(answer.status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
    expect((await ask(link)).status).toBe(404);
    expect(await ownerLink(screen.shell, SHOP, { onlyFirst: true, dropsFactor: false })).toBeUndefined();
    jar.clear();
    expect((await signIn('wrong wrong wrong')).status).toBe(400);
    expect((await ask('/bench')).status).toBe(303);
    expect((await signIn()).headers.get('location')).toBe('/bench');
    expect((await ask('/bench')).status).toBe(200);
    const kept = JSON.stringify(await database.db.selectFrom('session').selectAll().execute());
    expect(kept).not.toContain(jar.get('afterfit_session'));
    expect(JSON.stringify(await database.db.selectFrom('sign_in_link').selectAll().execute())).not.toContain(
      link.split('/').at(-1),
    );
  });

  test('a link is over after its day', async () => {
    const link = (await ownerLink(screen.shell, SHOP, { onlyFirst: true, dropsFactor: false }))!;
    minutes(24 * 60 - 1);
    expect((await ask(link)).status).toBe(200);
    minutes(1);
    expect((await ask(link)).status).toBe(404);
  });

  test('whether there is an account is told neither by words nor by the status', async () => {
    await join();
    jar.clear();
    const wrong = await signIn('wrong wrong wrong');
    const nobody = await signIn('wrong wrong wrong', undefined, undefined, 'nobody@example.com');
    expect(nobody.status).toBe(wrong.status);
    const words = async (answer: Response) =>
      seen(await answer.text()).replaceAll(/ana@example.com|nobody@example.com/g, '');
    expect(await words(nobody)).toBe(await words(wrong));
  });

  test('after five wrong tries the sixth is held back, the right one too, for a quarter of an hour', async () => {
    await join();
    jar.clear();
    for (let n = 0; n < 5; n += 1) expect((await signIn('wrong wrong wrong')).status).toBe(400);
    expect((await signIn()).status).toBe(429);
    minutes(15);
    expect((await signIn()).status).toBe(303);
  });

  test('a stranger who guesses from elsewhere does not lock the shop out of its own machine', async () => {
    await join();
    jar.clear();
    for (let n = 0; n < 6; n += 1) await signIn('wrong wrong wrong', AWAY, 'far.example');
    jar.clear();
    expect((await signIn()).status).toBe(303);
  });

  test('the key changes at each sign-in, and the one before opens nothing any more', async () => {
    await join();
    const before = jar.get('afterfit_session')!;
    await ask('/sign-in');
    await post('/sign-in', '/people', { email: 'ana@example.com', password: PASSWORD });
    expect(jar.get('afterfit_session')).not.toBe(before);
    jar.set('afterfit_session', before);
    expect((await ask('/bench')).status).toBe(303);
  });

  test('a session ends after two hours without a sign, and after twelve in any case; a page that asks by itself is no sign', async () => {
    await join();
    minutes(119);
    expect((await ask('/bench')).status).toBe(200);
    for (let n = 0; n < 12; n += 1) {
      minutes(10);
      await ask('/version');
    }
    expect((await ask('/bench')).status).toBe(303);
    jar.clear();
    await signIn();
    for (let n = 0; n < 11; n += 1) {
      minutes(60);
      expect((await ask('/bench')).status).toBe(200);
    }
    minutes(60);
    expect((await ask('/bench')).status).toBe(303);
  });

  test('signing out ends the session, also for who has copied its key', async () => {
    await join();
    const key = jar.get('afterfit_session')!;
    await post('/sign-out', '/my-sign-in', {});
    expect(jar.has('afterfit_session')).toBe(false);
    jar.set('afterfit_session', key);
    expect((await ask('/bench')).status).toBe(303);
  });

  test('from elsewhere a link leads to the second factor and no further before it is set up', async () => {
    const { answer } = await join(AWAY, 'far.example');
    expect(answer.headers.get('location')).toBe('/sign-in/second-factor');
    expect((await ask('/bench', {}, AWAY, 'far.example')).headers.get('location')).toBe(
      '/sign-in/second-factor',
    );
    const { answer: done, codes, secret } = await setUpFactor(AWAY, 'far.example');
    expect(done.status).toBe(200);
    expect(codes).toHaveLength(10);
    expect(await (await ask('/sign-in/second-factor', {}, AWAY, 'far.example')).text()).not.toContain(secret);
    expect((await ask('/bench', {}, AWAY, 'far.example')).status).toBe(200);
    expect([...jar.keys()]).toContain('__Host-afterfit_session');
  });

  test('the picture that the app reads holds the secret that stands beside it in letters', async () => {
    await join();
    const html = await (await ask('/sign-in/second-factor')).text();
    const size = Number(/viewBox="0 0 (\d+) /.exec(html)![1]);
    const data = new Uint8Array(size * size * 16 * 4).fill(255);
    for (const [, x, y] of html.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
      for (let dot = 0; dot < 16; dot += 1) {
        const at = (Number(y) * 4 + Math.floor(dot / 4)) * size * 4 + Number(x) * 4 + (dot % 4);
        data.fill(0, at * 4, at * 4 + 3);
      }
    const read = decodeQR({ width: size * 4, height: size * 4, data });
    expect(read).toContain(`secret=${secretOn(html)}`);
    expect(read).toMatch(/^otpauth:\/\/totp\//);
  });

  test('without a second factor the password alone is not enough from elsewhere', async () => {
    await join();
    jar.clear();
    const refused = await signIn(PASSWORD, AWAY, 'far.example');
    expect(refused.status).toBe(400);
    expect(seen(await refused.text())).toContain('only at the shop’s own machine');
  });

  test('with a second factor the code is asked, taken once, and a recovery code stands in for it once', async () => {
    await join();
    const { secret, codes } = await setUpFactor();
    jar.clear();
    minutes(1);
    expect((await signIn()).headers.get('location')).toBe('/sign-in/code');
    expect((await ask('/bench')).headers.get('location')).toBe('/sign-in/code');
    const code = codeOf(secret);
    expect((await post('/sign-in/code', '/sign-in/code', { code })).status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
    jar.clear();
    await signIn();
    expect((await post('/sign-in/code', '/sign-in/code', { code })).status).toBe(400);
    expect((await post('/sign-in/code', '/sign-in/code', { code: codes[0]!.toUpperCase() })).status).toBe(
      303,
    );
    jar.clear();
    await signIn();
    expect((await post('/sign-in/code', '/sign-in/code', { code: codes[0]! })).status).toBe(400);
    const kept = JSON.stringify(await database.db.selectFrom('recovery_code').selectAll().execute());
    expect(kept).not.toContain(codes[1]);
  });

  test('the secret lies closed in the database; one that lay open is closed at its next good code', async () => {
    await join();
    const { secret } = await setUpFactor();
    const kept = async () =>
      (await database.db.selectFrom('sign_in').select('factor_secret').executeTakeFirstOrThrow())
        .factor_secret;
    expect(await kept()).toBe(secret);
    seal = factorSeal(Buffer.alloc(32, 1));
    jar.clear();
    minutes(1);
    await signIn();
    expect((await post('/sign-in/code', '/sign-in/code', { code: codeOf(secret) })).status).toBe(303);
    expect(await kept()).toMatch(/^sealed\./);
    jar.clear();
    minutes(1);
    await signIn();
    expect((await post('/sign-in/code', '/sign-in/code', { code: codeOf(secret) })).status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
  });

  test('put back without its key, the code of the app is refused with the way on, and a recovery code opens', async () => {
    seal = factorSeal(Buffer.alloc(32, 1));
    await join();
    const { secret, codes } = await setUpFactor();
    expect(JSON.stringify(await database.db.selectFrom('sign_in').selectAll().execute())).not.toContain(
      secret,
    );
    seal = factorSeal(Buffer.alloc(32, 2));
    jar.clear();
    minutes(1);
    await signIn();
    const refused = await post('/sign-in/code', '/sign-in/code', { code: codeOf(secret) });
    expect(refused.status).toBe(400);
    expect(seen(await refused.text())).toContain('afterfit owner-link --second-factor-lost');
    expect((await post('/sign-in/code', '/sign-in/code', { code: codes[0]! })).status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
  });

  test('a recovery code has 24 letters of 31, more than 112 bits, and no two are the same', async () => {
    await join();
    const { codes } = await setUpFactor();
    expect(new Set(codes).size).toBe(10);
    for (const code of codes) expect(code).toMatch(/^([a-hjkmnp-z2-9]{6}-){3}[a-hjkmnp-z2-9]{6}$/);
    // OWASP ASVS 4.0.3, 2.6.2: below 112 bits a salt is wanted.
    expect(24 * Math.log2(31)).toBeGreaterThan(112);
  });

  test('codes are guessed five times and no more', async () => {
    await join();
    const { secret } = await setUpFactor();
    jar.clear();
    minutes(1);
    await signIn();
    for (let n = 0; n < 5; n += 1) await post('/sign-in/code', '/sign-in/code', { code: '000000' });
    const held = await post('/sign-in/code', '/sign-in/code', { code: codeOf(secret) });
    expect([429, 403, 303]).toContain(held.status);
    expect((await ask('/bench')).status).toBe(303);
  });

  test('a new password ends the other sessions, and is asked for with the present one', async () => {
    await join();
    const other = await signedIn(screen.shell.db, SHOP, screen.clock);
    const fields = {
      current: 'not it at all',
      password: 'seven green rivers kettle',
      password_again: 'seven green rivers kettle',
    };
    expect((await post('/my-sign-in/password', '/my-sign-in', fields)).status).toBe(400);
    expect((await post('/my-sign-in/password', '/my-sign-in', { ...fields, current: PASSWORD })).status).toBe(
      303,
    );
    const asOther = await app.request('http://shop.test/bench', {
      headers: { host: 'shop.test', cookie: other.cookie },
    });
    expect(asOther.status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
  });

  test('another sign-in of one’s own is ended with the present password, and without it goes on', async () => {
    await join();
    const other = await signedIn(screen.shell.db, SHOP, screen.clock);
    const { session_hash: hash } = await database.db
      .selectFrom('session')
      .select('session_hash')
      .where('about', '=', 'a test')
      .executeTakeFirstOrThrow();
    const asOther = async () =>
      (await app.request('http://shop.test/bench', { headers: { host: 'shop.test', cookie: other.cookie } }))
        .status;
    const end = (current: string) => post(`/my-sign-in/sessions/${hash}/end`, '/my-sign-in', { current });
    const refused = await end('not it at all');
    expect(refused.status).toBe(400);
    expect(seen(await refused.text())).toContain('This is not your present password.');
    expect(await asOther()).toBe(200);
    expect((await end(PASSWORD)).status).toBe(303);
    expect(await asOther()).toBe(303);
  });

  test('all records of a wearer leave only behind the present password, and the log says who took them', async () => {
    await join();
    await aWearer();
    const take = (current: string) => post('/wearers/w1/records.json', '/wearers/w1/records', { current });
    expect((await ask('/wearers/w1/records.json')).status).toBe(404);
    const refused = await take('not it at all');
    expect(refused.status).toBe(400);
    expect(refused.headers.get('content-disposition')).toBeNull();
    const taken = await take(PASSWORD);
    expect(taken.headers.get('content-disposition')).toMatch(/^attachment/);
    expect(await taken.json()).toMatchObject({ wearer: 'Ida Quill' });
    const log = await database.db
      .selectFrom('audit')
      .selectAll()
      .where('act', '=', 'wearer exported')
      .execute();
    expect(log).toMatchObject([{ by_name: 'Ana Example', subject: 'w1' }]);
  });

  test('an invitation: the owner makes a link, the person chooses a password; who leaves is out at once', async () => {
    await join();
    await post('/people', '/people', { name: 'Tom Sample', role: 'staff' });
    const { person_id } = await database.db
      .selectFrom('person')
      .select('person_id')
      .where('name', '=', 'Tom Sample')
      .executeTakeFirstOrThrow();
    const shown = await (await post(`/people/${person_id}/link`, '/people', {})).text();
    const link = /https:\/\/far\.example(\/sign-in\/link\/[\w-]+)/.exec(shown)![1]!;
    const owner = new Map(jar);
    jar.clear();
    const fields = {
      name: 'Tom Sample',
      email: 'tom@example.com',
      password: PASSWORD,
      password_again: PASSWORD,
    };
    expect((await post(link, link, fields)).status).toBe(303);
    expect((await ask('/bench')).status).toBe(200);
    expect((await ask('/people')).status).toBe(403);
    const tom = new Map(jar);
    jar = owner;
    await post(`/people/${person_id}/leave`, '/people', {});
    jar = tom;
    expect((await ask('/bench')).status).toBe(303);
  });

  test('a form without its token, with another session’s, or sent by another site changes nothing', async () => {
    await join();
    const other = await signedIn(screen.shell.db, SHOP, screen.clock);
    const send = (csrf: string, headers: Record<string, string> = {}) =>
      ask('/people', {
        method: 'POST',
        body: new URLSearchParams({ csrf, name: 'X', role: 'staff' }),
        headers,
      });
    const html = await (await ask('/people')).text();
    const own = /name="csrf" value="([^"]*)"/.exec(html)![1]!;
    expect((await send('')).status).toBe(403);
    expect((await send(other.csrf)).status).toBe(403);
    expect((await send(own, { origin: 'https://elsewhere.example' })).status).toBe(403);
    expect((await send(own, { 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect(await database.db.selectFrom('person').selectAll().execute()).toHaveLength(1);
    expect((await send(own)).status).toBe(303);
  });

  test('a page that names no referrer (Origin “null”) is let in by its token and by nothing else', async () => {
    await join();
    const html = await (await ask('/people')).text();
    const own = /name="csrf" value="([^"]*)"/.exec(html)![1]!;
    let count = 0;
    const send = (csrf: string, headers: Record<string, string>) => {
      count += 1;
      return ask('/people', {
        method: 'POST',
        body: new URLSearchParams({ csrf, name: `Person ${count}`, role: 'staff' }),
        headers,
      });
    };
    // Fetch Metadata (W3C): what the browser says of the site goes before what Origin says.
    expect((await send('', { origin: 'null' })).status).toBe(403);
    expect((await send('0'.repeat(64), { origin: 'null' })).status).toBe(403);
    expect((await send(own, { origin: 'null', 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await send(own, { origin: 'null', 'sec-fetch-site': 'same-site' })).status).toBe(403);
    expect((await send(own, { origin: 'not an origin' })).status).toBe(403);
    expect((await send(own, { origin: 'http://shop.test:99' })).status).toBe(403);
    expect(await database.db.selectFrom('person').selectAll().execute()).toHaveLength(1);
    expect((await send(own, { origin: 'null' })).status).toBe(303);
    expect((await send(own, { origin: 'http://shop.test', 'sec-fetch-site': 'same-origin' })).status).toBe(
      303,
    );
    expect((await send(own, { origin: 'null', 'sec-fetch-site': 'none' })).status).toBe(303);
  });

  test('the form’s token stands on each page in other letters, and each of them will do', async () => {
    await join();
    const tokens = [];
    for (let n = 0; n < 3; n += 1)
      tokens.push(/name="csrf" value="([^"]*)"/.exec(await (await ask('/people')).text())![1]!);
    expect(new Set(tokens).size).toBe(3);
    for (const [n, csrf] of tokens.entries()) {
      const body = new URLSearchParams({ csrf, name: `Person ${n}`, role: 'staff' });
      expect((await ask('/people', { method: 'POST', body })).status).toBe(303);
    }
  });

  test('after signing in one goes on to a page of ours and never to somebody else’s', async () => {
    await join();
    for (const [to, where] of [
      ['/cases/abc', '/cases/abc'],
      ['https://elsewhere.example/', '/bench'],
      ['//elsewhere.example', '/bench'],
      ['/\\elsewhere.example', '/bench'],
      ['/sign-out', '/bench'],
    ] as const) {
      jar.clear();
      const answer = await post('/sign-in', '/sign-in', { email: 'ana@example.com', password: PASSWORD, to });
      if (to === '/sign-out') continue;
      expect(answer.headers.get('location'), to).toBe(where);
    }
  });

  test('a token opens what its scopes name and nothing else, until it is revoked; only its hash is kept', async () => {
    await join();
    const shown = await (
      await post('/people/tokens', '/people', { token_name: 'till', scopes: 'corrections' })
    ).text();
    const token = /<code>(af_[\w-]+)<\/code>/.exec(shown)![1]!;
    const call = (path: string, method: string, key: string) =>
      app.request(`http://shop.test${path}`, {
        method,
        headers: { host: 'shop.test', authorization: `Bearer ${key}` },
      });
    const answer = await call('/api/corrections', 'GET', token);
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-disposition')).toMatch(/^attachment/);
    expect((await call('/api/corrections', 'GET', `${token}x`)).status).toBe(403);
    expect((await call('/api/import', 'POST', token)).status).toBe(403);
    expect((await call('/api/owner-link', 'POST', token)).status).toBe(403);
    expect((await ask('/people').then((answer) => answer.text())).includes(token)).toBe(false);
    const [row] = await database.db.selectFrom('api_token').selectAll().execute();
    expect(JSON.stringify(row)).not.toContain(token);
    await post(`/people/tokens/${row!.token_id}/revoke`, '/people', {});
    expect((await call('/api/corrections', 'GET', token)).status).toBe(403);
  });

  test('a token is answered 120 times a minute, from wherever it asks, and again in the next', async () => {
    await join();
    const shown = await (
      await post('/people/tokens', '/people', { token_name: 'till', scopes: 'corrections' })
    ).text();
    const token = /<code>(af_[\w-]+)<\/code>/.exec(shown)![1]!;
    const call = (n: number) =>
      app.request(
        'http://shop.test/api/corrections',
        { headers: { host: 'shop.test', authorization: `Bearer ${token}` } },
        { incoming: { socket: { remoteAddress: `198.51.100.${n}` } } },
      );
    for (let n = 0; n < 120; n += 1) expect((await call(n)).status).toBe(200);
    const held = await call(121);
    expect(held.status).toBe(429);
    expect(await held.json()).toMatchObject({ error: { code: 'too-often' } });
    minutes(1);
    expect((await call(1)).status).toBe(200);
  });

  test('the key of commands opens only at the machine itself', async () => {
    const call = (env?: object) =>
      app.request(
        'http://shop.test/api/corrections',
        { headers: { host: 'shop.test', 'x-afterfit-key': 'k' } },
        env,
      );
    expect((await call()).status).toBe(200);
    expect((await call(AWAY)).status).toBe(403);
  });

  test('every page says: nothing from elsewhere, no script inside, kept nowhere; over https also that it stays so', async () => {
    await join();
    const here = await ask('/bench');
    const policy = here.headers.get('content-security-policy')!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toContain('unsafe');
    expect(here.headers.get('cache-control')).toBe('no-store');
    expect(here.headers.get('x-content-type-options')).toBe('nosniff');
    expect(here.headers.get('cross-origin-opener-policy')).toBe('same-origin');
    expect(here.headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(here.headers.get('permissions-policy')).toContain('camera=()');
    expect(here.headers.get('strict-transport-security')).toBeNull();
    const away = await ask('/sign-in', {}, AWAY, 'far.example');
    expect(away.headers.get('strict-transport-security')).toContain('max-age=31536000');
    const html = await here.text();
    expect(html).not.toMatch(/<script(?![^>]*src=)|\son\w+=|style="/);
  });

  test('who looked at what stands in the log, once for a look', async () => {
    await join();
    await ask('/people');
    await aWearer();
    const looks = async () =>
      (await database.db.selectFrom('audit').select('act').where('act', '=', 'saw the wearer').execute())
        .length;
    const before = await looks();
    await ask('/wearers/w1');
    await ask('/wearers/w1');
    const page = seen(await (await ask('/log?about=seen')).text());
    expect(page).toContain('saw the wearer');
    expect(page).toContain('Ida Quill');
    expect((await looks()) - before).toBe(1);
    await expect(database.db.deleteFrom('audit').execute()).rejects.toThrow();
  });
});
