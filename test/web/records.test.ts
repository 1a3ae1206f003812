import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
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
    checked_text: 'job number,name,lens design\nA-17,Ida Quill,soft 15',
    date_order: 'ymd',
  });
});
afterAll(() => database.close());

/* Values of the first spectacle example that HL7 prints with FHIR R4 (4.0.1), resource VisionPrescription. */
const PRESCRIPTION = {
  resourceType: 'VisionPrescription',
  id: '33123',
  status: 'active',
  created: '2014-06-15',
  dateWritten: '2014-06-15',
  lensSpecification: [
    {
      product: { coding: [{ code: 'lens' }] },
      eye: 'right',
      sphere: -2,
      prism: [{ amount: 0.5, base: 'down' }],
      add: 2,
    },
    {
      product: { coding: [{ code: 'lens' }] },
      eye: 'left',
      sphere: -1,
      cylinder: -0.5,
      axis: 180,
      prism: [{ amount: 0.5, base: 'up' }],
      add: 2,
    },
  ],
};
const RECORDS =
  'JOB=A-17\r\nDO=B\r\nSPH=-1.75;+0.25\r\nCYL=-0.50;-1.00\r\nAX=0;90\r\nADD=2.00;2.00\r\nIPD=31.5;32\r\nPANTO=8;8\r\n';

const look = (name: string, text: string) =>
  screen.post('/deliveries/import', { step: 'check', date_order: 'ymd', file: new File([text], name) });
const facts = async (key: string) =>
  (
    await database.db
      .selectFrom('fact')
      .select(['eye', 'value', 'source', 'how'])
      .where('shop_id', '=', SHOP)
      .where('key', '=', key)
      .orderBy('eye', 'desc')
      .execute()
  ).map(({ eye, value, source }) => [eye, value, source]);

describe('a prescription (FHIR R4) as a file', () => {
  test('is shown as it was read, then kept with the job whose number is typed', async () => {
    const looked = await look('rx.json', JSON.stringify(PRESCRIPTION));
    const text = seen(looked.html);
    expect(text).toContain('rx.json: a prescription (FHIR), not taken in yet');
    expect(text).toMatch(/−2\.00.*−1\.00 −0\.50 × 180/);
    expect(await facts('rx')).toEqual([]);
    const { then } = await screen.post('/deliveries/import', {
      step: 'record',
      record_text: JSON.stringify(PRESCRIPTION),
      job_number: 'A-17',
    });
    expect(seen(then!.html)).toContain('numbers are noted');
    expect(await facts('rx')).toEqual([
      ['R', [-2, 0, 180], 'order'],
      ['L', [-1, -0.5, 180], 'order'],
    ]);
    expect(await facts('order_prism_up_pd')).toEqual([
      ['R', -0.5, 'order'],
      ['L', 0.5, 'order'],
    ]);
  });

  test('in a Bundle it is found; of two nothing is taken', async () => {
    const bundle = (count: number) =>
      JSON.stringify({
        resourceType: 'Bundle',
        entry: [
          { resource: { resourceType: 'Patient' } },
          ...Array.from({ length: count }, () => ({ resource: PRESCRIPTION })),
        ],
      });
    expect(seen((await look('one.json', bundle(1))).html)).toContain('Keep with this job');
    const two = seen((await look('two.json', bundle(2))).html);
    expect(two).toContain('There are 2 prescriptions in it');
    expect(two).not.toContain('Keep with this job');
  });

  test('contact lenses and a cancelled prescription are refused with the reason', async () => {
    const cancelled = seen(
      (await look('x.json', JSON.stringify({ ...PRESCRIPTION, status: 'cancelled' }))).html,
    );
    expect(cancelled).toContain('was cancelled');
    const contact = {
      ...PRESCRIPTION,
      lensSpecification: [
        { product: { coding: [{ code: 'contact' }] }, eye: 'left', power: -2.75, backCurve: 8.7 },
      ],
    };
    const refused = seen((await look('c.json', JSON.stringify(contact))).html);
    expect(refused).toContain('is a contact lens');
    expect(refused).not.toContain('Keep with this job');
  });

  test('for a job that is not here it is refused, and the file is still on the page', async () => {
    const { html, status } = await screen.post('/deliveries/import', {
      step: 'record',
      record_text: JSON.stringify(PRESCRIPTION),
      file_name: 'rx.json',
      job_number: 'Z-1',
    });
    expect(status).toBe(400);
    expect(seen(html)).toContain('There is no job Z-1.');
    expect(html).toContain('value="Z-1"');
    expect(seen(html)).toContain('Keep with this job');
  });
});

describe('lens-order records as a file', () => {
  test('name their job, ask what their powers are, and tell what they leave aside', async () => {
    const { html } = await look('order.txt', RECORDS);
    expect(seen(html)).toContain('order.txt: lens-order records');
    expect(html).toMatch(/name="job_number"[^>]*value="A-17"/);
    expect(seen(html)).toContain('Records that are not known are left aside: PANTO.');
    await screen.post('/deliveries/import', {
      step: 'record',
      record_text: RECORDS,
      meaning: 'as_worn',
      job_number: 'A-17',
    });
    expect(await facts('as_worn')).toEqual([
      ['R', [-1.75, -0.5, 180], 'lab form'],
      ['L', [0.25, -1, 90], 'lab form'],
    ]);
    expect(await facts('wearer_pd_mm')).toEqual([]);
  });

  test('the same records twice change nothing', async () => {
    const keep = () =>
      screen.post('/deliveries/import', {
        step: 'record',
        record_text: RECORDS,
        meaning: 'order',
        job_number: '',
      });
    await keep();
    const before = (await database.db.selectFrom('fact').select('fact_id').execute()).length;
    const { then } = await keep();
    expect(seen(then!.html)).toContain('nothing was changed');
    expect((await database.db.selectFrom('fact').select('fact_id').execute()).length).toBe(before);
  });
});

test('jobs as JSON are looked at and taken in like a spreadsheet', async () => {
  const jobs = JSON.stringify([
    {
      job_number: 'J-1',
      wearer: { name: 'Otto Lind' },
      lens_design: 'soft 15',
      order: { R: [-1, 0, 180], L: '-1.25' },
    },
  ]);
  expect(seen((await look('jobs.json', jobs)).html)).toContain('1 new');
  await screen.post('/deliveries/import', { step: 'take', checked_text: jobs, date_order: 'ymd' });
  expect(await facts('order')).toEqual([
    ['R', [-1, 0, 180], 'order'],
    ['L', [-1.25, 0, 180], 'order'],
  ]);
});
