import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { gather } from '../../src/followup/jobFactsOf.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { factsOf } from '../../src/store/jobs.ts';
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

async function openCase(): Promise<string> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,prescription R,prescription L,add\n' +
      'J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,+1.25 / -0.50 x 90,+1.50 DS,2.00',
    date_order: 'ymd',
  });
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'far-1',
    from: '+12025550117',
    to: null,
    body: 'far away is blurred',
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
  return (await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow()).case_id;
}

test('shows the difference lens of each eye and the addition, and keeps nothing', async () => {
  const id = await openCase();
  expect((await screen.get(`/cases/${id}`)).html).toContain(`href="/cases/${id}/prescription"`);
  const done = await screen.post(`/cases/${id}/prescription`, {
    rx_R: '+0.75 -0.50 x 90',
    rx_L: '+1.50',
    add_R: '2.25',
    add_L: '',
  });
  const page = seen(done.html);
  expect(page).toContain('R +1.25 −0.50 × 90 +0.75 −0.50 × 90 −0.50 0.50 D +2.00 to +2.25');
  expect(page).toContain('L +1.50 +1.50 +0.00 0.00 D +2.00 to +2.25');
  expect(await database.db.selectFrom('job').select('job_id').execute()).toHaveLength(1);
});

test('signed, it drafts the job with the new powers, chained, borne by the prescriber', async () => {
  const id = await openCase();
  await database.db
    .updateTable('person')
    .set({ licence_number: 'LX-1', licensed_until: '2027-01-01' })
    .execute();
  const done = await screen.post(`/cases/${id}/prescription/sign`, {
    rx_R: '+0.75 -0.50 x 90',
    rx_L: '+1.50',
    add_R: '2.25',
    add_L: '2.25',
  });
  expect(seen(done.then!.html)).toContain('Power R : +1.25 D -0.50 D x 90 to +0.75 D -0.50 D x 90');
  expect(seen(done.then!.html)).toContain('Job J-7 again is drafted.');
  const job = await database.db
    .selectFrom('job')
    .selectAll()
    .where('remake_of_pair_id', 'is not', null)
    .executeTakeFirstOrThrow();
  expect(gather(await factsOf(database.db, SHOP, job.job_id))).toMatchObject({
    rx_R: [0.75, -0.5, 90],
    rx_L: [1.5, 0, 180],
    add_D: { R: 2.25, L: 2.25 },
  });
  expect(await database.db.selectFrom('outcome').selectAll().execute()).toMatchObject([
    { outcome: 'remade in the same design', reason: 'prescription', borne_by: 'the prescriber' },
  ]);
});

test('without a licence nobody signs it, whatever the form says: it is kept, and shown again to who may', async () => {
  const id = await openCase();
  const { person_id } = await database.db.selectFrom('person').select('person_id').executeTakeFirstOrThrow();
  const typed = { rx_R: '+0.75 -0.50 x 90', rx_L: '+1.50', add_R: '', add_L: '' };
  const refused = await screen.post(`/cases/${id}/prescription/sign`, { ...typed, person_id });
  expect(refused.status).toBe(400);
  expect(await database.db.selectFrom('job').select('job_id').execute()).toHaveLength(1);
  await screen.post(`/cases/${id}/prescription/keep`, typed);
  expect((await screen.get(`/cases/${id}/prescription`)).html).toContain('value="0.75 -0.5 x 90"');
  expect(seen((await screen.get(`/cases/${id}/remake`)).html)).toContain(
    'the new prescription that waits to be signed',
  );
});

test.each([
  ['', 'The right power is missing.'],
  ['-2.00 -0.50', 'Right'],
  ['see letter', 'is not read as a power'],
])('“%s” is refused with what to write', async (rx_R, told) => {
  const id = await openCase();
  const done = await screen.post(`/cases/${id}/prescription`, { rx_R, rx_L: '+1.50', add_R: '', add_L: '' });
  expect(done.status).toBe(400);
  expect(seen(done.html)).toContain(told);
});
