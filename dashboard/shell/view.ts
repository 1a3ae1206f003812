/*
 * Around every page.
 * GET  /style.css   the stylesheet (dashboard/style.css)
 * GET  /island.js   the script (dashboard/island.js); every page works without it
 * GET  /version     text/plain: changes whenever something on a page may have changed; the script asks every 5 seconds
 * GET  /find        q: name, telephone number, email address or job number; answers with a page of hits (find/view.ts)
 * Every form posts a hidden `csrf`.
 */
import type { Notice } from '../pieces/view.ts';

export type SideLink = {
  /** Address of the page. */
  readonly href: string;
  /** Its name ("Bench"). */
  readonly text: string;
  /** How many wait there; left out when none. */
  readonly waiting?: number;
  /** 1: daily work; 2: the shop's books. A rule is drawn between them. */
  readonly group: 1 | 2;
};

export type ShellView = {
  /** Title of the page, also its heading unless the page draws its own. */
  readonly title: string;
  /** Name of the shop. */
  readonly shopName: string;
  /** True in the invented shop: a standing strip says that nothing is real. */
  readonly invented: boolean;
  /** The shop's own date and time, written ("Thu 27 Aug 2026, 10:42"). */
  readonly clock: string;
  /** The same instant in ISO 8601. */
  readonly clockIso: string;
  /** Pages that exist, in their order. */
  readonly side: readonly SideLink[];
  /** Address of the entry in `side` that this page belongs to; empty when to none. */
  readonly here: string;
  /** Token that every form posts back. */
  readonly csrf: string;
  /** Name of the person at the screen, who acts. */
  readonly person: string | null;
  /** Where the name leads: to their own sign-in, or in the invented shop to whom one acts as. */
  readonly personHref?: string;
  /** Notices, newest first. */
  readonly notices: readonly Notice[];
  /** Number of open danger cases, shown on every page with a link to the bench. */
  readonly dangerCount: number;
  /** What GET /version answered when this page was made. */
  readonly version: string;
  /** True when GET /find exists. */
  readonly findable: boolean;
};
