/*
 * GET  /deliveries/import
 * POST /deliveries/import   step = check:  file (upload) or pasted (text), date_order (dmy | mdy | ymd)
 *                           step = take:   checked_text (the text of the dry run), date_order
 *                           step = record: record_text, file_name, meaning (order | as_worn | read), job_number
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

/** A prescription or lens-order records, as they were read: they belong to a job that is here. */
export type RecordView = {
  readonly fileName: string;
  readonly what: string;
  readonly lines: readonly { readonly name: string; readonly right: string; readonly left: string }[];
  readonly warnings: readonly string[];
  readonly jobNumber: string;
  readonly meaning: string;
  /** What the powers may be; empty where the record says so itself. */
  readonly meanings: readonly { readonly value: string; readonly words: string }[];
  /** False where nothing can be taken from it; `troubles` says why. */
  readonly readable: boolean;
  readonly troubles: readonly string[];
  readonly text: string;
};

export type DeliveryImportView = {
  /** Where the file was a record of one pair and not a list of jobs. */
  readonly record: RecordView | null;
  readonly templates: readonly { readonly words: string; readonly href: string }[];
  /** Null before a file was checked. */
  readonly dryRun: DryRun | null;
  /** After it was taken in: what happened; null before. */
  readonly taken: {
    readonly newCount: number;
    readonly changedCount: number;
    readonly sameCount: number;
    readonly badCount: number;
    /** Numbers of it wait for the signature of a licensed person. */
    readonly toSign?: boolean;
  } | null;
  /** The file as a whole could not be read: why and how to mend it; null otherwise. */
  readonly unreadable: string | null;
};
