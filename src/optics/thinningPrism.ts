import type { Prism } from './prismAtPoint.ts';
import { imbalance } from './prismSum.ts';

/**
 * Thinning prism of a pair of progressives: the vertical prism that both lenses carry alike (usually base down),
 * which evens the edge thickness and does no harm, and what is left over, which does. Prism dioptres, readings at
 * the prism reference points, ordered prism already taken off. The shared part is the smaller of two like bases, and
 * none when the bases are opposite. Source: common practice, no source; imbalance by Prentice's rule.
 */
export const thinningPrism = (right: Prism, left: Prism) => {
  const alike = Math.sign(right.upPd) === Math.sign(left.upPd);
  const sharedPd = alike ? Math.sign(right.upPd) * Math.min(Math.abs(right.upPd), Math.abs(left.upPd)) : 0;
  return { sharedUpPd: sharedPd, leftOverVerticalPd: imbalance(right, left).verticalPd };
};

/**
 * About how much thinning prism a progressive is usually given: two thirds of the add, base down, prism dioptres
 * (signed - for base down). A guide to what a lensmeter will show, not a limit. Source: common practice, no source.
 */
export const usualThinningUpPd = (addD: number): number => (-2 / 3) * addD;
