import type { Hono } from 'hono';
import type { SentPicture } from '../../../dashboard/pieces/view.ts';
import type { Db } from '../../store/database.ts';
import { type PictureNote, pictureBytes, picturesOf } from '../../store/pictures.ts';
import { trouble } from '../trouble.tsx';
import type { Web } from '../web.ts';

/** Pictures that wearers sent, for staff: as they are kept, without what the camera wrote beside them. */
export function sentPicturesRoutes(app: Hono<Web>): void {
  app.get('/pictures/:id', async (c) => {
    const room = c.get('room');
    const picture = await pictureBytes(room.shell.db, room.shopId, c.req.param('id'));
    if (!picture) return trouble(c, 404, 'This picture is not kept any more.', 'Ask the wearer for another.');
    return c.body(new Uint8Array(picture.bytes), 200, {
      'content-type': picture.contentType,
      'content-disposition': 'inline',
      'cache-control': 'private, no-store',
      'content-security-policy': "default-src 'none'; sandbox",
      'x-content-type-options': 'nosniff',
    });
  });
}

/** The pictures of messages, by message. */
export async function sentPictures(
  db: Db,
  shopId: string,
  inboundIds: readonly string[],
): Promise<ReadonlyMap<string, readonly SentPicture[]>> {
  const notes = await picturesOf(db, shopId, inboundIds);
  return new Map(
    inboundIds.map((id) => [id, notes.filter((note) => note.inbound_id === id).map(shown)] as const),
  );
}

function shown(note: PictureNote): SentPicture {
  const name = `picture ${note.number + 1}`;
  switch (note.state) {
    case 'kept':
      return { href: `/pictures/${note.picture_id}`, words: name };
    case 'to fetch':
      return { href: null, words: `${name}: being fetched from the carrier` };
    case 'left out':
      return { href: null, words: `${name}: not kept, ${note.why ?? 'of a kind that is not taken'}` };
    case 'removed':
      return { href: null, words: `${name}: removed, as promised, after the case was closed` };
  }
}
