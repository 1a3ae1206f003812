/*
 * GET /log    about (all | sent | unsure | acts | settings | seen), after
 */
export type LogView = {
  readonly about: string;
  readonly abouts: readonly { readonly value: string; readonly words: string }[];
  /** Newest first. */
  readonly lines: readonly {
    readonly at: string;
    readonly by: string;
    /** "held the case", "text handed over", "changed the lab’s window from 60 to 90 days". */
    readonly act: string;
    readonly subject: string;
    readonly href: string | null;
    /** More, in one line; empty when none. Never a wearer's words. */
    readonly detail: string;
  }[];
  readonly olderHref: string | null;
};
