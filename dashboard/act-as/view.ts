/*
 * Only in the invented shop, where nobody is real.
 * GET  /act-as
 * POST /act-as    person_id
 */
export type ActAsView = {
  readonly people: readonly {
    readonly personId: string;
    readonly name: string;
    readonly role: 'staff' | 'owner';
    /** "licensed until 30 Jun 2027", "not licensed". */
    readonly licence: string;
    /** The one who acts now. */
    readonly now: boolean;
  }[];
};
