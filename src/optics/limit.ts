export type LensKind = 'single vision' | 'multifocal' | 'progressive';
export type Standard = 'ANSI Z80.1' | 'ISO 21987';

/** How far a finished job may stand from what it is compared with. */
export type Limit = {
  readonly limit: number;
  readonly unit: 'D' | 'deg' | 'pd' | 'mm';
  readonly source: string;
  /** Set where the figure was not read in the standard: what must be said beside it. */
  readonly caution?: string;
};

export const CONFIRM = 'from memory: confirm against your copy of the standard';

/** 0.12 on a lensmeter often stands for 0.125: nothing is out of limits by this much alone. Common practice. */
export const READING_EPSILON_D = 0.005;

/** Is an error inside its limit? Sign of the error does not matter; on the limit is inside. */
export const isWithin = (error: number, { limit, unit }: Limit): boolean =>
  Math.abs(error) <= limit + slack(unit);

const slack = (unit: Limit['unit']): number => (unit === 'D' || unit === 'pd' ? READING_EPSILON_D : 0) + 1e-9;
