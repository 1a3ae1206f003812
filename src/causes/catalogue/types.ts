import type { Label } from '../../replies/types.ts';
import type { FindingId } from '../findings.ts';

/** What is done next about a pair. Words on buttons live with the pages. */
export const ACTS = [
  'coach',
  'adjust',
  're-measure',
  'check-order',
  'remake',
  'prescriber',
  'urgent',
] as const;
export type Act = (typeof ACTS)[number];

type CauseGroup =
  | 'use-and-time'
  | 'place-on-face'
  | 'power-prism-image'
  | 'material-design-item'
  | 'light-reactive'
  | 'health-and-safety'
  | 'else';

/** Who bears the cost as a rule. It is for the shop to decide; it is not a finding. */
export type Bearer =
  | 'nobody'
  | 'shop'
  | 'lab'
  | 'prescriber'
  | 'wearer'
  | 'lab or shop'
  | 'lab or prescriber'
  | 'lab, or shop if from the PD'
  | 'shop or non-adapt terms'
  | 'wearer or shop'
  | 'wearer or warranty'
  | 'non-adapt terms'
  | 'shop that replaced one lens, else lab';

/**
 * Facts of one group tell of the same thing twice (the cross is low, and the chin must come up): the strongest of a
 * group counts fully, each other a quarter.
 */
export type FactGroup =
  | 'complaint'
  | 'time'
  | 'height'
  | 'sideways'
  | 'close-and-tilt'
  | 'made'
  | 'order'
  | 'prescription'
  | 'age-and-add'
  | 'prism'
  | 'image'
  | 'design'
  | 'frame'
  | 'finish'
  | 'light'
  | 'before'
  | 'answers'
  | 'bench'
  | 'eye';

export type Test =
  | { readonly is: boolean | string }
  | { readonly from: number; readonly below?: number }
  | { readonly below: number }
  | { readonly matches: string };

export type Condition = { readonly finding: FindingId; readonly test: Test };

/** One thing that speaks for (times over 1) or against (times under 1) a cause, by how many times its odds move. */
export type EvidenceRule = Condition & {
  readonly also?: readonly Condition[];
  readonly times: number;
  readonly group: Exclude<FactGroup, 'complaint'>;
  readonly source: string;
};

/** An act that can cure the cause; without conditions it always can. Best first. */
export type CauseAct = { readonly act: Act; readonly when?: readonly Condition[] };

export type Cause = {
  readonly id: string;
  readonly group: CauseGroup;
  readonly what: string;
  readonly acts: readonly CauseAct[];
  readonly bears: Bearer;
  readonly caution?: string;
  /** Of 100 troubles of no special kind, about how many have this cause before any fact is known. */
  readonly startingWeight: number;
  readonly weightSource: string;
  readonly evidence: readonly EvidenceRule[];
};

export type LabelSays = {
  readonly label: Label;
  /** Of 100 wearers who say this, about how many have each cause. What is left over falls to all causes not named. */
  readonly ofHundred: Readonly<Record<string, number>>;
  readonly source: string;
};
