/*
 * Any address, when something is wrong. Never holds a wearer's words or a prescription.
 */
import type { SideLink } from '../shell/view.ts';

export type TroublePageView = {
  /** HTTP status. */
  readonly status: number;
  /** What happened, one line: "There is no such page". */
  readonly what: string;
  /** What the reader can do now, one or two sentences. */
  readonly mend: string;
  /** All troubles of a refused form, when there are several. */
  readonly problems: readonly { readonly what: string; readonly where: string; readonly mend: string }[];
  /** Under which the stack stands in the log, for an unexpected error; null otherwise. */
  readonly logMark: string | null;
  /** Pages to go to; empty when there is no shop yet. */
  readonly side: readonly SideLink[];
};
