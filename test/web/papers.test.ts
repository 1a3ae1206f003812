import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
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

const HEAD = 'job number,name,phone,consent,handed over on,lens design,first multifocal,zone';
async function take(handedOverOn: string): Promise<string> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: `${HEAD}\nJ-7,Ida Quill,202 555 0117,text,${handedOverOn},soft 15,yes,America/New_York`,
    date_order: 'ymd',
  });
  return (await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow()).job_id;
}

/** Marks the shop's one person as licensed until a day. */
async function license(until: string): Promise<string> {
  const row = await database.db
    .updateTable('person')
    .set({ licence_number: 'LX-1', licensed_until: until })
    .returning('person_id')
    .executeTakeFirstOrThrow();
  return row.person_id;
}

async function openCase(): Promise<string> {
  await take('2026-02-23');
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'far-1',
    from: '+12025550117',
    to: null,
    body: 'I have to lift my chin to read',
    receivedAt: screen.shell.clock.now().toISOString(),
    raw: {},
  });
  const { case_id } = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  for (const eye of ['R', 'L']) {
    await screen.post(`/cases/${case_id}/facts`, { key: 'fitting_height_mm', value: '18', eye, how: '' });
    await screen.post(`/cases/${case_id}/facts`, { key: 'cross_above_pupil_mm', value: '-2', eye, how: '' });
  }
  return case_id;
}
const version = async () =>
  String((await database.db.selectFrom('case_file').select('version').executeTakeFirstOrThrow()).version);
/** Things done one after the other bear different times. */
const aMinuteLater = () => screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
const signatures = () => database.db.selectFrom('signature').selectAll().execute();

describe('the order note of a remake', () => {
  test('says from what to what and because of which number, and is linked on the case', async () => {
    const id = await openCase();
    expect((await screen.get(`/cases/${id}`)).html).toContain(`href="/cases/${id}/remake"`);
    const note = seen((await screen.get(`/cases/${id}/remake`)).html);
    expect(note).toContain('Fitting height R : 18.0 mm to 20.0 mm , because');
    expect(note).toContain('the cross sits 2.0 mm below the pupil as worn');
    expect(note).toContain('To be signed by a licensed person');
    expect(note).toContain('height of each cross within ±1 mm');
  });

  test('cannot be signed by someone whose licence ran out yesterday, and can on its last day', async () => {
    const id = await openCase();
    const person = await license('2026-03-01');
    expect(seen((await screen.get(`/cases/${id}/remake`)).html)).toContain(
      'Nobody here is marked as licensed',
    );
    const form = async () => ({ person_id: person, cause: 'cross-too-low', seen_version: await version() });
    const refused = await screen.post(`/cases/${id}/remake/sign`, await form());
    expect(refused.status).toBe(400);
    expect(seen(refused.html)).toContain('You are not marked as licensed today');
    expect(await signatures()).toHaveLength(0);
    await license('2026-03-02');
    const done = await screen.post(`/cases/${id}/remake/sign`, await form());
    expect(done.status, seen(done.html)).toBe(303);
    expect(seen(done.then!.html)).toContain('Signed by Ana Example, licence LX-1');
    expect(await signatures()).toMatchObject([{ person_id: person, licence_number: 'LX-1' }]);
  });

  test('stays as it was signed when a number changes afterwards', async () => {
    const id = await openCase();
    const person = await license('2027-01-01');
    const form = { person_id: person, cause: 'cross-too-low', seen_version: await version() };
    await screen.post(`/cases/${id}/remake/sign`, form);
    aMinuteLater();
    await screen.post(`/cases/${id}/facts`, { key: 'cross_above_pupil_mm', value: '-3', eye: 'R', how: '' });
    expect(seen((await screen.get(`/cases/${id}/remake`)).html)).toContain('18.0 mm to 20.0 mm');
    expect(seen((await screen.get(`/cases/${id}/remake?draft=new`)).html)).toContain('18.0 mm to 21.0 mm');
  });

  test('is not signed when the case changed after it was opened', async () => {
    const id = await openCase();
    const form = { person_id: await license('2027-01-01'), cause: '', seen_version: await version() };
    await screen.post(`/cases/${id}/facts`, { key: 'tilt_deg', value: '9', eye: '', how: '' });
    const refused = await screen.post(`/cases/${id}/remake/sign`, form);
    expect(seen(refused.html)).toContain('Nothing was signed');
    expect(await signatures()).toHaveLength(0);
  });

  test('of a pair that was made again before asks for the refraction and a second pair of eyes first', async () => {
    const id = await openCase();
    const person = await license('2027-01-01');
    const pair = await database.db.selectFrom('pair').selectAll().executeTakeFirstOrThrow();
    const job = await database.db.selectFrom('job').selectAll().executeTakeFirstOrThrow();
    await database.db
      .insertInto('job')
      .values({ ...job, job_id: 'before', job_key: 'before', as_taken: '{}' })
      .execute();
    await database.db
      .insertInto('pair')
      .values({ ...pair, pair_id: 'before', job_id: 'before' })
      .execute();
    await database.db
      .updateTable('pair')
      .set({ replaces_pair_id: 'before' })
      .where('pair_id', '=', pair.pair_id)
      .execute();
    const form = { person_id: person, cause: 'cross-too-low', seen_version: await version() };
    const refused = await screen.post(`/cases/${id}/remake/sign`, { ...form, refraction_checked: 'yes' });
    expect(refused.status).toBe(400);
    expect(seen(refused.html)).toContain('Has someone else checked the pair on the bench?');
    const both = { ...form, refraction_checked: 'yes', checked_by_other: 'yes' };
    expect((await screen.post(`/cases/${id}/remake/sign`, both)).status).toBe(303);
    expect((await signatures())[0]!.answers).toEqual({ refractionChecked: true, checkedByOther: true });
  });

  test('without anyone licensed is kept as to be signed', async () => {
    const id = await openCase();
    const kept = await screen.post(`/cases/${id}/remake/keep`, { cause: 'cross-too-low' });
    expect(seen(kept.then!.html)).toContain('Kept to be signed by Ana Example');
    expect(seen((await screen.get(`/cases/${id}`)).html)).toContain('Order note for a remake (to be signed)');
  });
});

describe('the note to the prescriber', () => {
  test('holds the complaint in the wearer’s words and keeps the question as it was signed', async () => {
    const id = await openCase();
    const note = seen((await screen.get(`/cases/${id}/prescriber`)).html);
    expect(note).toContain('I have to lift my chin to read');
    expect(note).toContain('To be signed by a licensed person');
    const done = await screen.post(`/cases/${id}/prescriber/sign`, {
      person_id: await license('2027-01-01'),
      question: 'Is the add as intended?',
      seen_version: await version(),
    });
    expect(seen(done.then!.html)).toContain('Is the add as intended?');
    expect(seen(done.then!.html)).toContain('Ana Example, licence LX-1');
  });
});

describe('a pair held at the bench', () => {
  const handOver = (job: string) =>
    screen.post(`/jobs/${job}/hand-over`, { handed_over_on: '2026-03-02', first_worn_on: '', words: '' });

  test('is not handed over until it is released; released without a licence it stays to be signed', async () => {
    const job = await take('');
    const held = await screen.post(`/jobs/${job}/slip/hold`, { why: 'R fitting height is out' });
    expect(seen(held.then!.html)).toContain('R fitting height is out');
    const refused = await handOver(job);
    expect(seen(refused.then!.html)).toContain('This pair is held at the bench by Ana Example');
    expect(await database.db.selectFrom('pair').selectAll().execute()).toHaveLength(0);
    const empty = await screen.post(`/jobs/${job}/slip/release`, { why: '' });
    expect(empty.status).toBe(400);
    aMinuteLater();
    const letGo = await screen.post(`/jobs/${job}/slip/release`, { why: 'edged again' });
    expect(seen(letGo.then!.html)).toContain('to be signed by a licensed person');
    await handOver(job);
    expect(await database.db.selectFrom('pair').selectAll().execute()).toHaveLength(1);
    aMinuteLater();
    await license('2026-03-02');
    const signed = await screen.post(`/jobs/${job}/slip/release`, {});
    expect(seen(signed.then!.html)).toContain('Release signed by Ana Example');
  });
});

test('the door for programs checks a job with the key and refuses without it', async () => {
  const { createApp } = await import('../../src/web/app.tsx');
  const { silentLog } = await import('../../src/log.ts');
  const house = {
    room: () => undefined,
    hosts: new Set(['shop.test']),
    key: 'k',
    filling: null,
    choose: async () => [],
  };
  const app = createApp(house as unknown as Parameters<typeof createApp>[0], silentLog);
  const lens = { sphere_D: 1, add_D: 2 };
  const ask = (key: string, body: unknown) =>
    app.request('http://shop.test/api/check-job', {
      method: 'POST',
      headers: { host: 'shop.test', 'x-afterfit-key': key },
      body: JSON.stringify(body),
    });
  const job = {
    standard: 'ANSI Z80.1',
    compensated: false,
    order: { R: lens, L: lens },
    read: { R: { sphere_D: 2 } },
  };
  expect((await ask('wrong', job)).status).toBe(403);
  const done = await ask('k', job);
  expect(done.status).toBe(200);
  expect(await done.json()).toMatchObject({ verdict: 'out', standard: 'ANSI Z80.1' });
  const refused = await ask('k', { ...job, order: { R: { sphere_D: 60 }, L: lens } });
  expect(refused.status).toBe(400);
  expect(await refused.json()).toMatchObject({ error: { where: 'order R sphere' } });
});

test('the bench shows what leaving a case alone and its best act would cost', async () => {
  await openCase();
  expect(seen((await screen.get('/bench')).html)).toMatch(
    /Left alone it costs about \d+ until \w+ \d+ \w+, the best act about \d+/,
  );
});

test('a cause found at the bench moves the shop’s weights, is shown with its numbers, and can be taken back', async () => {
  const { shopWeights } = await import('../../src/followup/shopWeights.ts');
  const id = await openCase();
  const weight = async () => (await shopWeights(database.db, SHOP)).weights['cross-too-low']!;
  const before = await weight();
  await screen.post(`/cases/${id}/act`, {
    act: 'coach',
    way: 'by phone',
    note: '',
    seen_version: await version(),
  });
  const closed = await screen.post(`/cases/${id}/close`, {
    outcome: 'settled after adjusting',
    cause: 'cross-too-low',
    cause_how: 'found at the bench',
    seen_version: await version(),
  });
  expect(closed.status, seen(closed.html)).toBe(303);
  expect(await weight()).toBeGreaterThan(before);
  const page = seen((await screen.get('/weights')).html);
  expect(page).toContain('Ida Quill J-7 fitting cross too low found at the bench');
  expect(page).toContain('1 of 1: something else was done than was suggested.');
  const { pair_id } = await database.db.selectFrom('pair').select('pair_id').executeTakeFirstOrThrow();
  aMinuteLater();
  await screen.post('/weights', { pair_id, act: 'left out' });
  expect(await weight()).toBe(before);
  aMinuteLater();
  await screen.post('/weights', { pair_id, act: 'counted again' });
  expect(await weight()).toBeGreaterThan(before);
});
