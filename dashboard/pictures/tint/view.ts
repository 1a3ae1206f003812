/** One condition: stepping out, then coming in. Light let through in per cent. */
export type TintLine = {
  /** "cold, 5 °C, open sun". */
  readonly name: string;
  readonly darkening: readonly { readonly timeS: number; readonly percent: number }[];
  readonly clearing: readonly { readonly timeS: number; readonly percent: number }[];
};

/** Tint against time, outdoors and then indoors, one line for each condition (up to three). */
export type TintPicture = {
  readonly lang: 'en' | 'es';
  /** "How dark, how fast". */
  readonly title: string;
  /** What a reader should see: "In the cold they get darker and take about 12 minutes to clear." */
  readonly says: string;
  readonly lines: readonly TintLine[];
  /** Levels that matter: 75 "under this not for driving at dusk or night". */
  readonly levels: readonly { readonly percent: number; readonly words: string }[];
  /** Words on the picture, in the reader's language. */
  readonly words: {
    readonly outside: string;
    readonly inside: string;
    readonly minutes: string;
    readonly lightLetThrough: string;
    readonly asTable: string;
    readonly condition: string;
  };
  /** The same as a table: heads, then rows of cells, the first being the name of the condition. */
  readonly table: { readonly heads: readonly string[]; readonly rows: readonly (readonly string[])[] };
};
