import { deflateSync } from 'node:zlib';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { pictureSize } from '../../src/channels/pictureSize.ts';
import { forget } from '../../src/followup/forget.ts';
import { jobFactsOf } from '../../src/followup/jobFactsOf.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { putPictures } from '../../src/store/pictures.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen, valueIn } from './screen.ts';

let database: Database;
let screen: Screen;
let jobId: string;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,fitting height R,fitting height L,PD R,PD L,frame A,frame B,DBL\n' +
      'J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York,18,18,31,31,52,34,18',
    date_order: 'ymd',
  });
  jobId = (await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow()).job_id;
});
afterAll(() => database.close());

/** A grey PNG of 1600 by 1200 with a note of the place in it (PNG 3rd edition section 11). */
function png(): Buffer {
  const chunk = (kind: string, body: Buffer) => {
    const head = Buffer.alloc(8);
    head.writeUInt32BE(body.length);
    head.write(kind, 4);
    return Buffer.concat([head, body, Buffer.alloc(4)]);
  };
  const size = Buffer.alloc(13);
  size.writeUInt32BE(1600, 0);
  size.writeUInt32BE(1200, 4);
  size.set([8, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', size),
    chunk('tEXt', Buffer.from('Comment\0taken at 45.5 N 93.1 W')),
    chunk('IDAT', deflateSync(Buffer.alloc(1200 * 1601))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** 10 dots to a millimetre; pupils 31 and 32 mm from the bridge as the camera at 1 m sees them, 20 and 19 mm high. */
const MARKS = {
  r_outer_x: '190',
  r_inner_x: '710',
  r_top_y: '400',
  r_bottom_y: '740',
  r_pupil_x: '490',
  r_pupil_y: '540',
  l_outer_x: '1410',
  l_inner_x: '890',
  l_top_y: '400',
  l_bottom_y: '740',
  l_pupil_x: '1120',
  l_pupil_y: '550',
  a_mm: '52',
  b_mm: '34',
  dbl_mm: '18',
  camera_cm: '100',
};
const EARS = { r_ear_x: '140', l_ear_x: '1460' };

const handIn = async () => {
  screen.clock.moveTo(new Date(screen.clock.now().getTime() + 60_000));
  const done = await screen.post(`/jobs/${jobId}/photo`, {
    picture: new File([new Uint8Array(png())], 'me.png', { type: 'image/png' }),
  });
  expect(done.status).toBe(303);
  return done.path;
};
const license = async () => {
  await database.db
    .updateTable('person')
    .set({ licence_number: 'LX-1', licensed_until: '2027-01-01' })
    .execute();
  return (await database.db.selectFrom('person').select('person_id').executeTakeFirstOrThrow()).person_id;
};
const facts = async () => {
  const pair = await database.db.selectFrom('pair').select('pair_id').executeTakeFirstOrThrow();
  return jobFactsOf(database.db, SHOP, pair.pair_id, '2026-03-02');
};

describe('measuring on a photograph', () => {
  test('handed in, it is kept without what the camera wrote beside it, and shown in its size', async () => {
    const at = await handIn();
    const page = await screen.get(at);
    expect(page.html).toContain('viewBox="0 0 1600 1200"');
    const row = await database.db.selectFrom('face_picture').selectAll().executeTakeFirstOrThrow();
    expect(row).toMatchObject({ width_dots: 1600, height_dots: 1200, came: 'staff', state: 'kept' });
    expect(row.bytes!.includes('45.5 N')).toBe(false);
    // The sizes of the frame come from the job.
    expect(valueIn(page.html, 'a_mm')).toBe('52');
  });

  test('what is no picture is refused with what to do', async () => {
    const refused = await screen.post(`/jobs/${jobId}/photo`, {
      picture: new File([new Uint8Array([1, 2, 3])], 'me.heic', { type: 'image/heic' }),
    });
    expect(refused.status).toBe(400);
    expect(seen(refused.html)).toContain('Choose a JPEG, PNG or WebP');
  });

  test('without ears and stance only the PD of both and the difference of the heights are told', async () => {
    const at = await handIn();
    const done = await screen.post(`${at}/marks`, MARKS);
    const text = seen(done.then!.html);
    expect(text).toMatch(/PD, right cannot say ± [23]\.\d mm 31\.0 mm/);
    expect(text).toMatch(/PD, both 64\.7 mm ± 1\.\d mm 62\.0 mm 2\.7 mm more than ordered/);
    expect(text).toMatch(/Pupil height, right cannot say/);
    expect(text).toMatch(/Right height less left 1\.0 mm ± 0\.\d mm 0\.0 mm/);
    expect(text).toContain('Nothing here is near enough to be kept');
  });

  test('with ears and stance a licensed person signs, and the numbers are facts with the photograph as source', async () => {
    const person = await license();
    const at = await handIn();
    const done = await screen.post(`${at}/marks`, { ...MARKS, ...EARS, stood_as_usual: 'yes' });
    const text = seen(done.then!.html);
    expect(text).toMatch(/PD, right 31\.8 mm ± 1\.\d mm/);
    expect(text).toMatch(/Pupil height, right 20\.0 mm ± 1\.\d mm 18\.0 mm 2\.0 mm more than ordered/);
    expect(await facts()).not.toHaveProperty('pupil_height_mm');
    const signed = await screen.post(`${at}/sign`, {
      measure_id: valueIn(done.then!.html, 'measure_id')!,
      person_id: person,
    });
    expect(seen(signed.then!.html)).toContain('Signed by Ana Example, licence LX-1');
    expect(await facts()).toMatchObject({
      pupil_height_mm: { R: 20, L: 19 },
      cross_above_pupil_mm: { R: -2, L: -1 },
      cross_above_pupil_error_mm: 1,
      wearer_pd_mm: { R: 31.8, L: 32.9 },
    });
    const how = await database.db
      .selectFrom('fact')
      .select(['how', 'source'])
      .where('key', '=', 'pupil_height_mm')
      .executeTakeFirstOrThrow();
    expect(how.source).toBe('photo');
    expect(how.how).toMatch(
      /photograph of 2026-03-02, heights ±1\.\d mm, PD ±1\.\d mm, signed by Ana Example/,
    );
  });

  test('nobody signs marks that were changed meanwhile, or without a licence, or twice', async () => {
    const at = await handIn();
    const good = { ...MARKS, ...EARS, stood_as_usual: 'yes' };
    const first = await screen.post(`${at}/marks`, good);
    const seenId = valueIn(first.then!.html, 'measure_id') ?? 'none';
    const person = await license();
    await screen.post(`${at}/marks`, { ...good, r_pupil_x: '480' });
    const stale = await screen.post(`${at}/sign`, { measure_id: seenId, person_id: person });
    expect(seen(stale.then!.html)).toContain('Nothing was signed');
    const now = valueIn((await screen.get(at)).html, 'measure_id')!;
    const nobody = await screen.post(`${at}/sign`, { measure_id: now, person_id: 'nobody' });
    expect(seen(nobody.then!.html)).toContain('not marked as licensed');
    await screen.post(`${at}/sign`, { measure_id: now, person_id: person });
    const again = await screen.post(`${at}/sign`, { measure_id: now, person_id: person });
    expect(seen(again.then!.html)).toContain('signed before');
  });

  test('marks out of their order are refused at their field and keep what was typed', async () => {
    const at = await handIn();
    const swapped = await screen.post(`${at}/marks`, { ...MARKS, r_pupil_x: '1120' });
    expect(swapped.status).toBe(400);
    expect(seen(swapped.html)).toContain('do not stand in their order');
    expect(valueIn(swapped.html, 'r_pupil_x')).toBe('1120');
    const bare = await screen.post(`${at}/marks`, { ...MARKS, camera_cm: '10' });
    expect(seen(bare.html)).toContain('Write a number from 40 to 600');
  });

  test('a quarter turn shows it upright and begins its marks anew', async () => {
    const at = await handIn();
    await screen.post(`${at}/marks`, MARKS);
    const turned = await screen.get(`${at}?quarter=90`);
    expect(turned.html).toContain('viewBox="0 0 1200 1600"');
    expect(seen(turned.html)).not.toContain('What the picture says');
  });

  test('one that the wearer sent is taken as it is kept; somebody else’s is not', async () => {
    const taken = await takeReply(screen.shell, {
      shopId: SHOP,
      channel: 'text',
      farId: 'far',
      from: '+12025550117',
      to: null,
      body: 'I have to lift my chin to read',
      receivedAt: screen.clock.now().toISOString(),
      raw: {},
    });
    const kept = { state: 'kept', contentType: 'image/png', bytes: new Uint8Array(png()) } as const;
    await putPictures(database.db, SHOP, taken.inboundId!, [kept], screen.clock.now());
    const { picture_id } = await database.db
      .selectFrom('picture')
      .select('picture_id')
      .executeTakeFirstOrThrow();
    expect((await screen.get(`/jobs/${jobId}/photo`)).html).toContain(`/pictures/${picture_id}`);
    const done = await screen.post(`/jobs/${jobId}/photo`, { sent_picture: picture_id });
    expect(seen(done.then!.html)).toContain('sent by the wearer');
    expect((await screen.post(`/jobs/${jobId}/photo`, { sent_picture: 'other' })).status).toBe(400);
  });
});

describe('a photograph goes', () => {
  const state = () =>
    database.db.selectFrom('face_picture').select(['state', 'bytes']).executeTakeFirstOrThrow();
  const on = async (day: string) => {
    screen.clock.moveTo(new Date(`${day}T15:00:00Z`));
    await forget(screen.shell);
  };

  test('30 days after its case is closed, not before and not while it is open', async () => {
    await takeReply(screen.shell, {
      shopId: SHOP,
      channel: 'text',
      farId: 'far',
      from: '+12025550117',
      to: null,
      body: 'I have to lift my chin to read',
      receivedAt: screen.clock.now().toISOString(),
      raw: {},
    });
    await handIn();
    await on('2026-09-01');
    expect((await state()).state).toBe('kept');
    await database.db
      .updateTable('case_file')
      .set({ closed_at: new Date('2026-09-01T15:00:00Z') })
      .execute();
    await on('2026-10-01');
    expect((await state()).state).toBe('kept');
    await on('2026-10-02');
    expect(await state()).toEqual({ state: 'removed', bytes: null });
    expect(seen((await screen.get(`/jobs/${jobId}/photo`)).html)).toContain('removed, as promised');
  });

  test('of a pair without a case after 60 days', async () => {
    await handIn();
    await on('2026-05-01');
    expect((await state()).state).toBe('kept');
    await on('2026-05-02');
    expect((await state()).state).toBe('removed');
  });
});

describe('the size of a picture is read from its head', () => {
  test('PNG, JPEG behind its notes, WebP of three kinds; one cut off has none', () => {
    expect(pictureSize('image/png', png())).toEqual({ widthDots: 1600, heightDots: 1200 });
    const jpeg = Uint8Array.from([
      0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2, 0xff, 0xc4, 0, 2, 0xff, 0xc2, 0, 17, 8, 0x04, 0xb0, 0x06, 0x40, 3,
      0,
    ]);
    expect(pictureSize('image/jpeg', jpeg)).toEqual({ widthDots: 1600, heightDots: 1200 });
    expect(pictureSize('image/jpeg', jpeg.subarray(0, 15))).toBeUndefined();
    const riff = (kind: string, rest: number[]) =>
      Uint8Array.from([
        ...Buffer.from('RIFF'),
        0,
        0,
        0,
        0,
        ...Buffer.from('WEBP'),
        ...Buffer.from(kind),
        0,
        0,
        0,
        0,
        ...rest,
      ]);
    expect(pictureSize('image/webp', riff('VP8X', [0, 0, 0, 0, 0x3f, 6, 0, 0xaf, 4, 0]))).toEqual({
      widthDots: 1600,
      heightDots: 1200,
    });
    // 14 bits of width less one, then 14 of height less one.
    const bits = (1599 | (1199 << 14)) >>> 0;
    const lossless = [0x2f, bits & 255, (bits >>> 8) & 255, (bits >>> 16) & 255, bits >>> 24];
    expect(pictureSize('image/webp', riff('VP8L', lossless))).toEqual({ widthDots: 1600, heightDots: 1200 });
    const lossy = [0, 0, 0, 0x9d, 1, 0x2a, 0x40, 6, 0xb0, 4];
    expect(pictureSize('image/webp', riff('VP8 ', lossy))).toEqual({ widthDots: 1600, heightDots: 1200 });
  });
});
