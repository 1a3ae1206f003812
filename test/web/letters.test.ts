import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../src/ids.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { keepSettings } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { toldWords } from '../../src/web/pages/told.ts';
import { textParts } from '../../templates/textParts.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';
import { signedIn } from './signedIn.ts';

describe('letters and the alarm on the pages', () => {
  let database: Database;
  let screen: Screen;
  beforeAll(async () => {
    database = await freshDatabase('embedded');
    screen = await openScreen(database);
  });
  afterAll(() => database.close());

  test('Letters shows each message in the words of this shop, with the parts of its texts counted', async () => {
    const page = await screen.get('/letters');
    expect(page.status).toBe(200);
    const words = seen(page.html);
    for (const name of [
      'Day 3, the first message',
      'Day 30',
      'Stop confirmed, texts and emails',
      'From staff',
    ]) {
      expect(words).toContain(name);
    }
    expect(words).toContain('Test shop');
    expect(words).toContain('emergency 911');
    const bodies = [
      ...page.html.matchAll(
        /by text<\/span><\/h3><p class="body"[^>]*>([\s\S]*?)<\/p><p class="hint">([\s\S]*?)<\/p>/g,
      ),
    ];
    expect(bodies.length).toBeGreaterThan(40);
    for (const [, body, hint] of bodies) {
      const { segments } = textParts(unescaped(body!));
      expect(hint).toContain(segments === 1 ? '1 part,' : `${segments} parts,`);
    }
  });

  const unescaped = (html: string) =>
    html
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&quot;', '"')
      .replaceAll('&#39;', "'")
      .replaceAll('&amp;', '&');

  test('one language and one channel at a time, when asked', async () => {
    const page = await screen.get('/letters?locale=es&channel=email');
    expect(page.html).toContain('lang="es"');
    expect(page.html).not.toContain('by text</span>');
    expect(seen(page.html)).toContain('LLAME YA: R.');
  });

  test('the pages behind links are shown in both languages, with nobody behind them', async () => {
    const { html } = await screen.get('/letters?locale=es');
    const pages = [...html.matchAll(/href="(\/letters\/pages\/[^"]+)"/g)].map((one) => one[1]!);
    expect(pages).toHaveLength(9);
    for (const page of pages) {
      expect(page, page).toContain('lang=es');
      const shown = await screen.get(page);
      expect(shown.status, page).toBe(200);
      expect(shown.html, page).toContain('<html lang="es"');
      expect((await screen.get(page.replace('lang=es', 'lang=en'))).html, page).toContain('<html lang="en"');
    }
    expect(seen((await screen.get('/letters/pages/danger')).html)).toContain('emergency 911');
    expect(seen((await screen.get('/letters/pages/light-reactive?air=cold')).html)).toContain('cold, 5 °C');
    expect((await screen.get('/letters/pages/nothing')).status).toBe(404);
  });

  test('without local numbers the cautions are left out, and the page says why', async () => {
    await keepSettings(database.db, SHOP, { phone: '+1 202-555-0100' });
    const words = seen((await screen.get('/letters')).html);
    expect(words).toContain('The caution after a danger sign cannot be written: no local numbers are set.');
    expect(words).not.toContain('Caution, sight or eye');
  });

  test('the bench says that nobody is told of danger until someone on call can be reached', async () => {
    const line =
      'Nobody is told of danger: no one on call has a number or an address that can be reached from here.';
    expect(seen((await screen.get('/bench')).html)).toContain(line);
    await database.db
      .updateTable('person')
      .set({ phone_e164: '+12025550190' })
      .where('shop_id', '=', SHOP)
      .execute();
    // A number alone is not enough: no carrier is switched on.
    expect(seen((await screen.get('/bench')).html)).toContain(line);
    const shell = {
      ...screen.shell,
      carrier: () => ({ name: 'any', kind: 'text', send: neverAsked, find: neverAsked }) as const,
    };
    expect(seen(await benchOf(shell))).not.toContain('Nobody is told of danger');
  });

  const neverAsked = async (): Promise<never> => {
    throw new Error('nothing is sent by looking at a page');
  };
  const benchOf = async (shell: Screen['shell']): Promise<string> => {
    const nothing = async () => {};
    const room = {
      shell,
      shopId: SHOP,
      kind: 'own',
      work: nothing,
      moveClock: nothing,
      close: nothing,
    } as const;
    const house = {
      room: () => room,
      hosts: new Set(['shop.test']),
      key: 'k',
      filling: null,
      choose: async () => [],
    };
    const answer = await createApp(house, silentLog).request('http://shop.test/bench', {
      headers: { host: 'shop.test', cookie: (await signedIn(shell.db, SHOP, shell.clock)).cookie },
    });
    return answer.text();
  };

  test('all texts wait: the bench says why and what ends it', async () => {
    const at = screen.clock.now();
    await database.db
      .insertInto('channel_hold')
      .values({
        shop_id: SHOP,
        channel: 'text',
        code: '30034',
        why: 'the sender is not registered',
        since: at,
        try_at: at,
      })
      .execute();
    expect(seen((await screen.get('/bench')).html)).toContain(
      'All texts wait: the sender is not registered.',
    );
  });

  test('the door of alarm-test is shut without the key', async () => {
    const house = {
      room: () => undefined,
      hosts: new Set(['shop.test']),
      key: newId(screen.clock.now()),
      filling: null,
      choose: async () => [],
    };
    const app = createApp(house, silentLog);
    const ask = (key: string) =>
      app.request('http://shop.test/api/alarm-test', {
        method: 'POST',
        headers: { host: 'shop.test', 'x-afterfit-key': key },
      });
    expect((await ask('guessed')).status).toBe(403);
    expect((await ask(house.key)).status).toBe(409);
  });

  test('who was told, in words: a round counts once, and who was not reached is named', async () => {
    const shop = await database.db.selectFrom('shop').selectAll().executeTakeFirstOrThrow();
    const now = new Date('2026-03-05T16:00:00Z');
    const call = (
      round: number,
      person_name: string,
      minute: number,
      channel: 'text' | 'email',
      state: 'accepted' | 'refused',
    ) => ({
      case_id: 'c',
      round,
      person_name,
      channel,
      state,
      at: new Date(Date.UTC(2026, 2, 5, 15, minute)),
    });
    expect(
      toldWords(
        [
          call(1, 'Ana Brook', 38, 'text', 'refused'),
          call(1, 'Ana Brook', 38, 'email', 'accepted'),
          call(2, 'Ana Brook', 43, 'text', 'accepted'),
          call(3, 'Tom Reyes', 48, 'text', 'refused'),
        ],
        shop,
        now,
      ),
    ).toBe('Ana Brook was told at 10:38 and 10:43, Tom Reyes could NOT be told (10:48)');
    expect(toldWords([], shop, now)).toMatch(/^NOBODY was told/);
  });
});
