import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [
      'job number,name,phone,consent,handed over on,lens design,first multifocal,zone',
      'J-7,Ida Quill,202 555 0117,text,2026-02-27,soft 15,yes,America/New_York',
      'J-8,Otto Lind,202 555 0118,text,2026-02-20,short 11,no,America/Los_Angeles',
    ].join('\n'),
    date_order: 'ymd',
  });
});
afterAll(() => database.close());

const says = (from: string, body: string) =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: `far-${from}-${body}`,
    from,
    to: null,
    body,
    receivedAt: screen.shell.clock.now().toISOString(),
    raw: {},
  });

const idOf = async (name: string) =>
  (
    await screen.shell.db
      .selectFrom('wearer')
      .select('wearer_id')
      .where('name', '=', name)
      .executeTakeFirstOrThrow()
  ).wearer_id;

test('an empty ring list says who would stand on it', async () => {
  expect(seen((await screen.get('/ring-list')).html)).toContain('Nobody is to be rung.');
});

test('who asked for a call stands there with number, their time, why, and by when it was promised', async () => {
  await says('+12025550118', 'please call me');
  const text = seen((await screen.get('/ring-list')).html);
  expect(text).toContain('Otto Lind');
  expect(text).toContain('+1 202-555-0118');
  expect(text).toContain('07:00 their time: not now');
  expect(text).toContain('Asked to be rung, today 10:00');
  expect(text).toContain('Promised by today 17:00');
});

test('who may be in danger is rung at any hour of theirs', async () => {
  await says('+12025550118', 'a grey curtain came down over my right eye this morning');
  const text = seen((await screen.get('/ring-list')).html);
  expect(text).toContain('07:00 their time');
  expect(text).not.toContain('not now');
  expect(text).toContain('ring now');
});

test('no answer is noted on the row and on the open case', async () => {
  await says('+12025550117', 'please call me');
  const id = await idOf('Ida Quill');
  const done = await screen.post(`/ring-list/${id}/attempt`, { what: 'no answer' });
  expect(done.path).toBe('/ring-list');
  expect(seen(done.then!.html)).toContain('today 10:00 no answer, Ana Example');
  const file = await screen.shell.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  expect(seen((await screen.get(`/cases/${file.case_id}`)).html)).toContain('noted: rang: no answer');
});

test('a call: said in their words, then the next question with tap answers, then its answer weighs', async () => {
  const id = await idOf('Ida Quill');
  const sheet = await screen.get(`/ring-list/${id}`);
  expect(seen(sheet.html)).toContain('This is Ana from Test shop, about your new glasses.');
  expect(seen(sheet.html)).toContain('Not on the ring list');
  const said = await screen.post(`/ring-list/${id}/said`, {
    answer: '3',
    text: 'road signs are blurry',
    once: 'a',
  });
  const page = said.then!.html;
  expect(seen(page)).toContain('Written down and read like any reply.');
  const question = /name="question_id" value="([^"]+)"/.exec(page)?.[1];
  const answer = /name="answer" value="([a-c])"/.exec(page)?.[1];
  expect(question).toBeDefined();
  const before = await screen.shell.db.selectFrom('case_file').select('version').executeTakeFirstOrThrow();
  const done = await screen.post(`/ring-list/${id}/answer`, { question_id: question!, answer: answer! });
  expect(seen(done.then!.html)).toContain('The answer is noted and the causes are weighed again.');
  const after = await screen.shell.db.selectFrom('case_file').select('version').executeTakeFirstOrThrow();
  expect(after.version).toBeGreaterThan(before.version);
  expect(/name="question_id" value="([^"]+)"/.exec(done.then!.html)?.[1]).not.toBe(question);
});

test('nothing typed is lost when a sheet is refused', async () => {
  const id = await idOf('Ida Quill');
  const done = await screen.post(`/ring-list/${id}/said`, { answer: '3', text: '' });
  expect(done.status).toBe(400);
  expect(seen(done.html)).toContain('Write what they said, in their words.');
  expect(done.html).toMatch(/value="3"[^>]*checked/);
  const again = await screen.post(`/ring-list/${id}/attempt`, {
    what: 'again at',
    again_at: '2026-03-01T10:00',
  });
  expect(seen(again.html)).toContain('This time has passed.');
});

test('who rings in is found by the beginning of a name, by job number and by the last figures of the number', async () => {
  for (const q of ['qui', 'J-7', '0117', '202 555 0117']) {
    const text = seen((await screen.get(`/find?q=${encodeURIComponent(q)}`)).html);
    expect(text, q).toContain('Ida Quill');
    expect(text, q).not.toContain('Otto Lind');
  }
  const { html } = await screen.get('/find?q=quill');
  expect(html).toContain(`href="/ring-list/${await idOf('Ida Quill')}"`);
});

test('a call sheet of nobody is not there', async () => {
  expect((await screen.get('/ring-list/nobody')).status).toBe(404);
  expect((await screen.post('/ring-list/nobody/attempt', { what: 'no answer' })).status).toBe(404);
});
