import fc from 'fast-check';
import type { Eye, SpheroCyl } from '../../src/optics/spheroCyl.ts';

/** A lens in the short hand of these tests: sphere, cylinder, axis. */
export const rx = (sphereD: number, cylinderD = 0, axisDeg = 180): SpheroCyl => ({
  sphereD,
  cylinderD,
  axisDeg,
});

const eighths = (most: number) => fc.integer({ min: -most * 8, max: most * 8 }).map((n) => n / 8);

/** Any lens that a shop may meet: eighths of a dioptre, whole degrees. */
export const anyLens: fc.Arbitrary<SpheroCyl> = fc
  .record({ sphereD: eighths(15), cylinderD: eighths(6), axisDeg: fc.integer({ min: 1, max: 180 }) })
  .map((lens) => (lens.cylinderD === 0 ? { ...lens, axisDeg: 180 } : lens));

export const anyEye: fc.Arbitrary<Eye> = fc.constantFrom('R', 'L');

/** The same lens seen in a mirror: what was before the right eye is now before the left. */
export const mirrored = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): SpheroCyl =>
  rx(sphereD, cylinderD, axisDeg === 180 ? 180 : 180 - axisDeg);
