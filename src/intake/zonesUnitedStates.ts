import type { RegionTable } from './regionTable.ts';

/**
 * Time zones of the United States by state and by the first three digits of the ZIP code (ZIP3). Zones that have kept
 * the same rules for years are given by one name (Knox and Tell City as Chicago, and so on). A ZIP3 that crosses a
 * border of zones, or of which we are not sure, keeps both. Towns that keep the next state's hour by custom only are not heeded.
 * Source: 49 CFR part 71 for the borders and the USPS list of ZIP3 areas, both from memory; common practice.
 */
const E = 'America/New_York';
const C = 'America/Chicago';
const M = 'America/Denver';
const P = 'America/Los_Angeles';
const MICHIGAN = 'America/Detroit';
const INDIANA = 'America/Indiana/Indianapolis';
const IDAHO = 'America/Boise';
const ARIZONA = 'America/Phoenix';
const UPPER_PENINSULA = 'America/Menominee';
const ALASKA = 'America/Anchorage';
const ALEUTIANS = 'America/Adak';

/** Code, name, zones, ZIP3 areas. */
const STATES: readonly (readonly [string, string, readonly string[], string])[] = [
  ['AL', 'Alabama', [C], '350-352 354-369'],
  ['AK', 'Alaska', [ALASKA, ALEUTIANS], '995-999'],
  ['AZ', 'Arizona', [ARIZONA, M], '850-853 855-857 859-860 863-865'],
  ['AR', 'Arkansas', [C], '716-729'],
  ['CA', 'California', [P], '900-908 910-928 930-961'],
  ['CO', 'Colorado', [M], '800-816'],
  ['CT', 'Connecticut', [E], '060-069'],
  ['DE', 'Delaware', [E], '197-199'],
  ['DC', 'District of Columbia', [E], '200 202-205'],
  ['FL', 'Florida', [E, C], '320-339 341-342 344 346-347 349'],
  ['GA', 'Georgia', [E], '300-319 398-399'],
  ['HI', 'Hawaii', ['Pacific/Honolulu'], '967-968'],
  ['ID', 'Idaho', [IDAHO, P], '832-838'],
  ['IL', 'Illinois', [C], '600-620 622-629'],
  ['IN', 'Indiana', [INDIANA, C], '460-479'],
  ['IA', 'Iowa', [C], '500-516 520-528'],
  ['KS', 'Kansas', [C, M], '660-662 664-679'],
  ['KY', 'Kentucky', [E, C], '400-418 420-427'],
  ['LA', 'Louisiana', [C], '700-701 703-708 710-714'],
  ['ME', 'Maine', [E], '039-049'],
  ['MD', 'Maryland', [E], '206-212 214-219'],
  ['MA', 'Massachusetts', [E], '010-027 055'],
  ['MI', 'Michigan', [MICHIGAN, UPPER_PENINSULA], '480-499'],
  ['MN', 'Minnesota', [C], '550-551 553-567'],
  ['MS', 'Mississippi', [C], '386-397'],
  ['MO', 'Missouri', [C], '630-631 633-641 644-658'],
  ['MT', 'Montana', [M], '590-599'],
  ['NE', 'Nebraska', [C, M], '680-681 683-693'],
  ['NV', 'Nevada', [P, M], '889-891 893-895 897-898'],
  ['NH', 'New Hampshire', [E], '030-038'],
  ['NJ', 'New Jersey', [E], '070-089'],
  ['NM', 'New Mexico', [M], '870-871 873-875 877-884'],
  ['NY', 'New York', [E], '005 100-149'],
  ['NC', 'North Carolina', [E], '270-289'],
  ['ND', 'North Dakota', [C, M], '580-588'],
  ['OH', 'Ohio', [E], '430-459'],
  ['OK', 'Oklahoma', [C], '730-731 734-741 743-749'],
  ['OR', 'Oregon', [P, IDAHO], '970-979'],
  ['PA', 'Pennsylvania', [E], '150-196'],
  ['RI', 'Rhode Island', [E], '028-029'],
  ['SC', 'South Carolina', [E], '290-299'],
  ['SD', 'South Dakota', [C, M], '570-577'],
  ['TN', 'Tennessee', [E, C], '370-385'],
  ['TX', 'Texas', [C, M], '733 750-770 772-799 885'],
  ['UT', 'Utah', [M], '840-847'],
  ['VT', 'Vermont', [E], '050-054 056-059'],
  ['VA', 'Virginia', [E], '201 220-246'],
  ['WA', 'Washington', [P], '980-986 988-994'],
  ['WV', 'West Virginia', [E], '247-268'],
  ['WI', 'Wisconsin', [C], '530-532 534-535 537-549'],
  ['WY', 'Wyoming', [M], '820-831'],
  ['PR', 'Puerto Rico', ['America/Puerto_Rico'], '006-007 009'],
  ['VI', 'Virgin Islands', ['America/St_Thomas'], '008'],
  ['GU', 'Guam', ['Pacific/Guam'], ''],
  ['MP', 'Northern Mariana Islands', ['Pacific/Saipan'], ''],
  ['AS', 'American Samoa', ['Pacific/Pago_Pago'], ''],
];

/** ZIP3 areas that lie in one zone of a state that has two. What is not named here keeps the zones of its state. */
const IN_ONE_ZONE: readonly (readonly [string, string])[] = [
  [ALASKA, '996-998'],
  [ARIZONA, '850-853 855-857 859 863-864'],
  [E, '320-323 326-339 341-342 344 346-347 349'],
  [C, '325'],
  [IDAHO, '832-834 836-837'],
  [P, '838'],
  [INDIANA, '460-462 466-468 470-474 478'],
  [C, '463-464 476-477'],
  [C, '660-662 664-676 679'],
  [E, '400 402-418'],
  [C, '420-424'],
  [MICHIGAN, '480-497'],
  [C, '680-681 683-689'],
  [M, '693'],
  [P, '889-891 893-895 897'],
  [C, '580-584 587'],
  [P, '970-978'],
  [C, '570-574'],
  [M, '577'],
  [C, '370-372 375 380-385'],
  [E, '374 376 379'],
  [C, '733 750-770 772-797'],
  [M, '799 885'],
];

function areas(written: string): string[] {
  return written.split(' ').flatMap((range) => {
    if (range === '') return [];
    const [first = '', last = first] = range.split('-');
    const count = Number(last) - Number(first) + 1;
    return Array.from({ length: count }, (_, step) => String(Number(first) + step).padStart(3, '0'));
  });
}

export const UNITED_STATES: RegionTable = {
  regions: STATES.map(([code, name, zones]) => ({ names: [code, name], zones })),
  postcodes: new Map<string, readonly string[]>([
    ...STATES.flatMap(([, , zones, zips]) => areas(zips).map((area) => [area, zones] as const)),
    ...IN_ONE_ZONE.flatMap(([zone, zips]) => areas(zips).map((area) => [area, [zone]] as const)),
  ]),
  // Spreadsheets take the first nought away: 02134 becomes 2134. What stands behind the five digits is dropped.
  tidyPostcode: (written) => {
    const digits = /^(\d{4,5})(?:-?\d{4})?$/.exec(written)?.[1];
    return digits?.padStart(5, '0') ?? '';
  },
};
