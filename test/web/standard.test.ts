import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { standardOfShop } from '../../src/followup/toleranceStandard.ts';
import type { Database } from '../../src/store/database.ts';
import { findShop } from '../../src/store/shops.ts';
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

const keep = (standard: string) => screen.post('/shop', { section: 'limits', standard });
const chosen = async () => standardOfShop(await findShop(database.db, SHOP));

test('the standard is set on page Shop, and the bench check of a job goes by it from then on', async () => {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,lens design,order R,order L,checked R,checked L\nA-1,Ida Quill,soft 15,-1.00,-1.00,-1.00,-1.00',
    date_order: 'ymd',
  });
  const { job_id } = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  expect((await screen.get(`/jobs/${job_id}`)).html).toContain('ANSI Z80.1');
  await keep('ISO 21987');
  expect(await chosen()).toBe('ISO 21987');
  const { html } = await screen.get(`/jobs/${job_id}`);
  expect(html).toContain('ISO 21987');
  expect(html).not.toContain('ANSI Z80.1');
  await keep('');
  expect(await chosen()).toBe('ANSI Z80.1');
});

test('a standard that is none is refused, and what was set stands', async () => {
  await keep('ISO 21987');
  const { html, status } = await keep('DIN');
  expect(status).toBe(400);
  expect(seen(html)).toContain('Limits of a finished pair');
  expect(await chosen()).toBe('ISO 21987');
});
