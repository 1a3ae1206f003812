import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { candidatesOf, lessonsOf } from '../../src/commands/lessons.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { answerWearers } from '../../src/followup/answerWearers.ts';
import { correctLabels } from '../../src/followup/settleTray.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import { say } from '../../src/followup/words.ts';
import type { Database } from '../../src/store/database.ts';
import { corrections } from '../../src/store/pages/words.ts';
import { findShop } from '../../src/store/shops.ts';
import type { Wearer } from '../../src/store/wearers.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
});
afterAll(() => database.close());

const says = (from: string, body: string) =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: body,
    from,
    to: null,
    body,
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
const oneJob = async () => {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,phone,consent,handed over on,lens design\n1,Ida Quill,+1 202-555-0111,yes,2026-03-01,soft 15',
    date_order: 'ymd',
  });
};
const tried = async (text: string, more = '') =>
  (await screen.get(`/words?text=${encodeURIComponent(text)}${more}`)).html;

describe('a sentence tried', () => {
  test('each label stands with the words that gave it, underlined; what follows is told; nothing is kept', async () => {
    const html = await tried('They slip down my nose, worse than yesterday, and how do I clean them?');
    const text = seen(html);
    expect(text).toMatch(/slipping from “[^”]*slip/);
    expect(html).toMatch(/<mark[^>]*>[^<]*slip/);
    expect(text).toContain('How and where: worse than before');
    expect(text).toContain('Opens a case on the bench');
    expect(text).toMatch(/Asks cleaning: answered with “warm water.*or shall we ring you\?”/);
    expect(await database.db.selectFrom('inbound').selectAll().execute()).toEqual([]);
  });

  test('danger, stop, a bare answer and words that are not understood are told apart', async () => {
    expect(seen(await tried('flashes and a black curtain in my left eye since this morning'))).toContain(
      'Goes to a person at once',
    );
    expect(seen(await tried('STOP'))).toContain('Stops all messages, confirmed once.');
    const four = seen(await tried('4', '&asked=check-in'));
    expect(four).toContain('Read as the answer 4 to our question.');
    expect(four).toContain('not-wearing');
    const nothing = seen(await tried('qwx'));
    expect(nothing).toContain('To the tray: nothing in it is read');
    expect(nothing).not.toContain('Opens a case');
  });

  test('Spanish words are read as Spanish, and the kept answers beside them are the Spanish ones', async () => {
    const html = await tried('se me resbalan por la nariz', '&locale=es');
    expect(seen(html)).toContain('slipping');
    expect(seen(html)).toContain('Kept answers, Spanish');
  });

  test('markup in a sentence stays words', async () => {
    expect(await tried('<script>alert(1)</script>')).not.toContain('<script>alert');
  });
});

test('a correction by staff stands with what was read, what it is, who said so and why', async () => {
  const { inboundId } = await says('+12025550144', 'qwx on my ears');
  const done = await correctLabels(screen.shell, SHOP, inboundId ?? '', ['pressure'], 'ears', 'Ana Example');
  expect(done.ok).toBe(true);
  const text = seen((await screen.get('/words')).html);
  expect(text).toMatch(/qwx on my ears .*Pinch.* ears Ana Example, today 10:00/i);
});

test('a label put right in the tray is a lesson, with the words that would serve and what they would do', async () => {
  const { inboundId } = await says('+12025550144', 'qwx vlorping on me');
  expect(seen((await screen.get('/tray')).html)).toContain('qwx vlorping on me');
  await screen.post(`/tray/${inboundId}/labels`, { labels: 'slipping', reason: 'told by phone' });
  expect(seen((await screen.get('/words')).html)).toContain('told by phone');
  const [lesson] = lessonsOf(await corrections(screen.shell.db, SHOP, 10));
  expect(lesson).toMatchObject({ words: 'qwx vlorping on me', staff: ['slipping'], learnt: false });
  const [candidate] = candidatesOf(lesson!, [
    { words: ' vlorping again ', labels: ['slipping'], today: [] },
    { words: ' on me ', labels: [], today: [] },
  ]);
  expect(candidate).toEqual({ label: 'slipping', phrase: 'vlorping', right: 1, wrong: 0 });
});

describe('kept answers', () => {
  const answerTo = async (ask: 'returns' | 'cleaning', locale: 'en' | 'es') => {
    const shop = await findShop(database.db, SHOP);
    const wearer = { name: 'Ida Quill', locale } as Wearer;
    return say(shop, wearer, 'text', { purpose: 'answer', pieces: [{ kind: 'kept', ask }] }).body;
  };

  test('an answer uses the shop’s own words and ends with the offer to ring; emptied, ours stands again', async () => {
    const ours = await answerTo('cleaning', 'en');
    expect(ours).toContain('warm water');
    const done = await screen.post('/words/kept', {
      ask: 'cleaning',
      locale: 'en',
      text: 'use the spray that lies in the case, and a clean cloth.',
    });
    expect(seen(done.then!.html)).toContain('answered in your words from now on');
    const own = await answerTo('cleaning', 'en');
    expect(own).toContain('use the spray that lies in the case, and a clean cloth');
    expect(own).toMatch(/or shall we ring you\?$/);
    expect(own).not.toContain('warm water');
    expect(await answerTo('cleaning', 'es')).not.toContain('spray that lies');
    await screen.post('/words/kept', { ask: 'cleaning', locale: 'en', text: '' });
    expect(await answerTo('cleaning', 'en')).toBe(ours);
  });

  test('a wearer who asks is answered in the shop’s words, once, after two quiet minutes', async () => {
    await oneJob();
    const text = 'use the spray that lies in the case';
    await screen.post('/words/kept', { ask: 'cleaning', locale: 'en', text });
    await says('+12025550111', 'how do I clean them?');
    screen.clock.moveTo(new Date(screen.clock.now().getTime() + 121_000));
    expect(await answerWearers(screen.shell)).toBe(1);
    expect(await answerWearers(screen.shell)).toBe(0);
    const sent = await database.db
      .selectFrom('message')
      .select(['body', 'asked'])
      .where('purpose', '=', 'answer')
      .executeTakeFirstOrThrow();
    expect(sent.body).toMatch(/use the spray that lies in the case, or shall we ring you\?$/);
    expect(sent.asked).toEqual({ kind: 'yes-no', id: 'ring-you' });
  });

  test('returns are off until the shop writes them', async () => {
    const off = seen(await tried('can I return them if I do not get on with them?'));
    expect(off).toContain('Asks returns: no kept answer, a person answers.');
    await screen.post('/words/kept', {
      ask: 'returns',
      locale: 'en',
      text: 'bring them back within 30 days',
    });
    expect(await answerTo('returns', 'en')).toMatch(
      /bring them back within 30 days, or shall we ring you\?$/,
    );
    const settings = (await screen.get('/log?about=settings')).html;
    expect(seen(settings)).toContain('kept answer set: returns');
  });

  test.each([
    ['a text of more than one part', 'word '.repeat(60), 'parts of a text'],
    ['a condition that anyone could read', 'with your cataract wait a month', '“cataract” must not stand'],
  ])('%s is refused, keeps what was typed and changes nothing', async (_what, text, told) => {
    const done = await screen.post('/words/kept', { ask: 'cleaning', locale: 'en', text });
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain(told);
    expect(seen(done.html)).toContain(text.trim().slice(0, 30));
    expect(await answerTo('cleaning', 'en')).toContain('warm water');
  });

  test('a question that is none is refused', async () => {
    expect((await screen.post('/words/kept', { ask: 'other', locale: 'en', text: 'x' })).status).toBe(400);
  });
});

test('the log pages through all that happened once each, newest first', async () => {
  for (let at = 0; at < 60; at++) {
    await screen.post('/words/kept', { ask: 'returns', locale: 'en', text: `in ${at + 100} days` });
    if (at % 2 === 0) screen.clock.moveTo(new Date(screen.clock.now().getTime() + 1000));
  }
  const seenDays: number[] = [];
  let path: string | undefined = '/log?about=settings';
  while (path !== undefined) {
    const { html } = await screen.get(path);
    seenDays.push(...[...html.matchAll(/text in (\d+) days/g)].map((found) => Number(found[1])));
    path = /href="(\/log\?[^"]*after=[^"]*)"/.exec(html)?.[1]?.replaceAll('&amp;', '&');
  }
  expect(seenDays).toHaveLength(60);
  expect(new Set(seenDays).size).toBe(60);
  expect(seenDays[0]! >= 158 && seenDays.at(-1)! <= 101).toBe(true);
});

test('words of a note stay on the case and out of the log', async () => {
  await oneJob();
  await says('+12025550111', 'they slip down my nose all the time');
  const { case_id } = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  const note = { kind: 'note', text: 'sounds tired' } as const;
  expect((await actOnCase(screen.shell, SHOP, case_id, note, 'Ana Example', undefined)).ok).toBe(true);
  const text = seen((await screen.get('/log?about=acts')).html);
  expect(text).toContain('opened the case Ida Quill');
  expect(text).toContain('noted on the case Ida Quill');
  expect(text).not.toContain('slip down');
  expect(text).not.toContain('sounds tired');
});
