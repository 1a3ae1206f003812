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
});
afterAll(() => database.close());

const HEAD = 'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,language';
async function take(...lines: string[]): Promise<void> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [HEAD, ...lines].join('\n'),
    date_order: 'ymd',
  });
}
const says = (from: string, body: string) =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: `far ${from} ${body}`,
    from,
    to: null,
    body,
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
const theCase = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();

test('an act has a way back beside it in the talk, and both stand there afterwards', async () => {
  await take('J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,en');
  await says('+12025550117', 'I have to lift my chin to read');
  const { case_id: id } = await theCase();
  await screen.post(`/cases/${id}/hold`, { again_on: '2026-03-05' });
  const held = (await screen.get(`/cases/${id}`)).html;
  expect(seen(held)).toContain('again on Thu 5 Mar');
  const event = /name="event_id" value="([^"]+)"/.exec(held)?.[1];
  screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
  await screen.post(`/cases/${id}/take-back`, {
    event_id: event!,
    seen_version: String((await theCase()).version),
  });
  expect(await theCase()).toMatchObject({ state: 'new', held_by: null, again_on: null });
  const page = seen((await screen.get(`/cases/${id}`)).html);
  expect(page).toContain('held the case: automatic messages wait (taken back)');
  expect(page).toContain('took back: held the case');
});

test('the question stands in the wearer’s language, with the English and the act that each answer leads to', async () => {
  await take('J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,es');
  await says('+12025550117', 'far away is blurred');
  const { case_id: id } = await theCase();
  const page = seen((await screen.get(`/cases/${id}`)).html);
  expect(page).toContain('Si baja un poco la barbilla, ¿ve claro de lejos?');
  expect(page).toContain('In English: If you drop your chin a little, does far get clear?');
  expect(page).toMatch(/a \(yes, clearer\) then [a-z ]+, b \(no, the same\) then [a-z ]+/);
});

test('beside the suggested act stands what it is expected to cost, and the next best', async () => {
  await take('J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,en');
  await says('+12025550117', 'I have to lift my chin to read');
  const { case_id: id } = await theCase();
  const page = seen((await screen.get(`/cases/${id}`)).html);
  expect(page).toMatch(/Adjust , at the shop: “[a-z ]+” leads \(\d+ in 100\)/);
  expect(page).toMatch(
    /Expected to cost about \d+, misses and both deadlines counted; next best: [A-Z][a-z ]+, [a-z ]+, about \d+\./,
  );
});

test('the bench puts danger first, then what waiting costs most for each day that is left', async () => {
  await take(
    'J-1,Otis Fenn,202 555 0111,text,2026-02-27,soft 15,yes,America/New_York,en',
    'J-2,Mara Lund,202 555 0112,text,2026-02-05,soft 15,yes,America/New_York,en',
    'J-3,Ben Ash,202 555 0113,text,2026-02-27,soft 15,yes,America/New_York,en',
  );
  // The same trouble: the pair whose window closes sooner presses more.
  await says('+12025550111', 'I have to lift my chin to read');
  await says('+12025550112', 'I have to lift my chin to read');
  await says('+12025550113', 'flashes of light and a curtain over one eye');
  const bench = seen((await screen.get('/bench')).html);
  const at = (name: string) => bench.indexOf(name);
  expect(at('Ben Ash')).toBeGreaterThan(0);
  expect(at('Ben Ash')).toBeLessThan(at('Mara Lund'));
  expect(at('Mara Lund')).toBeLessThan(at('Otis Fenn'));
});

test('what ends soon names each case once, by its nearest end that is not past', async () => {
  await take('J-4,Vera Holt,202 555 0114,text,2026-01-10,soft 15,yes,America/New_York,en');
  await says('+12025550114', 'I have to lift my chin to read');
  const html = (await screen.get('/bench')).html;
  const ending = seen(/<dt>Ending soon<\/dt>[\s\S]*?<\/div>/.exec(html)?.[0] ?? '');
  expect(ending.match(/Vera Holt/g)).toHaveLength(1);
  expect(ending).toMatch(/Vera Holt \d+ days? left, the lab’s remake window/);
  expect(seen(html)).toMatch(/\d+ days past/);
});
