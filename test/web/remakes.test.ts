import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
let jobPath: string;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [
      'job number,name,phone,consent,handed over on,lab,lens design,first multifocal,zone',
      'J-7,Ida Quill,202 555 0117,text,2026-02-27,Lab in the next town,soft 15,yes,America/New_York',
    ].join('\n'),
    date_order: 'ymd',
  });
  const row = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  jobPath = `/jobs/${row.job_id}`;
});
afterAll(() => database.close());

test('made again at the lab’s cost: the new job opens, the lab is to be asked, the bench says so', async () => {
  expect(seen((await screen.get(jobPath)).html)).toContain('Make it again without a case');
  const done = await screen.post(`${jobPath}/remake`, {
    reason: 'made wrong',
    borne_by: 'the lab',
    to_design: '',
  });
  expect(seen(done.then!.html)).toContain('Job J-7 again');
  expect(seen((await screen.get(jobPath)).html)).not.toContain('Make it again without a case');
  expect(seen((await screen.get('/bench')).html)).toContain(
    'Job J-7 was made again at the lab’s cost, and the lab has not been asked yet.',
  );
  expect(seen((await screen.get('/claims')).html)).toContain('Lab in the next town nothing asked yet');
});

test('a claim goes its way on the list: asked, reminded, sent, promised, credited', async () => {
  await screen.post(`${jobPath}/remake`, { reason: 'made wrong', borne_by: 'the lab', to_design: '' });
  const path = jobPath.replace('/jobs/', '/claims/');
  const asked = await screen.post(path, { what: 'asked', send_back_by: '2026-03-06', reason: 'made wrong' });
  expect(seen(asked.then!.html)).toContain('asked Mon 2 Mar for made wrong; lenses to go back by Fri 6 Mar');
  expect(seen((await screen.get('/bench')).html)).toContain(
    'have to be on their way by Fri 6 Mar: 4 days left.',
  );
  const refused = await screen.post(path, { what: 'promised', amount: 'some' });
  expect(refused.status).toBe(400);
  expect(seen(refused.html)).toContain('“some” is no amount.');
  await screen.post(path, { what: 'sent' });
  expect(seen((await screen.get('/bench')).html)).not.toContain('have to be on their way');
  await screen.post(path, { what: 'promised', amount: '40' });
  const credited = await screen.post(path, { what: 'credited', amount: '40' });
  expect(seen(credited.then!.html)).toContain('promised 40.00 on Mon 2 Mar; credited 40.00 on Mon 2 Mar');
  expect(credited.then!.html).not.toContain(`action="${path}"`);
});

test('a claim is noted on the case of the pair, too, and stands in its talk', async () => {
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'f',
    from: '+12025550117',
    to: null,
    body: 'there is a scratch on the right lens',
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
  const file = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  const page = seen((await screen.get(`/cases/${file.case_id}`)).html);
  expect(page).toContain('The lab: nothing asked yet');
  const done = await screen.post(`/cases/${file.case_id}/claim`, {
    what: 'asked',
    send_back_by: '2026-03-20',
  });
  expect(seen(done.then!.html)).toContain('noted: claim on the lab: asked, lenses to go back by Fri 20 Mar');
  expect(seen(done.then!.html)).toContain('lenses to go back by Fri 20 Mar');
  expect(seen((await screen.get(jobPath)).html)).not.toContain('Make it again without a case');
  const refused = await screen.post(`${jobPath}/remake`, {
    reason: 'settling',
    borne_by: 'the shop',
    to_design: '',
  });
  expect(seen(refused.then!.html)).toContain('A case is open for this pair.');
});

test('a remake or a claim of a job that is not there', async () => {
  expect((await screen.post('/jobs/none/remake', { reason: 'settling', borne_by: 'the shop' })).status).toBe(
    404,
  );
  expect((await screen.post('/claims/none', { what: 'asked' })).status).toBe(404);
  expect((await screen.post('/cases/none/claim', { what: 'asked' })).status).toBe(404);
});
