/** How the zones of one country are told apart. */
export type RegionTable = {
  readonly regions: readonly { readonly names: readonly string[]; readonly zones: readonly string[] }[];
  /** Zones by the beginning of the postcode; the longest beginning that fits counts. */
  readonly postcodes: ReadonlyMap<string, readonly string[]>;
  /** The postcode in the form in which the beginnings are written; empty where it cannot be one. */
  readonly tidyPostcode: (written: string) => string;
};
