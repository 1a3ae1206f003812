/*
 * GET /letters   locale (en | es), channel (text | email | all); /letters/pages/… shows the pages behind links
 */
export type LetterEntry = {
  /** "day 3, the first message". */
  readonly name: string;
  readonly channel: 'text' | 'email';
  readonly subject: string;
  readonly body: string;
  readonly templateId: string;
  readonly templateVersion: string;
  /** Of a text: "2 parts, 214 characters"; empty for a mail. */
  readonly size: string;
  /** When it goes: "unasked, day 3 of wear, at a civil hour". */
  readonly goes: string;
};

export type LettersView = {
  readonly locale: 'en' | 'es';
  readonly channel: 'text' | 'email' | 'all';
  readonly groups: readonly { readonly name: string; readonly letters: readonly LetterEntry[] }[];
  /** The pages behind the links, as they look on a telephone. */
  readonly pages: readonly { readonly name: string; readonly href: string; readonly opens: string }[];
  /** Letters stand here with the links that they leave with; false: the shop has no public address, and they go without. */
  readonly withLinks: boolean;
  /** What must be set before some can be written: "The caution cannot be written: no local help numbers are set." */
  readonly cannot: readonly string[];
};
