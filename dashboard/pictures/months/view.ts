/** Share of pairs back by month of hand-over, with the limits within which luck keeps a month. */
export type MonthsPicture = {
  readonly centre: number;
  readonly points: readonly {
    readonly month: string;
    readonly n: number;
    readonly rate: number;
    readonly low: number;
    readonly high: number;
    readonly href: string;
  }[];
  readonly caption: string;
  readonly inWords: string;
};
