import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { loadStarterDesigns } from '../../src/followup/starterDesigns.ts';
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
  await loadStarterDesigns(database.db, SHOP, screen.clock.now());
});
afterAll(() => database.close());

async function take(line: string): Promise<string> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: `job number,name,phone,consent,way,posted on,lens design,first multifocal,zone,birth year,fitting height\n${line}`,
    date_order: 'ymd',
  });
  const row = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  return `/jobs/${row.job_id}`;
}
const AT_COUNTER =
  'J-7,Ida Quill,202 555 0117,,counter,,"soft 15, light-reactive",yes,America/New_York,1955,19/18.5';
const BY_POST = 'J-8,Otto Lind,202 555 0118,,post,2026-02-26,soft 15,yes,America/New_York,1970,';

const texts = (body: string, from = '+12025550118') =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: `far-${body}`,
    from,
    to: null,
    body,
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });

describe('the hand-over sheet', () => {
  test('has what was ordered beside room for what is found, what to show, and the words of consent', async () => {
    const path = await take(AT_COUNTER);
    expect(seen((await screen.get(path)).html)).toContain('Hand-over sheet');
    const text = seen((await screen.get(`${path}/hand-over-sheet`)).html);
    expect(text).toContain('Hand-over: Ida Quill, job J-7');
    expect(text).toContain('Fitting height, mm 19 18.5');
    for (const word of [
      'far:',
      'middle:',
      'near:',
      'stairs:',
      'driving:',
      'cleaning:',
      'light-reactive:',
      'slip test',
    ])
      expect(text).toContain(word);
    expect(text).toContain('May Test shop write to you about your new glasses?');
    expect(text).toContain('65 or older and new to multifocals');
  });

  test('of a job that is not there', async () => {
    expect((await screen.get('/jobs/none/hand-over-sheet')).status).toBe(404);
    expect((await screen.get('/jobs/none/box-card')).status).toBe(404);
  });
});

test('who says yes to texts at the hand-over is texted and no longer rung', async () => {
  const path = await take(AT_COUNTER);
  await screen.post(`${path}/hand-over`, {
    handed_over_on: '2026-03-02',
    consent_text: 'given',
    words: 'asked so',
  });
  const row = await database.db.selectFrom('wearer').select('prefers').executeTakeFirstOrThrow();
  expect(row.prefers).toBe('text');
});

test('who says no at the hand-over stays with the phone', async () => {
  const path = await take(AT_COUNTER);
  await screen.post(`${path}/hand-over`, {
    handed_over_on: '2026-03-02',
    consent_text: 'refused',
    words: 'asked so',
  });
  const row = await database.db.selectFrom('wearer').select('prefers').executeTakeFirstOrThrow();
  expect(row.prefers).toBe('phone');
});

describe('the card in the parcel', () => {
  test('asks for HELLO and says what that agrees to, how to stop, and when not to wait', async () => {
    const path = await take(BY_POST);
    expect(seen((await screen.get(path)).html)).toContain('Card for the parcel');
    const text = seen((await screen.get(`${path}/box-card`)).html);
    expect(text).toContain('Text HELLO to +1 202-555-0100 when you put them on.');
    expect(text).toContain('With it you agree that Test shop may text you');
    expect(text).toContain('Answer STOP at any time');
    expect(text).toContain('do not wait for us');
  });

  test('is not printed without a number to text', async () => {
    const path = await take(BY_POST);
    await screen.post('/shop', { section: 'shop', name: 'Test shop', phone: '', text_name: '' });
    expect((await screen.get(`${path}/box-card`)).status).toBe(409);
  });

  const standing = async () => ({
    consent: (await database.db.selectFrom('wearer_contact').select('consent').executeTakeFirstOrThrow())
      .consent,
    pair: await database.db
      .selectFrom('pair')
      .select(['first_worn_on', 'first_worn_how'])
      .executeTakeFirstOrThrow(),
    tray: (await database.db.selectFrom('inbound_standing').select('state').execute()).map(
      (row) => row.state,
    ),
  });

  test('HELLO is consent with its words, and the day first worn; the questions run from that day', async () => {
    await take(BY_POST);
    expect((await standing()).consent).toBe('none');
    const prefers = async () =>
      (await database.db.selectFrom('wearer').select('prefers').executeTakeFirstOrThrow()).prefers;
    expect(await prefers()).toBe('phone');
    await texts('Hello!');
    expect(await prefers()).toBe('text');
    expect(await standing()).toEqual({
      consent: 'given',
      pair: { first_worn_on: '2026-03-02', first_worn_how: 'said by the wearer' },
      tray: ['sorted'],
    });
    const event = await database.db
      .selectFrom('consent_event')
      .select(['basis', 'words'])
      .executeTakeFirstOrThrow();
    expect(event).toEqual({ basis: 'the card in the parcel: who texts HELLO agrees', words: 'Hello!' });
    const due = await database.db
      .selectFrom('check_in')
      .select('due_on')
      .where('state', '=', 'planned')
      .where('day', '=', 3)
      .execute();
    expect(due).toEqual([{ due_on: '2026-03-05' }]);
  });

  test('from somebody who said stop, HELLO starts nothing: a person reads it', async () => {
    await take(BY_POST);
    await texts('STOP');
    await texts('Hello');
    const { consent, tray } = await standing();
    expect(consent).toBe('withdrawn');
    expect(tray).toContain('tray');
  });

  test('HELLO with more words is read like any reply', async () => {
    await take(BY_POST);
    await texts('Hello, the right lens is scratched');
    expect((await standing()).consent).toBe('none');
    expect(await database.db.selectFrom('case_file').select('labels').execute()).toHaveLength(1);
  });
});
