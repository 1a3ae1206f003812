import { type Difference, differenceLens } from './differenceLens.ts';
import { effectiveTiltDeg, type LensPose, lensAsWorn, lensToMake } from './lensTilt.ts';
import { lensWritten } from './rounding.ts';
import { minusCylinder, type SpheroCyl } from './spheroCyl.ts';
import { compensateLensForVertex, effectiveLens } from './vertexCompensation.ts';

/** One eye: what was ordered, how the frame sits, and the lab's as-worn (compensated) powers where they came. */
export type AsWornInput = {
  readonly ordered: SpheroCyl;
  readonly pose: LensPose;
  /** Cornea to back of lens, mm, at the refraction and as worn. */
  readonly refractedVertexMm: number;
  readonly wornVertexMm: number;
  readonly labAsWorn?: SpheroCyl;
};

export type AsWornLine = {
  readonly what: string;
  readonly lens: SpheroCyl;
  /** Change made by this line, minus cylinder form. */
  readonly change: SpheroCyl | null;
  readonly why: string;
  readonly source: string;
};

export type AsWornExplanation = {
  readonly lines: readonly AsWornLine[];
  /** What a lab should have made. */
  readonly toMake: SpheroCyl;
  /** What the wearer gets from a lens made as ordered, told at the plane of the refraction. */
  readonly gotIfUncompensated: SpheroCyl;
  /** What the wearer gets from the lab's powers, where they are known. */
  readonly gotFromLab: SpheroCyl | null;
  /** Lab's powers minus what these formulas make, where the lab's are known. */
  readonly leftOver: Difference | null;
  readonly verdict: 'explained' | 'not explained' | 'no as-worn powers';
};

/**
 * Order against as-worn powers, line by line: first the vertex distance, then tilt and wrap (`lensToMake`), then what is
 * left over against the lab's own powers. Dioptres, mm, degrees, minus cylinder form. Left over up to 0.12 D of blur
 * strength is called explained (half a step of a lensmeter each way; common practice, no source): labs also correct for
 * near distance and thickness, which these formulas leave out. Sources: `compensateForVertexD`, `lensAsWorn`.
 */
export const explainAsWorn = (input: AsWornInput): AsWornExplanation => {
  const { ordered, pose, refractedVertexMm, wornVertexMm, labAsWorn } = input;
  const atVertex = compensateLensForVertex(ordered, refractedVertexMm, wornVertexMm);
  const toMake = lensToMake(atVertex, pose);
  const leftOver = labAsWorn ? differenceLens(labAsWorn, toMake) : null;
  const gets = (made: SpheroCyl): SpheroCyl =>
    minusCylinder(effectiveLens(lensAsWorn(made, pose), refractedVertexMm, wornVertexMm));
  return {
    lines: [
      line('ordered', ordered, null, 'what was asked of the lab', 'the order'),
      line(
        'for the vertex distance',
        atVertex,
        ordered,
        vertexWords(input),
        'NFOS opticianry course, module 11a',
      ),
      line(
        'for tilt and wrap',
        toMake,
        atVertex,
        poseWords(pose),
        'oblique astigmatism (Coddington), thin lens',
      ),
      ...(labAsWorn
        ? [line("the lab's as-worn powers", labAsWorn, toMake, leftOverWords(leftOver), "the lab's form")]
        : []),
    ],
    toMake,
    gotIfUncompensated: gets(ordered),
    gotFromLab: labAsWorn ? gets(labAsWorn) : null,
    leftOver,
    verdict: verdictFor(leftOver),
  };
};

/** Blur strength up to which the lab's powers count as explained, dioptres. Common practice, no source. */
const EXPLAINED_WITHIN_D = 0.12;

const line = (
  what: string,
  lens: SpheroCyl,
  before: SpheroCyl | null,
  why: string,
  source: string,
): AsWornLine => ({
  what,
  lens: minusCylinder(lens),
  change: before === null ? null : differenceLens(lens, before).lens,
  why,
  source,
});

const vertexWords = ({ refractedVertexMm, wornVertexMm }: AsWornInput): string => {
  const closerMm = refractedVertexMm - wornVertexMm;
  if (closerMm === 0) return `refracted and worn at ${wornVertexMm} mm: no change`;
  const way = closerMm > 0 ? 'closer' : 'farther';
  return `worn ${Math.abs(closerMm)} mm ${way} than refracted: F / (1 - dF) on each principal meridian`;
};

const poseWords = (pose: LensPose): string => {
  const together = effectiveTiltDeg(pose.tiltDeg, pose.wrapDeg).toFixed(1);
  return `tilt ${pose.tiltDeg} and wrap ${pose.wrapDeg} degrees, ${together} together, index ${pose.index}`;
};

const leftOverWords = (leftOver: Difference | null): string =>
  leftOver === null ? '' : `${lensWritten(leftOver.lens)} left over, ${leftOver.blurD.toFixed(2)} D in all`;

const verdictFor = (leftOver: Difference | null): AsWornExplanation['verdict'] => {
  if (leftOver === null) return 'no as-worn powers';
  return leftOver.blurD <= EXPLAINED_WITHIN_D + 1e-9 ? 'explained' : 'not explained';
};
