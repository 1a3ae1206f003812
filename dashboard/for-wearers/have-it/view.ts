/*
 * The page behind the link of an alarm, for who is on call; without sign-in it tells no more than the alarm did.
 * GET  /w/:token
 * POST /w/:token
 */
export type HaveItView = {
  readonly lang: 'en' | 'es';
  readonly shopName: string;
  readonly invented: boolean;
  readonly base: string;
  /** The first letter of the wearer's name. */
  readonly initial: string;
  /** When the sign of danger came, written. */
  readonly came: string;
  /** Whose link it is. */
  readonly person: string;
  /** Who has it: "Ana has it"; null while nobody has. */
  readonly over: string | null;
  /** Where the case with the number to ring is opened, behind sign-in; null where it cannot be opened from outside. */
  readonly caseHref: string | null;
};
