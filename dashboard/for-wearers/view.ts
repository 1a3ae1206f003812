/*
 * The wearer's pages, each behind a link of its own that is good for one thing: the token in the address is the key, so the
 * forms carry no other. Large type, no script, English or Spanish. A page says nothing that its link is not for.
 * GET /w/:token   ?lang=en|es changes the language; /w/:token/first-multifocals and /light-reactive behind a link to tips
 */
export type TipsPage = 'first-multifocals' | 'light-reactive';

export type ForWearer = {
  readonly lang: 'en' | 'es';
  readonly shopName: string;
  /** Number that they may ring, as written. */
  readonly phone: string;
  readonly invented: boolean;
  /** Base of their addresses: "/w/abc…". */
  readonly base: string;
  /** Help near them in danger: "Emergency department: 555 0199"; none when not set. */
  readonly localNumbers: readonly string[];
  /** Further pages behind this very link. */
  readonly pages: readonly TipsPage[];
};
