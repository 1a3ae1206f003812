/* GET /jobs/:id/measure-sheet  ?lang=en|es */
export type MeasureSheetView = {
  readonly lang: 'en' | 'es';
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  readonly backHref: string;
  readonly wearer: string;
  readonly jobNumber: string;
  /** Number that they may ring or text. */
  readonly phone: string;
  readonly title: string;
  readonly tapeTitle: string;
  readonly tape: readonly string[];
  readonly photoTitle: string;
  readonly photo: readonly string[];
  readonly right: string;
  readonly left: string;
  readonly sendBack: string;
};
