import type { FrameBox } from './boxGeometry.ts';
import type { LensKind, Standard } from './limit.ts';
import type { Prism } from './prismAtPoint.ts';
import type { SpheroCyl } from './spheroCyl.ts';

/** What was asked of the lab for one eye, with the layout. What is left out was not ordered. */
export type EyeOrder = {
  readonly lens: SpheroCyl;
  readonly addD?: number;
  readonly prism?: Prism;
  readonly monocularPdMm?: number;
  readonly fittingHeightMm?: number;
  readonly centreThicknessMm?: number;
  readonly baseCurveD?: number;
};

/** The lab's as-worn (compensated) powers of one eye: what the lensmeter should show. */
export type EyeAsWorn = { readonly lens: SpheroCyl; readonly addD?: number; readonly prism?: Prism };

/** What the bench read on one finished, mounted lens. `prism` at the prism reference point. */
export type EyeReading = {
  readonly lens?: SpheroCyl;
  readonly addD?: number;
  readonly prism?: Prism;
  readonly monocularPdMm?: number;
  readonly fittingHeightMm?: number;
  readonly marksTiltDeg?: number;
  readonly centreThicknessMm?: number;
  readonly baseCurveD?: number;
};

export type BenchJob = {
  readonly kind: LensKind;
  readonly standard: Standard;
  /**
   * Did the lab compensate the powers for the position of wear? `unknown` is taken as no for single vision and
   * multifocals, and as yes for progressives: most are compensated, and calling a right lens out is the worse error.
   */
  readonly compensated: boolean | 'unknown';
  readonly order: { readonly R: EyeOrder; readonly L: EyeOrder };
  readonly asWorn?: { readonly R?: EyeAsWorn; readonly L?: EyeAsWorn };
  readonly read: { readonly R?: EyeReading; readonly L?: EyeReading };
  /** The face on which the maker wants the add read. */
  readonly addReadOn?: 'front' | 'back';
  readonly frame?: Partial<FrameBox>;
};

/** Were the powers of this job compensated, as far as can be told? See `BenchJob.compensated`. */
export const isCompensated = ({ compensated, kind }: Pick<BenchJob, 'compensated' | 'kind'>): boolean =>
  compensated === 'unknown' ? kind === 'progressive' : compensated;

export type Verdict = 'pass' | 'out' | 'cannot-judge';

export type BenchLine = {
  readonly quantity: string;
  readonly eye: 'R' | 'L' | 'both';
  /** As-worn powers, the order, or the layout; `null` where there is nothing to compare with. */
  readonly comparedWith: 'as-worn' | 'order' | 'layout' | null;
  readonly expected: number | null;
  readonly found: number | null;
  /** Found minus expected, signed (axis: without sign, round the 180 circle). */
  readonly error: number | null;
  readonly allowed: number | null;
  readonly unit: 'D' | 'deg' | 'pd' | 'mm';
  /** Allowed minus size of error: what is left, or by how much it is over. */
  readonly marginLeft: number | null;
  readonly verdict: Verdict;
  readonly reason: string | null;
  readonly readAt: string;
  readonly source: string | null;
  readonly caution: string | null;
};

export type BenchReport = {
  readonly standard: Standard;
  readonly verdict: Verdict;
  readonly lines: readonly BenchLine[];
  /** Each lens reads as the other eye's: very likely put in the wrong way round. */
  readonly readSwapped: boolean;
  readonly cautions: readonly string[];
};
