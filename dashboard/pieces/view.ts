/** Pieces of view data that several pages share. All plain data: dates and times are already written for the reader. */

/** What an underlined passage stands for: a label, a sign of danger, or weighty words that no label accounts for. */
export type Mark = {
  /** First character of the passage (UTF-16 units in `text`). */
  readonly start: number;
  /** One past the last character. */
  readonly end: number;
  /** What the passage was read as, in plain words ("reading part too far down"). */
  readonly means: string;
  /** Drawn as a plain, a double or a dotted underline. */
  readonly kind: 'label' | 'danger' | 'left over';
};

/** Someone's own words, with the passages underlined that were read as something. */
/** A picture that came with a message; without an address it is not there, and the words say why. */
export type SentPicture = { readonly href: string | null; readonly words: string };

export type MarkedWords = {
  /** The words exactly as they came. */
  readonly text: string;
  /** Language of the words, for screen readers. */
  readonly lang: 'en' | 'es';
  /** Passages in order of start; one that overlaps an earlier one is not drawn. */
  readonly marks: readonly Mark[];
};

/** One of the two dates before which something has to happen. */
export type Deadline = {
  /** Its name in full: "the lab’s remake window" or "our promise to the wearer". */
  readonly name: string;
  /** Whole days left; 0 is today, negative is past. */
  readonly daysLeft: number;
  /** The last day, written for the reader ("Fri 28 Aug"). */
  readonly lastDay: string;
  /** How it was counted: "60 days from the lab’s invoice, 29 Jun". */
  readonly counted: string;
  /** The start is not known, so it is counted from the earliest date that is. */
  readonly atWorst: boolean;
};

/** Where a number comes from: shown in one click beside the number. */
export type Trace = {
  /** Every number that went in, with its source. */
  readonly inputs: readonly { readonly name: string; readonly value: string; readonly from: string }[];
  /** The formula or rule in words or plain symbols. */
  readonly formula: string;
  /** Title, edition and section, or "common practice, no source". */
  readonly source: string;
};

/** An act that staff may take, as one button. */
export type ActOffer = {
  /** Posted as `act`: coach, adjust, re-measure, check-order, remake, prescriber or urgent. */
  readonly act: string;
  /** Words on the button ("Adjust"). */
  readonly words: string;
  /** Posted as `way`: at the shop, by post, by phone, at an optician near the wearer. */
  readonly way: string;
  /** The reason in one sentence. */
  readonly why: string;
  /** Set when the act needs a look at the case first: the button is then a link to this address. */
  readonly opensAt: string | null;
};

/** A message to the person at the screen about what has just happened. */
export type Notice = {
  /** `done`: it worked; `trouble`: it did not; `standing`: true until mended (for instance the journal is being replayed). */
  readonly kind: 'done' | 'trouble' | 'standing';
  /** One or two plain sentences. */
  readonly text: string;
  /** Offered while it can still be taken back. */
  readonly undo: { readonly action: string; readonly secondsLeft: number } | null;
};

/** Trouble with one field of a form that was sent. */
export type FieldTrouble = {
  /** Name of the field. */
  readonly field: string;
  /** What is wrong and how to mend it. */
  readonly text: string;
};

/** Values to fill a form with again after it was refused, by field name. */
export type FormValues = Readonly<Record<string, string>>;
