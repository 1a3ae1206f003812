import type { Problem } from '../problems.ts';
import type { DaysLeft } from './act.ts';
import type { ActSettings, Way } from './catalogue/acts.ts';
import type { Act } from './catalogue/types.ts';
import type { FactValue } from './jobFacts.ts';
import type { Question } from './nextQuestion.ts';
import type { StartingWeights } from './scored.ts';

export type WeighInput = {
  readonly reply_labels: readonly string[];
  readonly job: Readonly<Record<string, unknown>>;
};

export type WeighOptions = {
  readonly daysLeft?: DaysLeft | undefined;
  readonly settings?: ActSettings | undefined;
  readonly startingWeights?: StartingWeights | undefined;
  /** Questions that were put already: they are not put again. */
  readonly asked?: readonly string[] | undefined;
};

export type Evidence = {
  readonly fact: string;
  readonly value: FactValue;
  readonly toward: 'for' | 'against';
  /** By how many times the odds moved, beside the other facts of its group. */
  readonly times: number;
  /** The same alone, as the catalogue has it. */
  readonly timesAlone: number;
  readonly words: string;
  readonly source: string;
};

export type WeighedCause = {
  readonly id: string;
  readonly share: number;
  readonly evidence: readonly Evidence[];
};

export type Weighing = {
  readonly causes: readonly WeighedCause[];
  readonly act: { readonly id: Act; readonly way: Way; readonly why: string };
  readonly question?: Question;
  /** For the order of the bench; absent where danger is not weighed or nothing was told. */
  readonly costs?: {
    readonly ofNothing: number;
    readonly ofBestAct: number;
    /** The cheapest of the other acts, where another is open. */
    readonly nextBest?: { readonly act: Act; readonly way: Way; readonly cost: number };
  };
  readonly problems?: readonly Problem[];
};
