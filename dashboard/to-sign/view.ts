/*
 * GET  /to-sign
 * POST /to-sign/:id    how (signed | turned down)
 */
export type ToSignView = {
  /** Whether the person at the screen may sign today. */
  readonly maySign: boolean;
  /** Who may, by name; empty: nobody. */
  readonly signers: readonly string[];
  /** Oldest first. */
  readonly waiting: readonly {
    readonly id: string;
    /** "Closure as settled", "fitting height R: 18". */
    readonly what: string;
    readonly wearer: string;
    readonly href: string;
    /** Of a file: its jobs, the first two hundred. */
    readonly jobs?: readonly { readonly words: string; readonly href: string }[];
    /** "Tom Reyes, today 10:38". */
    readonly by: string;
  }[];
  /** Papers and releases that are signed on their own page. */
  readonly papers: readonly {
    readonly what: string;
    readonly wearer: string;
    readonly href: string;
    readonly by: string;
  }[];
};
