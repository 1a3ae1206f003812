/*
 * GET  /deliveries/import
 * POST /deliveries/import   step = check:  file (upload) or pasted (text), date_order (dmy | mdy | ymd)
 *                           step = take:   checked_text (the text of the dry run), date_order
 * GET  /deliveries/template.csv, /deliveries/template-full.csv
 */
export type BadLine = {
  /** Line of the file, the heading being line 1. */
  readonly line: number;
  /** Column head; empty when it is about the whole line. */
  readonly column: string;
  readonly found: string;
  readonly allowed: string;
  readonly mend: string;
};

export type DryRun = {
  readonly fileName: string;
  readonly newCount: number;
  readonly sameCount: number;
  /** Lines that would change a job that is there already: asked for by a tick each. */
  readonly changes: readonly {
    readonly line: number;
    readonly jobNumber: string;
    readonly changes: readonly { readonly name: string; readonly was: string; readonly would: string }[];
  }[];
  /** New jobs that can never be messaged (no number, no address, or no consent). */
  readonly silentCount: number;
  readonly bad: readonly BadLine[];
  /** The text that was checked, posted back when it is taken in. */
  readonly text: string;
  readonly dateOrder: string;
  /** First few new jobs as they were understood. */
  readonly sample: readonly { readonly line: number; readonly words: string }[];
};

export type DeliveryImportView = {
  readonly templates: readonly { readonly words: string; readonly href: string }[];
  /** Null before a file was checked. */
  readonly dryRun: DryRun | null;
  /** After it was taken in: what happened; null before. */
  readonly taken: {
    readonly newCount: number;
    readonly changedCount: number;
    readonly sameCount: number;
    readonly badCount: number;
  } | null;
  /** The file as a whole could not be read: why and how to mend it; null otherwise. */
  readonly unreadable: string | null;
};
