import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { loadStarterDesigns, STARTER_DESIGNS } from '../../src/followup/starterDesigns.ts';
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

const DESIGN = {
  name: 'soft 15',
  kind: 'progressive',
  corridor_mm: '15',
  corridor_how: 'from the cross to 85 % of the add',
  min_height_mm: '19',
  refractive_index: '1.6',
  abbe: '41',
  source: 'data sheet of the lab',
};

describe('designs', () => {
  test('a design stands in the book with its figures, how the corridor is measured, and their source', async () => {
    const done = await screen.post('/lens-book/designs', {
      ...DESIGN,
      grade: 'in-car',
      clear_percent: '78 %',
      dark_percent: '12',
      at_temperature_c: '23',
    });
    const text = seen(done.then!.html);
    expect(text).toContain('soft 15 is in the book.');
    expect(text).toContain('15 mm, from the cross to 85 % of the add 19 mm 1.6, V 41');
    expect(text).toContain('in-car grade, 78 % clear, 12 % dark at 23 °C');
    expect(text).toContain('data sheet of the lab');
  });

  test('a design that came with a job is mended by its name, in any case of letters, and keeps its jobs', async () => {
    await screen.post('/deliveries/import', {
      step: 'take',
      checked_text: 'job number,name,lens design\n1,Ida Quill,soft 15',
      date_order: 'ymd',
    });
    const done = await screen.post('/lens-book/designs', { ...DESIGN, name: 'Soft 15' });
    expect(seen(done.then!.html)).toContain('soft 15 is mended');
    const rows = await database.db.selectFrom('lens_design').select(['name', 'corridor_mm']).execute();
    expect(rows).toEqual([{ name: 'soft 15', corridor_mm: 15 }]);
    await screen.post('/lens-book/designs', { name: 'soft 15', abbe: '42', source: 'own measurement' });
    const row = await database.db.selectFrom('lens_design').selectAll().executeTakeFirstOrThrow();
    expect(row).toMatchObject({ corridor_mm: 15, min_height_mm: 19, abbe: 42, source: 'own measurement' });
  });

  test.each([
    ['corridor_mm', '5.9', 'Allowed: 6 to 25 mm'],
    ['corridor_mm', '25.1', 'Allowed: 6 to 25 mm'],
    ['min_height_mm', '15', 'leaves nothing to read through below a corridor of 15 mm'],
    ['refractive_index', '1.44', 'Allowed: 1.45 to 1.95'],
    ['abbe', '66', 'Allowed: 20 to 65'],
    ['abbe', 'many', '“many” is not read as a number'],
    ['source', '', 'It is not said where the figures are from'],
    ['corridor_how', '', 'It is not said how the corridor is measured'],
    ['clear_percent', '101', 'Allowed: 20 to 100 %'],
  ])('%s “%s” is refused at its field, and nothing typed is lost', async (name, value, words) => {
    const done = await screen.post('/lens-book/designs', { ...DESIGN, [name]: value });
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain(words);
    expect(done.html).toContain('value="soft 15"');
    expect(await database.db.selectFrom('lens_design').select('name').execute()).toEqual([]);
  });

  test.each(['6', '25'])('a corridor of %s mm is at the edge of what is allowed', async (corridor) => {
    const done = await screen.post('/lens-book/designs', {
      ...DESIGN,
      corridor_mm: corridor,
      min_height_mm: '30',
    });
    expect(done.status).toBe(303);
  });

  test('dark that lets through as much as clear is refused', async () => {
    const done = await screen.post('/lens-book/designs', {
      ...DESIGN,
      clear_percent: '80',
      dark_percent: '80',
    });
    expect(seen(done.html)).toContain('is not darker than clear');
  });

  test('a new shop begins with generic designs: each has a source, none breaks its own rules', async () => {
    await loadStarterDesigns(database.db, SHOP, screen.clock.now());
    const { html } = await screen.get('/lens-book');
    for (const { name } of STARTER_DESIGNS) expect(seen(html)).toContain(name);
    for (const { corridorMm, minHeightMm, corridorHow, source } of STARTER_DESIGNS) {
      expect(source).toContain('common practice, no source');
      // Room to read below the corridor: at least 4 mm (trade continuing education on fitting heights).
      if (corridorMm !== null) expect(minHeightMm! - corridorMm).toBeGreaterThanOrEqual(4);
      if (corridorMm !== null) expect(corridorHow).not.toBeNull();
    }
  });
});

describe('labs and what they allow', () => {
  const labId = async () =>
    (await database.db.selectFrom('lab').select('lab_id').executeTakeFirstOrThrow()).lab_id;

  test('a lab is added once, and a second line for one reason takes the place of the first', async () => {
    await screen.post('/lens-book/labs', { name: 'Lab in the next town' });
    const twice = await screen.post('/lens-book/labs', { name: 'lab in the next Town' });
    expect(twice.status).toBe(400);
    const path = `/lens-book/labs/${await labId()}/terms`;
    await screen.post(path, { what: 'settling', days: '60', from: 'lab invoiced', times: '' });
    const done = await screen.post(path, { what: 'settling', days: '90', from: 'ordered', times: '2' });
    const text = seen(done.then!.html);
    expect(text).toContain('settling: 90 days from the order, 2 times');
    expect(text).not.toContain('60 days');
    const out = await screen.post(path, { what: 'settling', days: '0', from: 'ordered', times: '' });
    expect(seen(out.then!.html)).toContain('Its terms are not known.');
  });

  test.each([
    { days: '1096' },
    { days: '-1' },
    { days: '10.5' },
    { times: '0' },
    { times: '10' },
    { what: 'whim' },
    { from: 'birth' },
  ])('%o is refused', async (wrong) => {
    await screen.post('/lens-book/labs', { name: 'Lab' });
    const done = await screen.post(`/lens-book/labs/${await labId()}/terms`, {
      what: 'settling',
      days: '60',
      from: 'ordered',
      times: '1',
      ...wrong,
    });
    expect(done.status).toBe(400);
    expect((await database.db.selectFrom('lab').select('terms').executeTakeFirstOrThrow()).terms).toEqual([]);
  });

  test('terms of a lab that is not there', async () => {
    const done = await screen.post('/lens-book/labs/none/terms', {
      what: 'settling',
      days: '9',
      from: 'ordered',
    });
    expect(done.status).toBe(404);
  });

  test('the lab’s terms count the remake window on the case and in the weighing of its act', async () => {
    await screen.post('/deliveries/import', {
      step: 'take',
      checked_text: [
        'job number,name,phone,consent,handed over on,lab invoiced on,lab,lens design,first multifocal,zone',
        '1,Ida Quill,202 555 0117,text,2026-02-27,2026-02-20,Lab,soft 15,yes,America/New_York',
      ].join('\n'),
      date_order: 'ymd',
    });
    const row = await database.db.selectFrom('lab').select('name').executeTakeFirst();
    expect(row?.name).toBe('Lab');
    await screen.post(`/lens-book/labs/${await labId()}/terms`, {
      what: 'settling',
      days: '14',
      from: 'lab invoiced',
      times: '1',
    });
    await takeReply(screen.shell, {
      shopId: SHOP,
      channel: 'text',
      farId: 'f',
      from: '+12025550117',
      to: null,
      body: 'road signs are blurry',
      receivedAt: screen.clock.now().toISOString(),
      raw: {},
    });
    const file = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
    const text = seen((await screen.get(`/cases/${file.case_id}`)).html);
    // 14 days from 20 February: 6 March, four days after the 2nd.
    expect(text).toMatch(/4 days left the lab’s remake window.*?, Fri 6 Mar/);
    expect(text).toContain('14 days from “lab invoiced”, Fri 20 Feb');
  });
});
