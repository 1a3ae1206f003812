/**
 * One thing that happened on a day of wear. The shape says which: planned a short tick under the line, sent an open
 * ring, answered a filled disc, trouble a filled diamond, danger a cross in a box, settled a filled square, rang an
 * open square, may not have arrived a broken ring.
 */
export type StripMark = {
  readonly day: number;
  readonly kind:
    | 'planned'
    | 'sent'
    | 'may not have arrived'
    | 'answered'
    | 'rang'
    | 'trouble'
    | 'danger'
    | 'settled'
    | 'act';
  /** In words with the date: "day 7, Tue 25 Aug: answered “reading is better”". */
  readonly words: string;
};

/** How the wearer was over some days: plain wearing, trouble open (wavy line), settled (double line), not worn (dotted). */
export type StripStretch = {
  readonly fromDay: number;
  readonly toDay: number;
  readonly kind: 'wearing' | 'trouble' | 'settled' | 'not worn';
};
