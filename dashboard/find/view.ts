/*
 * GET /find   q
 */
export type FindView = {
  readonly q: string;
  readonly hits: readonly {
    readonly href: string;
    readonly name: string;
    /** "day 9, job 20731, +1 303 555 0117". */
    readonly detail: string;
    /** The call sheet, for who is on the telephone now. */
    readonly callHref?: string;
  }[];
};
