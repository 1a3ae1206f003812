import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { eraseWearer } from '../../src/followup/eraseWearer.ts';
import { importJobs } from '../../src/followup/importJobs.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import { newId } from '../../src/ids.ts';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { MONDAY, openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
let tom: string;
let ana: string;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
  ana = (await database.db.selectFrom('person').select('person_id').executeTakeFirstOrThrow()).person_id;
  tom = newId(MONDAY);
  await database.db
    .insertInto('person')
    .values({
      shop_id: SHOP,
      person_id: tom,
      name: 'Tom Sample',
      email: null,
      phone_e164: null,
      role: 'staff',
      licence_number: null,
      licensed_until: null,
      on_call_order: null,
      created_at: MONDAY,
    })
    .execute();
});
afterAll(() => database.close());

const anaIsLicensed = (until: string) =>
  database.db
    .updateTable('person')
    .set({ licence_number: 'LX-1', licensed_until: until })
    .where('person_id', '=', ana)
    .execute();

const HEAD = 'job number,name,phone,consent,handed over on,lens design,first multifocal,zone';
async function caseFrom(words: string): Promise<{ caseId: string; jobId: string }> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: `${HEAD}\nJ-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York`,
    date_order: 'ymd',
  });
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'far-1',
    from: '+12025550117',
    to: null,
    body: words,
    receivedAt: screen.shell.clock.now().toISOString(),
    raw: {},
  });
  const { case_id } = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  const { job_id } = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  return { caseId: case_id, jobId: job_id };
}
const file = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
const close = async (caseId: string) =>
  screen.post(`/cases/${caseId}/close`, {
    outcome: 'kept, not happy',
    cause: '',
    seen_version: String((await file()).version),
  });
const waiting = () => database.db.selectFrom('to_sign').selectAll().where('settled', 'is', null).execute();

const DANGER = 'sudden flashes of light and a curtain over one eye';

test('a closure after a danger sign by somebody without a licence waits; signed by a licensed person it closes', async () => {
  await anaIsLicensed('2027-01-01');
  const { caseId } = await caseFrom(DANGER);
  expect((await file()).danger).toBe(true);
  screen.actAs(tom);
  const asked = await close(caseId);
  expect(seen(asked.then!.html)).toContain('waits to be signed by a licensed person');
  expect((await file()).closed_at).toBeNull();
  expect(seen((await close(caseId)).html)).toContain('waits to be signed already');
  // He cannot sign it himself.
  const [row] = await waiting();
  const refused = await screen.post(`/to-sign/${row!.to_sign_id}`, { how: 'signed' });
  expect(seen(refused.then!.html)).toContain('You are not marked as licensed today');
  expect((await file()).closed_at).toBeNull();
  screen.actAs(ana);
  expect(seen((await screen.get('/to-sign')).html)).toContain('Closure after a danger sign');
  await screen.post(`/to-sign/${row!.to_sign_id}`, { how: 'signed' });
  expect((await file()).closed_at).not.toBeNull();
  expect(await waiting()).toEqual([]);
  const [signed] = await database.db.selectFrom('to_sign').selectAll().execute();
  expect(signed).toMatchObject({ settled: 'signed', settled_by: 'Ana Example', licence_number: 'LX-1' });
});

test('turned down, the case stays open and says so', async () => {
  await anaIsLicensed('2027-01-01');
  const { caseId } = await caseFrom(DANGER);
  screen.actAs(tom);
  await close(caseId);
  screen.actAs(ana);
  await screen.post(`/to-sign/${(await waiting())[0]!.to_sign_id}`, { how: 'turned down' });
  expect((await file()).closed_at).toBeNull();
  expect(seen((await screen.get(`/cases/${caseId}`)).html)).toContain(
    'turned down by Ana Example, licence LX-1',
  );
});

test('a licence that ran out yesterday does not let anybody past: the closure still waits, also hers', async () => {
  await anaIsLicensed('2026-03-01');
  const { caseId } = await caseFrom(DANGER);
  await close(caseId);
  expect((await file()).closed_at).toBeNull();
  expect(seen((await screen.get('/to-sign')).html)).toContain('Nobody here is marked as licensed today');
});

test('with nobody marked as licensed a closure does not wait, and People says what that means', async () => {
  const { caseId } = await caseFrom(DANGER);
  await close(caseId);
  expect((await file()).closed_at).not.toBeNull();
  expect(seen((await screen.get('/people')).html)).toContain('Nobody here is marked as licensed');
});

test('numbers put down by somebody without a licence are on record and to be signed; a licensed person’s are not', async () => {
  await anaIsLicensed('2027-01-01');
  const { caseId, jobId } = await caseFrom('I have to lift my chin to read');
  screen.actAs(tom);
  await screen.post(`/cases/${caseId}/facts`, { key: 'fitting_height_mm', value: '18', eye: 'R', how: '' });
  await screen.post(`/jobs/${jobId}/facts`, { key: 'rx_sphere', value: '1.25', eye: 'R', how: '' });
  await screen.post(`/jobs/${jobId}/measure/tape`, { right_mm: '19', left_mm: '19' });
  const rows = await waiting();
  expect(rows.map((row) => row.kind)).toEqual(expect.arrayContaining(['measures']));
  expect(rows.every((row) => row.by_name === 'Tom Sample')).toBe(true);
  expect(rows.length).toBeGreaterThanOrEqual(2);
  const before = rows.length;
  screen.actAs(ana);
  const page = seen((await screen.get('/to-sign')).html);
  expect(page).toContain('Ida Quill');
  await screen.post(`/cases/${caseId}/facts`, { key: 'fitting_height_mm', value: '18', eye: 'L', how: '' });
  expect(await waiting()).toHaveLength(before);
});

test('a release at the bench by somebody without a licence leaves the pair held until it is signed', async () => {
  await anaIsLicensed('2027-01-01');
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: `${HEAD}\nJ-8,Ida Quill,202 555 0117,text,,soft 15,yes,America/New_York`,
    date_order: 'ymd',
  });
  const { job_id: job } = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  const pairs = () => database.db.selectFrom('pair').selectAll().execute();
  const handOver = () =>
    screen.post(`/jobs/${job}/hand-over`, { handed_over_on: '2026-03-02', first_worn_on: '', words: '' });
  const minuteLater = () => screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
  screen.actAs(tom);
  await screen.post(`/jobs/${job}/slip/hold`, { why: 'R fitting height is out' });
  minuteLater();
  await screen.post(`/jobs/${job}/slip/release`, { why: 'edged again' });
  const refused = await handOver();
  expect(seen(refused.then!.html)).toContain('a licensed person has still to sign that');
  expect(await pairs()).toHaveLength(0);
  screen.actAs(ana);
  expect(seen((await screen.get('/to-sign')).html)).toContain('Released at the bench (edged again)');
  minuteLater();
  await screen.post(`/jobs/${job}/slip/release`, {});
  await handOver();
  expect(await pairs()).toHaveLength(1);
});

const NUMBERED =
  'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,R fitting height,L fitting height';
const LINES = [
  'J-11,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,18,18',
  'J-12,Sam Vale,202 555 0118,text,,soft 15,yes,America/New_York,19,19',
  'J-13,Una Plain,202 555 0119,text,,soft 15,yes,America/New_York,,',
];
const takeFile = (lines: readonly string[] = LINES) =>
  screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [NUMBERED, ...lines].join('\n'),
    date_order: 'ymd',
  });
const jobOf = async (key: string) =>
  (await database.db.selectFrom('job').selectAll().where('job_key', '=', key).executeTakeFirstOrThrow())
    .job_id;
const onJob = async (id: string) => seen((await screen.get(`/jobs/${id}`)).html);
const NOT_SIGNED = 'The numbers that this job came in with are not signed yet (Tom Sample';

test('a job typed in by somebody without a licence is taken in at once, its plan too, and its numbers wait; a licensed person’s do not', async () => {
  await anaIsLicensed('2027-01-01');
  const form = {
    job_number: 'J-21',
    name: 'Ida Quill',
    phone: '202 555 0117',
    consent: 'text',
    handed_over_on: '2026-02-23',
    lens_design: 'soft 15',
    fitting_height_R: '18',
  };
  screen.actAs(tom);
  const taken = await screen.post('/deliveries', form);
  expect(seen(taken.then!.html)).toContain('Its numbers are to be signed by a licensed person.');
  expect(await database.db.selectFrom('check_in').selectAll().execute()).not.toHaveLength(0);
  const job = await jobOf('J-21');
  expect(await onJob(job)).toContain(NOT_SIGNED);
  expect((await screen.get(`/jobs/${job}`)).html).not.toContain(`/jobs/${job}/sign"`);
  expect(await waiting()).toMatchObject([{ kind: 'order', job_id: job, by_name: 'Tom Sample' }]);
  const refused = await screen.post(`/jobs/${job}/sign`, {});
  expect(seen(refused.then!.html)).toContain('You are not marked as licensed today');
  screen.actAs(ana);
  expect(seen((await screen.get('/to-sign')).html)).toContain('Numbers of the new job J-21');
  await screen.post(`/jobs/${job}/sign`, {});
  expect(await waiting()).toEqual([]);
  expect(await onJob(job)).not.toContain('not signed yet');
  await screen.post('/deliveries', { ...form, job_number: 'J-22', name: 'Sam Vale' });
  expect(await waiting()).toEqual([]);
});

test('a file waits for one signature: it holds the jobs that came with numbers, and signed it releases all of them', async () => {
  await anaIsLicensed('2027-01-01');
  screen.actAs(tom);
  expect(seen((await takeFile()).html)).toContain('wait to be signed on To sign , all by one signature');
  const rows = await waiting();
  expect(rows).toMatchObject([{ kind: 'order', job_id: null, by_name: 'Tom Sample' }]);
  expect(await onJob(await jobOf('J-13'))).not.toContain('not signed yet');
  // The same file again adds nothing.
  await takeFile();
  expect(await waiting()).toHaveLength(1);
  screen.actAs(ana);
  const page = seen((await screen.get('/to-sign')).html);
  expect(page).toContain('Numbers of 2 jobs that came in together');
  expect(page).toContain('J-12, Sam Vale');
  await screen.post(`/to-sign/${rows[0]!.to_sign_id}`, { how: 'signed' });
  for (const key of ['J-11', 'J-12']) expect(await onJob(await jobOf(key))).not.toContain('not signed yet');
});

test('signed one by one, the last job of a file settles it; a program has no licence, so its file waits too', async () => {
  await anaIsLicensed('2027-01-01');
  await importJobs(screen.shell, SHOP, [NUMBERED, ...LINES].join('\n'), {
    take: true,
    by: 'import',
    personId: null,
    dateOrder: 'ymd',
  });
  expect(await waiting()).toHaveLength(1);
  await screen.post(`/jobs/${await jobOf('J-11')}/sign`, {});
  expect(await waiting()).toMatchObject([{ by_name: 'import' }]);
  await screen.post(`/jobs/${await jobOf('J-12')}/sign`, {});
  expect(await waiting()).toEqual([]);
});

test('causes use numbers that nobody has signed and say so; turned down they say that, until they are signed after all', async () => {
  await anaIsLicensed('2027-01-01');
  screen.actAs(tom);
  await takeFile();
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'far-2',
    from: '+12025550117',
    to: null,
    body: 'I have to lift my chin to read',
    receivedAt: screen.shell.clock.now().toISOString(),
    raw: {},
  });
  const onCase = async () => seen((await screen.get(`/cases/${(await file()).case_id}`)).html);
  expect(await onCase()).toContain('the numbers of the order are not signed yet');
  const job = await jobOf('J-11');
  screen.actAs(ana);
  await screen.post(`/to-sign/${(await waiting())[0]!.to_sign_id}`, { how: 'turned down' });
  expect(await onCase()).toContain('the numbers of the order were turned down by Ana Example');
  screen.actAs(tom);
  expect(await onJob(job)).toContain('Ana Example turned the numbers of this job down');
  await screen.post(`/jobs/${job}/sign`, {});
  expect(await onJob(job)).toContain(NOT_SIGNED);
  screen.actAs(ana);
  await screen.post(`/jobs/${job}/sign`, {});
  expect(await onCase()).not.toContain('numbers of the order');
});

test('with nobody marked as licensed the numbers of a new job wait for nobody', async () => {
  screen.actAs(tom);
  await takeFile();
  expect(await waiting()).toEqual([]);
});

test('erasing a wearer takes what waits about them; a file whose last job went waits for nothing', async () => {
  await anaIsLicensed('2027-01-01');
  screen.actAs(tom);
  await takeFile(LINES.slice(0, 1));
  const job = await jobOf('J-11');
  await screen.post(`/jobs/${job}/facts`, { key: 'fitting_height_mm', value: '18.5', eye: 'R', how: '' });
  await screen.post(`/jobs/${job}/measure/tape`, { right_mm: '19', left_mm: '19' });
  expect((await waiting()).map((row) => row.kind)).toEqual(expect.arrayContaining(['order', 'numbers']));
  const { wearer_id: wearer } = await database.db
    .selectFrom('wearer')
    .select('wearer_id')
    .executeTakeFirstOrThrow();
  expect(await eraseWearer(screen.shell, SHOP, wearer, 'Ida Quill', 'Ana Example')).toMatchObject({
    ok: true,
  });
  expect(await database.db.selectFrom('to_sign').selectAll().execute()).toEqual([]);
  screen.actAs(ana);
  expect((await screen.get('/to-sign')).status).toBe(200);
});

test('who signs an order note is who is signed in, whatever the form says', async () => {
  await anaIsLicensed('2027-01-01');
  const { caseId } = await caseFrom('I have to lift my chin to read');
  for (const eye of ['R', 'L']) {
    await screen.post(`/cases/${caseId}/facts`, { key: 'fitting_height_mm', value: '18', eye, how: '' });
    await screen.post(`/cases/${caseId}/facts`, { key: 'cross_above_pupil_mm', value: '-2', eye, how: '' });
  }
  screen.actAs(tom);
  const note = seen((await screen.get(`/cases/${caseId}/remake`)).html);
  expect(note).toContain('You are not marked as licensed: it waits to be signed by Ana Example');
  const form = { person_id: ana, cause: 'cross-too-low', seen_version: String((await file()).version) };
  expect((await screen.post(`/cases/${caseId}/remake/sign`, form)).status).toBe(400);
  expect(await database.db.selectFrom('signature').selectAll().execute()).toEqual([]);
  await screen.post(`/cases/${caseId}/remake/keep`, { cause: 'cross-too-low' });
  screen.actAs(ana);
  expect(seen((await screen.get('/to-sign')).html)).toContain('Order note for a remake: Ida Quill');
});
