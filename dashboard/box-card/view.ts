/*
 * GET /jobs/:id/box-card    printed, lies in the parcel
 */
export type BoxCardView = {
  readonly lang: 'en' | 'es';
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  readonly jobHref: string;
  /** "Your new glasses". */
  readonly title: string;
  /** Three pictures with a line each: far, middle, near. */
  readonly zones: { readonly far: string; readonly middle: string; readonly near: string };
  /** Null for a pair that has no zones. */
  readonly multifocal: boolean;
  /** "Text HELLO to +1 303 555 0100 when you put them on." */
  readonly hello: string;
  /** What that text means: "With it you agree that we may ask you by text how they are going." */
  readonly agrees: string;
  readonly phone: string;
  /** "Answer STOP at any time and it ends." */
  readonly stop: string;
  /** When to ring or go to a doctor at once. */
  readonly danger: string;
};
