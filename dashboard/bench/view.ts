/*
 * GET  /bench
 * POST /cases/:id/act      act, way, seen_version      (the row's one button, when the act can be taken at once)
 * POST /cases/:id/have-it                              (on a danger row: "I have it")
 */
import type { ActOffer, Deadline, MarkedWords, Trace } from '../pieces/view.ts';

/** A wearer who may be in danger; never ranked, always first. */
export type DangerRow = {
  readonly caseId: string;
  /** Name as the shop knows it. */
  readonly wearer: string;
  /** The words that raised the alarm. */
  readonly words: MarkedWords;
  /** When they came, and how: "today 10:38, by text". */
  readonly came: string;
  /** Number to ring, written for the reader; null when none is known. */
  readonly phone: string | null;
  /** Local time at the wearer's: "9:42 their time". */
  readonly localTime: string;
  /** Has the wearer had the caution: "caution sent 10:38, delivered", or "has NOT had the caution: no local numbers set". */
  readonly caution: string;
  /** False when the caution has not reached them. */
  readonly cautionReached: boolean;
  /** Who was told so far: "Ana Brook was told at 10:38, Tom Reyes was told at 10:43". */
  readonly told: string;
  /** Who said "I have it", or null while nobody has. */
  readonly hasIt: string | null;
};

export type BenchRow = {
  readonly caseId: string;
  /** Version of the case that the row shows, posted as seen_version. */
  readonly version: number;
  readonly wearer: string;
  /** Day of wear, day 0 being the first; null when not known. */
  readonly day: number | null;
  /** The pair in a few words: "first multifocal, soft 15". */
  readonly pair: string;
  /** State in words with its date: "asked the wearer, Mon". */
  readonly state: string;
  /** The newest words of the wearer, or null when nothing was written (rung in, form only). */
  readonly words: MarkedWords | null;
  /** When and how they came: "yesterday 18:20, by text". */
  readonly said: string;
  /** The cause that leads, or null with the reason in `noCause`. */
  readonly cause: {
    /** In plain words: "fitting cross too low". */
    readonly name: string;
    /** "about 6 in 10 likely". */
    readonly share: string;
    /** The number that says so: "right cross 2.1 mm below the pupil". */
    readonly number: string;
    readonly trace: Trace | null;
  } | null;
  /** Why no cause leads: "not known where it is blurred; asked". Empty when one does. */
  readonly noCause: string;
  /** The next act, or null when the case waits for someone else. */
  readonly act: ActOffer | null;
  /** What it waits for when there is no act: "waits for the wearer’s answer until Thu". */
  readonly waitsFor: string;
  /** Both deadlines, any order. */
  readonly deadlines: readonly Deadline[];
  /** What waiting costs: "waiting costs about $46 until Fri"; empty when not counted. */
  readonly cost: string;
};

export type BenchView = {
  /** Everyone who may be in danger, oldest first. */
  readonly danger: readonly DangerRow[];
  /** What needs a person now, dearest wait first, danger left out. */
  readonly rows: readonly BenchRow[];
  /** Cases that are not shown because the page holds only so many. */
  readonly more: number;
  /** Address of the next page of rows, or null. */
  readonly moreHref: string | null;
  /** What ends soon, nearest first, over all open cases, each case once. */
  readonly late: readonly {
    readonly caseId: string;
    readonly wearer: string;
    /** "the lab’s remake window". */
    readonly what: string;
    readonly daysLeft: number;
    /** "Fri 28 Aug". */
    readonly lastDay: string;
  }[];
  /** How many inbound messages are in the tray. */
  readonly trayCount: number;
  /** Messages that may not have arrived, refused or withheld: "3 of our messages may not have arrived"; null when none. */
  readonly unsent: { readonly words: string; readonly href: string } | null;
  /** Lenses that have to go back to a lab, credits to ask after; left out or empty when none. */
  readonly reminders?: readonly { readonly words: string; readonly href: string }[];
  /** With an empty shop: what to do first, in order. */
  readonly firstSteps: readonly { readonly words: string; readonly href: string; readonly done: boolean }[];
};
