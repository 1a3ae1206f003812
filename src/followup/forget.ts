import { dropFacePictures } from '../store/facePictures.ts';
import { forgetRaw } from '../store/inbound.ts';
import { dropLinks } from '../store/links.ts';
import { dropPictures } from '../store/pictures.ts';
import { findShop } from '../store/shops.ts';
import type { Shell } from './shell.ts';

const DAY_MS = 86_400_000;
/** A picture goes so long after its case was closed, as wearers are told; one of no case after twice that. */
export const PICTURE_DAYS = 30;
const PICTURE_OF_NO_CASE_DAYS = 60;
/** A link that has run out still tells how the shop is reached, and then is none of ours any more. */
const LINK_AFTER_DAYS = 60;
/** What carrier and mailbox gave along with the words, where the shop sets nothing else. Common practice, no source. */
export const USUAL_RAW_DAYS = 365;
const AT_ONCE = 200;

/**
 * Removes what is not needed any more: pictures after their case, links that ran out, and what came along with a message
 * beside its words. The words themselves stay with the case, as the record of what was done.
 */
export async function forget(shell: Shell): Promise<void> {
  const { db, clock } = shell;
  const now = clock.now().getTime();
  const daysAgo = (days: number) => new Date(now - days * DAY_MS);
  await dropPictures(db, daysAgo(PICTURE_DAYS), daysAgo(PICTURE_OF_NO_CASE_DAYS), AT_ONCE);
  await dropFacePictures(db, daysAgo(PICTURE_DAYS), daysAgo(PICTURE_OF_NO_CASE_DAYS), AT_ONCE);
  await dropLinks(db, daysAgo(LINK_AFTER_DAYS));
  const shops = await db.selectFrom('shop').select('shop_id').execute();
  let longest = 0;
  for (const { shop_id } of shops) {
    const days = (await findShop(db, shop_id)).settings.keepRawDays ?? USUAL_RAW_DAYS;
    longest = Math.max(longest, days);
    await forgetRaw(db, shop_id, daysAgo(days), AT_ONCE);
  }
  if (longest > 0) shell.journal.forgetBefore?.(daysAgo(longest).toISOString().slice(0, 10));
}
