import { lensOfPair } from '../store/links.ts';
import { type OpenLink, takeFromLink } from './fromLink.ts';
import { keepMeasures } from './keepMeasures.ts';
import type { Shell } from './shell.ts';

/**
 * Takes what a wearer measured with tape and ruler: as facts of the job, and as a message of theirs that stands in the talk. The
 * same again changes nothing.
 */
export async function takeMeasures(
  shell: Shell,
  shopId: string,
  open: OpenLink,
  pupilHeightMm: { readonly R: string; readonly L: string },
): Promise<'kept' | 'cannot be' | 'too often'> {
  const { pair_id } = open.message;
  const lens = pair_id === null ? undefined : await lensOfPair(shell.db, shopId, pair_id);
  if (!lens) return 'cannot be';
  const measured = { how: 'tape', pupilHeightMm } as const;
  const kept = await keepMeasures(shell, shopId, lens.job_id, measured, 'the wearer');
  if (!kept.ok) return 'cannot be';
  const words = `Measured at home: right ${pupilHeightMm.R.trim()}, left ${pupilHeightMm.L.trim()} mm`;
  const taken = await takeFromLink(shell, shopId, open, {
    words,
    pictures: [],
    leftOut: [],
    takenAsFacts: true,
  });
  return taken.tooOften ? 'too often' : 'kept';
}
