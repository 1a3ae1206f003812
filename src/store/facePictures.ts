import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

type FacePicture = Omit<Selectable<Tables['face_picture']>, 'bytes'>;
export type PhotoMeasure = Selectable<Tables['photo_measure']>;

export type NewFacePicture = {
  readonly jobId: string;
  readonly contentType: string;
  readonly bytes: Uint8Array;
  readonly widthDots: number;
  readonly heightDots: number;
  readonly came: 'staff' | 'wearer';
  readonly by: string;
};

export async function putFacePicture(
  db: Db | Trx,
  shopId: string,
  picture: NewFacePicture,
  at: Date,
): Promise<string> {
  const id = newId(at);
  await db
    .insertInto('face_picture')
    .values({
      shop_id: shopId,
      face_picture_id: id,
      job_id: picture.jobId,
      state: 'kept',
      content_type: picture.contentType,
      bytes: Buffer.from(picture.bytes),
      width_dots: picture.widthDots,
      height_dots: picture.heightDots,
      came: picture.came,
      by_name: picture.by,
      at,
    })
    .execute();
  return id;
}

const WITHOUT_BYTES = [
  'shop_id',
  'face_picture_id',
  'job_id',
  'state',
  'content_type',
  'width_dots',
  'height_dots',
  'came',
  'by_name',
  'at',
] as const;

/** The photographs of a job, newest first, without their bytes. */
export const facePicturesOf = (db: Db | Trx, shopId: string, jobId: string): Promise<FacePicture[]> =>
  db
    .selectFrom('face_picture')
    .select(WITHOUT_BYTES)
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .orderBy('at', 'desc')
    .execute();

export const findFacePicture = (
  db: Db | Trx,
  shopId: string,
  jobId: string,
  id: string,
): Promise<FacePicture | undefined> =>
  db
    .selectFrom('face_picture')
    .select(WITHOUT_BYTES)
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .where('face_picture_id', '=', id)
    .executeTakeFirst();

export async function facePictureBytes(
  db: Db,
  shopId: string,
  id: string,
): Promise<{ contentType: string; bytes: Buffer } | undefined> {
  const row = await db
    .selectFrom('face_picture')
    .select(['content_type', 'bytes'])
    .where('shop_id', '=', shopId)
    .where('face_picture_id', '=', id)
    .where('state', '=', 'kept')
    .executeTakeFirst();
  return row?.bytes ? { contentType: row.content_type, bytes: row.bytes } : undefined;
}

/** Pictures that the wearer of a job sent and that are still kept. */
export async function sentPicturesOf(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
): Promise<{ picture_id: string; at: Date }[]> {
  return db
    .selectFrom('picture as p')
    .innerJoin('inbound_standing as s', (join) =>
      join.onRef('s.shop_id', '=', 'p.shop_id').onRef('s.inbound_id', '=', 'p.inbound_id'),
    )
    .select(['p.picture_id', 'p.at'])
    .where('p.shop_id', '=', shopId)
    .where('s.wearer_id', '=', wearerId)
    .where('p.state', '=', 'kept')
    .orderBy('p.at', 'desc')
    .limit(12)
    .execute();
}

export async function addPhotoMeasure(
  trx: Trx,
  shopId: string,
  measure: { pictureId: string; jobId: string; marks: unknown; numbers: unknown; by: string },
  at: Date,
): Promise<string> {
  const id = newId(at);
  await trx
    .insertInto('photo_measure')
    .values({
      shop_id: shopId,
      measure_id: id,
      face_picture_id: measure.pictureId,
      job_id: measure.jobId,
      marks: JSON.stringify(measure.marks),
      numbers: JSON.stringify(measure.numbers),
      by_name: measure.by,
      at,
      signed_by: null,
      licence_number: null,
      signed_at: null,
    })
    .execute();
  return id;
}

/** The newest marks on a photograph. */
export const newestPhotoMeasure = (
  db: Db | Trx,
  shopId: string,
  pictureId: string,
): Promise<PhotoMeasure | undefined> =>
  db
    .selectFrom('photo_measure')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('face_picture_id', '=', pictureId)
    .orderBy('at', 'desc')
    .orderBy('measure_id', 'desc')
    .limit(1)
    .executeTakeFirst();

/** Notes the signature once; false when it was signed before. */
export async function notePhotoSigned(
  trx: Trx,
  shopId: string,
  measureId: string,
  signed: { by: string; licence: string },
  at: Date,
): Promise<boolean> {
  const done = await trx
    .updateTable('photo_measure')
    .set({ signed_by: signed.by, licence_number: signed.licence, signed_at: at })
    .where('shop_id', '=', shopId)
    .where('measure_id', '=', measureId)
    .where('signed_at', 'is', null)
    .executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

/**
 * Removes the bytes of photographs whose job has no open case and whose last case was closed before `closedBefore`, and of those of a job
 * without any case that were taken before `takenBefore`. That there was one, and what was signed from it, stays on record.
 */
export async function dropFacePictures(
  db: Db,
  closedBefore: Date,
  takenBefore: Date,
  limit: number,
): Promise<number> {
  const done = await sql`
    update face_picture p set state = 'removed', bytes = null
    from (select q.shop_id, q.face_picture_id from face_picture q
      left join lateral (
        select count(*) as cases, count(*) filter (where c.closed_at is null) as open, max(c.closed_at) as closed_at
        from pair r join case_file c on c.shop_id = r.shop_id and c.pair_id = r.pair_id
        where r.shop_id = q.shop_id and r.job_id = q.job_id) f on true
      where q.state = 'kept' and f.open = 0 and (
        (f.cases > 0 and greatest(f.closed_at, q.at) < ${closedBefore})
        or (f.cases = 0 and q.at < ${takenBefore}))
      limit ${limit} for update of q skip locked) old
    where p.shop_id = old.shop_id and p.face_picture_id = old.face_picture_id`.execute(db);
  return Number(done.numAffectedRows ?? 0n);
}
