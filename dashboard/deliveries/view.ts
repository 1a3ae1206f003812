/*
 * GET /deliveries      q, show (open | all), page
 */
export type DeliveryLine = {
  readonly jobHref: string;
  readonly jobNumber: string;
  readonly wearer: string;
  /** "first multifocal, soft 15, light-reactive". */
  readonly pair: string;
  /** "at the counter" or "by post". */
  readonly way: string;
  /** State with its date, in words: "ordered 12 Aug", "received, to be bench-checked", "handed over 18 Aug". */
  readonly state: string;
  /** What is to be done next, as a link; null when nothing. */
  readonly next: { readonly words: string; readonly href: string } | null;
  /** "no number and no address: never messaged"; null when it can be messaged. */
  readonly silent: string | null;
};

export type DeliveriesView = {
  readonly lines: readonly DeliveryLine[];
  readonly q: string;
  readonly show: 'open' | 'all';
  readonly range: string;
  readonly nextHref: string | null;
  readonly previousHref: string | null;
  /** Jobs that were taken in and can never be messaged. */
  readonly silentCount: number;
};
