import type { JobFacts } from '../jobFacts.ts';
import { CLOSE_AND_TILT } from './closeAndTilt.ts';
import { HEIGHT } from './height.ts';
import { MADE_AND_ORDER } from './madeAndOrder.ts';
import { PRISM_IMAGE_MATERIAL } from './prismImageMaterial.ts';
import type { Finding, Findings, FindingValue } from './reading.ts';
import { SIDEWAYS } from './sideways.ts';

/** What a bench or face check would call out of limits, each with the limit that its own rule uses. */
const FROM: readonly (readonly [Finding, number])[] = [
  [HEIGHT.crossHighestMm, 0.95],
  [HEIGHT.crossUnevenMm, 1.9],
  [HEIGHT.heightShortMm, 0.05],
  [SIDEWAYS.crossNasalWorstMm, 1.05],
  [SIDEWAYS.pdOffMm, 1.05],
  [CLOSE_AND_TILT.vertexLongestMm, 15],
  [CLOSE_AND_TILT.vertexUnevenMm, 2],
  [CLOSE_AND_TILT.tiltLargestDeg, 14],
  [CLOSE_AND_TILT.marksTiltDeg, 2.05],
  [MADE_AND_ORDER.orderErrorD, 0.12],
  [MADE_AND_ORDER.orderAddErrorD, 0.12],
  [PRISM_IMAGE_MATERIAL.prismSidewaysPd, 0.68],
  [PRISM_IMAGE_MATERIAL.prismUpDownPd, 0.34],
  [PRISM_IMAGE_MATERIAL.prismBothUpPd, 1.5],
];
const BELOW: readonly (readonly [Finding, number])[] = [
  [HEIGHT.crossLowestMm, -0.94],
  [CLOSE_AND_TILT.tiltLargestDeg, 5],
];
const TRUE: readonly Finding[] = [
  MADE_AND_ORDER.madeSphereOut,
  MADE_AND_ORDER.madeCylinderOut,
  MADE_AND_ORDER.madeAddOut,
];

const isNumber = (value: FindingValue | undefined): value is number => typeof value === 'number';
const anyOut = (facts: JobFacts): boolean =>
  FROM.some(([{ of }, from]) => {
    const value = of(facts);
    return isNumber(value) && value >= from;
  }) ||
  BELOW.some(([{ of }, below]) => {
    const value = of(facts);
    return isNumber(value) && value < below;
  }) ||
  TRUE.some(({ of }) => of(facts) === true);

/** Whether anything at all is out of limits; that nothing is cannot be known from what was not measured. */
export const OUT_OF_LIMITS = {
  somethingOut: {
    facts: [
      ...new Set(
        [...FROM, ...BELOW].flatMap(([{ facts }]) => facts).concat(TRUE.flatMap(({ facts }) => facts)),
      ),
    ],
    of: (facts: JobFacts) => (anyOut(facts) ? true : undefined),
    words: () => 'something measured is out of limits',
  },
} satisfies Findings;
