import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, seen } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
  screen = await openScreen(database);
  const many = Array.from({ length: 25 }, (_, at) => `M-${at},Mara Example${at},,,yes,2026-03-01,soft 15`);
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [
      'job number,name,phone,email,consent,handed over on,lens design',
      '20711,Ida Quill,+1 202-555-0111,ida@example.com,yes,2026-03-01,soft 15',
      ...many,
    ].join('\n'),
    date_order: 'ymd',
  });
});
afterAll(() => database.close());

const found = async (q: string) => seen((await screen.get(`/find?q=${encodeURIComponent(q)}`)).html);

describe('who rings in is found', () => {
  test.each(['id', 'QUILL', '202-555-0111', '+12025550111', 'ida@example.com', '20711'])(
    'by “%s”, two keys being enough, with her day and the way to her call sheet',
    async (q) => {
      const { html } = await screen.get(`/find?q=${encodeURIComponent(q)}`);
      expect(seen(html)).toMatch(/Ida Quill.*day 1, soft 15/);
      expect(html).toMatch(/href="\/ring-list\/[\w-]+"/);
      expect(seen(html)).not.toContain('Mara Example');
    },
  );

  test('by the last four digits of her number, with the number itself', async () => {
    expect(await found('0111')).toContain('Ida Quill +1 202-555-0111');
  });

  test('of many at most twenty are shown; signs of a pattern are plain letters', async () => {
    expect((await found('mara')).match(/Call sheet : Mara Example/g)).toHaveLength(20);
    expect(await found('%')).not.toContain('Mara Example');
    expect(await found('<zz>')).not.toContain('Ida Quill');
  });
});
