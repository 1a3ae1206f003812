import { lensOfVector, powerVector } from './powerVector.ts';
import type { SpheroCyl } from './spheroCyl.ts';

/**
 * One lens equal to several thin lenses in contact, whatever their axes: power vectors added. Dioptres; minus
 * cylinder form. Exact for thin lenses in one plane; a stack with gaps needs vertex compensation first.
 * Source: M. Jalie, The Indian Optician, May-June 2022, obliquely crossed cylinders (worked sums recomputed).
 */
export const combineLenses = (lenses: readonly SpheroCyl[]): SpheroCyl => {
  let sum = { meanD: 0, j0D: 0, j45D: 0 };
  for (const lens of lenses) {
    const part = powerVector(lens);
    sum = { meanD: sum.meanD + part.meanD, j0D: sum.j0D + part.j0D, j45D: sum.j45D + part.j45D };
  }
  return lensOfVector(sum);
};
