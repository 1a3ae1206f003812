import { withoutLocation } from '../channels/pictures.ts';
import { type PictureToFetch, putOffPicture, settlePicture, takePicturesToFetch } from '../store/pictures.ts';
import type { Shell } from './shell.ts';

const AT_ONCE = 10;
/** A carrier that does not answer is asked again after these waits; then the picture stays with it. Common practice, no source. */
const WAITS_MS = [60_000, 5 * 60_000, 30 * 60_000, 6 * 3_600_000] as const;

/**
 * Fetches pictures that came by text from the carrier, takes out what a camera wrote beside them, and keeps them. What a
 * picture is, is read from its bytes.
 */
export async function fetchPictures(shell: Shell): Promise<void> {
  const now = shell.clock.now();
  const until = new Date(now.getTime() + WAITS_MS[0]);
  for (const picture of await takePicturesToFetch(shell.db, now, until, AT_ONCE)) {
    await fetchOne(shell, picture, now);
  }
}

async function fetchOne(shell: Shell, picture: PictureToFetch, now: Date): Promise<void> {
  const line = shell.textLine?.(picture.shop_id);
  const came = line ? await line.channel.pictureOf(picture.far_id, picture.number) : ('later' as const);
  if (came === 'later') {
    const wait = WAITS_MS[picture.tries];
    if (wait === undefined) {
      await settlePicture(shell.db, picture, { state: 'left out', why: 'the carrier did not give it' });
    } else {
      await putOffPicture(shell.db, picture, new Date(now.getTime() + wait));
    }
    return;
  }
  if (came === 'gone' || came === 'too large') {
    const why = came === 'gone' ? 'the carrier has it no more' : 'too large';
    await settlePicture(shell.db, picture, { state: 'left out', why });
    return;
  }
  const clean = withoutLocation(came);
  await settlePicture(
    shell.db,
    picture,
    clean ? { ...clean, state: 'kept' } : { state: 'left out', why: 'no picture of a kind that is taken' },
  );
}
