import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { jobFactsOf } from '../../src/followup/jobFactsOf.ts';
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

async function takeJob(heights = '18,18'): Promise<string> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,fitting height R,fitting height L\n' +
      `J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,${heights}`,
    date_order: 'ymd',
  });
  return (await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow()).job_id;
}
const trouble = (body: string) =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: `far ${body}`,
    from: '+12025550117',
    to: null,
    body,
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
const pairId = async () =>
  (await database.db.selectFrom('pair').select('pair_id').executeTakeFirstOrThrow()).pair_id;
const weighed = async () => {
  const row = await database.db
    .selectFrom('ranking_snapshot')
    .select(['facts', 'weighing'])
    .orderBy('at', 'desc')
    .orderBy('snapshot_id', 'desc')
    .executeTakeFirstOrThrow();
  return row as unknown as {
    facts: Record<string, unknown>;
    weighing: { causes: { id: string; share: number }[] };
  };
};

describe('numbers that a wearer measured at home', () => {
  test('become facts with source and usual error, place the crosses, and weigh the case again', async () => {
    const jobId = await takeJob();
    await trouble('I have to lift my chin to read');
    const before = (await weighed()).weighing.causes.find(({ id }) => id === 'cross-too-low')!.share;
    screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
    const done = await screen.post(`/jobs/${jobId}/measure/tape`, { right_mm: '20,5 mm', left_mm: '20' });
    expect(seen(done.then!.html)).toContain('2.5 mm below the pupil on the right and 2.0 mm below');
    const { facts, weighing } = await weighed();
    expect(facts).toMatchObject({
      pupil_height_mm: { R: 20.5, L: 20 },
      cross_above_pupil_mm: { R: -2.5, L: -2 },
      cross_above_pupil_error_mm: 1.5,
    });
    expect(weighing.causes.find(({ id }) => id === 'cross-too-low')!.share).toBeGreaterThan(before);
    const kept = seen((await screen.get(`/jobs/${jobId}/measure`)).html);
    expect(kept).toContain('tape and ruler, usual error 1.5 mm');
  });

  test('without a fitting height on record only the pupil height is kept, and the page says why', async () => {
    const jobId = await takeJob(',');
    const done = await screen.post(`/jobs/${jobId}/measure/tape`, { right_mm: '20', left_mm: '20' });
    expect(seen(done.then!.html)).toContain('No fitting height is on record');
    expect(await jobFactsOf(database.db, SHOP, await pairId(), '2026-03-02')).not.toHaveProperty(
      'cross_above_pupil_mm',
    );
  });

  test('never stand above a number taken on the face', async () => {
    const jobId = await takeJob();
    await trouble('I have to lift my chin to read');
    const { case_id } = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
    await screen.post(`/cases/${case_id}/facts`, {
      key: 'cross_above_pupil_mm',
      value: '-1',
      eye: '',
      how: 'pen',
    });
    screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
    await screen.post(`/jobs/${jobId}/measure/tape`, { right_mm: '22', left_mm: '22' });
    const facts = await jobFactsOf(database.db, SHOP, await pairId(), '2026-03-02');
    expect(facts.cross_above_pupil_mm).toEqual({ R: -1, L: -1 });
    expect(facts).not.toHaveProperty('cross_above_pupil_error_mm');
  });

  test.each([
    ['', 'A number is missing.'],
    ['2,05 cm', '“2,05 cm” cannot be.'],
    ['205', 'Write a number from 8 to 45'],
  ])('“%s” is refused with what to write, and nothing is kept', async (right, told) => {
    const jobId = await takeJob();
    const done = await screen.post(`/jobs/${jobId}/measure/tape`, { right_mm: right, left_mm: '20' });
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain(told);
    const rows = await database.db.selectFrom('fact').select('key').where('source', '=', 'wearer').execute();
    expect(rows).toEqual([]);
  });
});

describe('a straight-on photograph', () => {
  test('is measured with the lens as its scale, and its PD is what the eyes have for far', async () => {
    const jobId = await takeJob();
    // A lens of 32 mm is 160 in the picture: 0.2 mm each. 100 up: 20.0 mm. From the bridge 155: 31.0 mm on the lens plane for a
    // camera at 1 m, and 31.0 x 1027 / 1000 = 31.8 mm for far.
    await screen.post(`/jobs/${jobId}/measure/photo`, {
      lens_height_mm: '32',
      lens_height_in_picture: '160',
      pupil_right_in_picture: '100',
      pupil_left_in_picture: '95',
      bridge_right_in_picture: '155',
      bridge_left_in_picture: '160',
      camera_cm: '100',
    });
    expect(await jobFactsOf(database.db, SHOP, await pairId(), '2026-03-02')).toMatchObject({
      pupil_height_mm: { R: 20, L: 19 },
      cross_above_pupil_mm: { R: -2, L: -1 },
      cross_above_pupil_error_mm: 1,
      wearer_pd_mm: { R: 31.8, L: 32.9 },
      wearer_pd_error_mm: 1,
    });
  });
  test('a PD so measured stands beside the one ordered, which the pair was made to', async () => {
    await screen.post('/deliveries/import', {
      step: 'take',
      checked_text:
        'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,mono PD R,mono PD L\n' +
        'J-8,Otis Fenn,202 555 0118,text,2026-02-23,soft 15,yes,America/New_York,29,29',
      date_order: 'ymd',
    });
    const { job_id } = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
    screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
    await screen.post(`/jobs/${job_id}/measure/photo`, {
      lens_height_mm: '32',
      lens_height_in_picture: '160',
      pupil_right_in_picture: '100',
      pupil_left_in_picture: '95',
      bridge_right_in_picture: '155',
      bridge_left_in_picture: '160',
      camera_cm: '100',
    });
    expect(await jobFactsOf(database.db, SHOP, await pairId(), '2026-03-02')).toMatchObject({
      made_pd_mm: { R: 29, L: 29 },
      wearer_pd_mm: { R: 31.8, L: 32.9 },
    });
  });
  test('takes no PD where nobody knows how far the camera was', async () => {
    const jobId = await takeJob();
    const done = await screen.post(`/jobs/${jobId}/measure/photo`, {
      lens_height_mm: '32',
      lens_height_in_picture: '160',
      pupil_right_in_picture: '100',
      pupil_left_in_picture: '95',
      bridge_right_in_picture: '155',
      bridge_left_in_picture: '160',
      camera_cm: '',
    });
    expect(seen(done.html)).toContain('how far the camera was, in cm');
  });
});

describe('asking them to measure', () => {
  test('prints in both languages', async () => {
    const jobId = await takeJob();
    expect(seen((await screen.get(`/jobs/${jobId}/measure-sheet`)).html)).toContain('With tape and a ruler');
    expect(seen((await screen.get(`/jobs/${jobId}/measure-sheet?lang=es`)).html)).toContain(
      'Con cinta y regla',
    );
    expect((await screen.get(`/jobs/${jobId}`)).html).toContain(`href="/jobs/${jobId}/measure"`);
  });
  test('is not sent to somebody who told of no trouble, nor by a text without a link', async () => {
    const jobId = await takeJob();
    const first = await screen.post(`/jobs/${jobId}/measure/send`, { channel: 'text' });
    expect(seen(first.html)).toContain('There is no open case');
    await trouble('I have to lift my chin to read');
    const second = await screen.post(`/jobs/${jobId}/measure/send`, { channel: 'text' });
    expect(seen(second.html)).toContain('no public address for a link');
    expect(
      await database.db.selectFrom('message').select('purpose').where('purpose', '=', 'staff').execute(),
    ).toEqual([]);
  });
});
