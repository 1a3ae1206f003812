/*
 * The wearer's pages, each behind the wearer's own link: the token in the address is the key, so the forms carry no
 * other. Large type, no script, English or Spanish.
 * GET /w/:token/…   ?lang=en|es changes the language
 */
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
  /** False for a pair without zones: then the page on multifocals is not linked. */
  readonly multifocal: boolean;
  readonly lightReactive: boolean;
};
