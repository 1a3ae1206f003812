import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

type Picture = Selectable<Tables['picture']>;

/** A picture of a message, without its bytes. */
export type PictureNote = Pick<
  Picture,
  'picture_id' | 'inbound_id' | 'number' | 'state' | 'content_type' | 'byte_count' | 'why'
>;

export type NewPicture =
  | { readonly state: 'kept'; readonly contentType: string; readonly bytes: Uint8Array }
  | { readonly state: 'to fetch' }
  | { readonly state: 'left out'; readonly why: string };

/** Puts the pictures of a message on record, each once by its number: called again after a crash it changes nothing. */
export async function putPictures(
  db: Db | Trx,
  shopId: string,
  inboundId: string,
  pictures: readonly NewPicture[],
  at: Date,
): Promise<void> {
  if (pictures.length === 0) return;
  await db
    .insertInto('picture')
    .values(
      pictures.map((picture, number) => ({
        shop_id: shopId,
        picture_id: newId(at),
        inbound_id: inboundId,
        number,
        state: picture.state,
        content_type: picture.state === 'kept' ? picture.contentType : null,
        bytes: picture.state === 'kept' ? Buffer.from(picture.bytes) : null,
        byte_count: picture.state === 'kept' ? picture.bytes.length : null,
        why: picture.state === 'left out' ? picture.why : null,
        next_at: picture.state === 'to fetch' ? at : null,
        at,
      })),
    )
    .onConflict((clash) => clash.columns(['shop_id', 'inbound_id', 'number']).doNothing())
    .execute();
}

export type PictureToFetch = Pick<Picture, 'shop_id' | 'picture_id' | 'inbound_id' | 'number' | 'tries'> & {
  far_id: string;
};

/** Takes up pictures that wait at the carrier; whoever takes one has it until `until`. */
export async function takePicturesToFetch(
  db: Db,
  now: Date,
  until: Date,
  limit: number,
): Promise<PictureToFetch[]> {
  const found = await sql<PictureToFetch>`
    update picture p set next_at = ${until}, tries = p.tries + 1
    from (select q.shop_id, q.picture_id, i.far_id from picture q
      join inbound i on i.shop_id = q.shop_id and i.inbound_id = q.inbound_id
      where q.state = 'to fetch' and q.next_at <= ${now}
      order by q.next_at limit ${limit} for update of q skip locked) due
    where p.shop_id = due.shop_id and p.picture_id = due.picture_id
    returning p.shop_id, p.picture_id, p.inbound_id, p.number, p.tries, due.far_id`.execute(db);
  return found.rows;
}

export async function putOffPicture(
  db: Db,
  picture: Pick<PictureToFetch, 'shop_id' | 'picture_id'>,
  until: Date,
): Promise<void> {
  await db
    .updateTable('picture')
    .set({ next_at: until })
    .where('shop_id', '=', picture.shop_id)
    .where('picture_id', '=', picture.picture_id)
    .where('state', '=', 'to fetch')
    .execute();
}

/** What came of fetching: the cleaned bytes, or why there are none. */
export async function settlePicture(
  db: Db,
  picture: Pick<PictureToFetch, 'shop_id' | 'picture_id'>,
  came: Exclude<NewPicture, { state: 'to fetch' }>,
): Promise<void> {
  await db
    .updateTable('picture')
    .set(
      came.state === 'kept'
        ? {
            state: 'kept',
            content_type: came.contentType,
            bytes: Buffer.from(came.bytes),
            byte_count: came.bytes.length,
            why: null,
            next_at: null,
          }
        : { state: 'left out', why: came.why, next_at: null },
    )
    .where('shop_id', '=', picture.shop_id)
    .where('picture_id', '=', picture.picture_id)
    .where('state', '=', 'to fetch')
    .execute();
}

/** The pictures of messages, without their bytes, in their order. */
export async function picturesOf(
  db: Db,
  shopId: string,
  inboundIds: readonly string[],
): Promise<PictureNote[]> {
  if (inboundIds.length === 0) return [];
  return db
    .selectFrom('picture')
    .select(['picture_id', 'inbound_id', 'number', 'state', 'content_type', 'byte_count', 'why'])
    .where('shop_id', '=', shopId)
    .where('inbound_id', 'in', [...inboundIds])
    .orderBy('inbound_id')
    .orderBy('number')
    .execute();
}

/** The bytes of a kept picture, for staff to look at. */
export async function pictureBytes(
  db: Db,
  shopId: string,
  pictureId: string,
): Promise<{ contentType: string; bytes: Buffer } | undefined> {
  const row = await db
    .selectFrom('picture')
    .select(['content_type', 'bytes'])
    .where('shop_id', '=', shopId)
    .where('picture_id', '=', pictureId)
    .where('state', '=', 'kept')
    .executeTakeFirst();
  return row?.bytes && row.content_type ? { contentType: row.content_type, bytes: row.bytes } : undefined;
}

/**
 * Removes the bytes of pictures whose case was closed before `closedBefore`, and of pictures of no case that came before
 * `cameBefore` and wait in no tray. That there was one stays on record.
 */
export async function dropPictures(
  db: Db,
  closedBefore: Date,
  cameBefore: Date,
  limit: number,
): Promise<number> {
  const done = await sql`
    update picture p set state = 'removed', bytes = null, next_at = null
    from (select q.shop_id, q.picture_id from picture q
      join inbound_standing s on s.shop_id = q.shop_id and s.inbound_id = q.inbound_id
      left join case_file c on c.shop_id = s.shop_id and c.case_id = s.case_id
      where q.state in ('kept', 'to fetch') and s.state <> 'tray' and (
        (c.case_id is not null and c.closed_at < ${closedBefore})
        or (c.case_id is null and q.at < ${cameBefore}))
      limit ${limit} for update of q skip locked) old
    where p.shop_id = old.shop_id and p.picture_id = old.picture_id`.execute(db);
  return Number(done.numAffectedRows ?? 0n);
}
