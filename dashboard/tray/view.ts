/*
 * GET  /tray                       all that waits
 * GET  /tray?for=:inboundId&find=  candidates for one message by name, number or job
 * POST /tray/:inboundId/link       wearer_id
 * POST /tray/:inboundId/labels     labels (repeated), reason
 * POST /tray/:inboundId/done
 */
import type { MarkedWords, SentPicture } from '../pieces/view.ts';

export type TrayItem = {
  readonly inboundId: string;
  /** Name of the wearer, or the number or address that it came from. */
  readonly from: string;
  /** "by text", "by email", "by phone, typed in by Ana". */
  readonly channel: string;
  /** When it came, written. */
  readonly came: string;
  readonly words: MarkedWords;
  /** Why it is here, one sentence: "These words weigh and nothing accounts for them: “numb”." */
  readonly why: string;
  /** A sign of danger was read in it; the alarm is out already. */
  readonly danger: boolean;
  /** The wearer it was linked to, or null. */
  readonly wearer: { readonly name: string; readonly href: string; readonly caseHref: string | null } | null;
  /** Whom it may be from: shown when it is linked to nobody. */
  readonly candidates: readonly {
    readonly wearerId: string;
    readonly name: string;
    readonly detail: string;
  }[];
  /** What was looked for with `find`, to show again; empty when nothing was. */
  readonly find: string;
  /** Ids of the labels it has now. */
  readonly labels: readonly string[];
  /** Pictures that came with it. */
  readonly pictures: readonly SentPicture[];
};

export type TrayView = {
  /** Danger first, then oldest first. */
  readonly items: readonly TrayItem[];
  /** Every label, in groups, for the correction. */
  readonly labelGroups: readonly {
    readonly name: string;
    readonly labels: readonly { readonly id: string; readonly means: string }[];
  }[];
};
