import type { RegionTable } from './regionTable.ts';

/**
 * Time zones of Canada by province and by the beginning of the postal code. A beginning that lies in more than one zone,
 * or of which we are not sure, keeps them all.
 * Source: zones and their places from the comments of zone.tab (IANA tz database 2025b); postal areas from memory.
 */
const PACIFIC = 'America/Vancouver';
const MOUNTAIN = 'America/Edmonton';
const PEACE_RIVER = 'America/Dawson_Creek';
const CENTRAL = 'America/Winnipeg';
const EASTERN = 'America/Toronto';
const ATLANTIC = 'America/Halifax';
const LABRADOR = 'America/Goose_Bay';
const NEWFOUNDLAND = 'America/St_Johns';
const NORTH_SHORE = 'America/Blanc-Sablon';
const BRITISH_COLUMBIA = [PACIFIC, MOUNTAIN, 'America/Creston', PEACE_RIVER, 'America/Fort_Nelson'];
const NORTHWEST = [MOUNTAIN, 'America/Yellowknife', 'America/Inuvik'];
const NUNAVUT = ['America/Iqaluit', 'America/Rankin_Inlet', 'America/Resolute', 'America/Cambridge_Bay'];
const ONTARIO = [EASTERN, CENTRAL, 'America/Atikokan'];
const SASKATCHEWAN = ['America/Regina', MOUNTAIN];

const PROVINCES: readonly (readonly [readonly string[], readonly string[]])[] = [
  [['AB', 'Alberta'], [MOUNTAIN]],
  [['BC', 'British Columbia'], BRITISH_COLUMBIA],
  [['MB', 'Manitoba'], [CENTRAL]],
  [['NB', 'New Brunswick'], ['America/Moncton']],
  [
    ['NL', 'Newfoundland and Labrador', 'Newfoundland'],
    [NEWFOUNDLAND, LABRADOR],
  ],
  [['NS', 'Nova Scotia'], [ATLANTIC]],
  [['NT', 'Northwest Territories'], NORTHWEST],
  [['NU', 'Nunavut'], NUNAVUT],
  [['ON', 'Ontario'], ONTARIO],
  [['PE', 'PEI', 'Prince Edward Island'], [ATLANTIC]],
  [
    ['QC', 'PQ', 'Quebec', 'Québec'],
    [EASTERN, ATLANTIC, NORTH_SHORE],
  ],
  [['SK', 'Saskatchewan'], SASKATCHEWAN],
  [['YT', 'Yukon'], ['America/Whitehorse']],
];

/** Zones by the beginning of the postal code; the longest beginning that fits counts. */
const POSTAL: readonly (readonly [readonly string[], string])[] = [
  [[NEWFOUNDLAND], 'A1 A2'],
  [[NEWFOUNDLAND, LABRADOR], 'A A0'],
  [[LABRADOR], 'A2V'],
  [[ATLANTIC], 'B C G4T'],
  [['America/Moncton'], 'E'],
  [[EASTERN], 'G H J K L M N P1 P2 P3 P4 P5 P6 P7'],
  [[EASTERN, ATLANTIC, NORTH_SHORE], 'G0'],
  [ONTARIO, 'P'],
  [[CENTRAL], 'P8 P9 R'],
  [['America/Regina'], 'S2 S3 S4 S6 S7 S9A S9H S9X'],
  [SASKATCHEWAN, 'S'],
  [[MOUNTAIN], 'S9V T V1A V1C'],
  [BRITISH_COLUMBIA, 'V'],
  [[PACIFIC], 'V1 V2 V3 V4 V5 V6 V7 V8 V9'],
  [[PEACE_RIVER], 'V1G V1J'],
  [NORTHWEST, 'X X1'],
  [NUNAVUT, 'X0A X0B X0C'],
  [['America/Whitehorse'], 'Y'],
];

export const CANADA: RegionTable = {
  regions: PROVINCES.map(([names, zones]) => ({ names, zones })),
  postcodes: new Map(
    POSTAL.flatMap(([zones, beginnings]) => beginnings.split(' ').map((area) => [area, zones] as const)),
  ),
  tidyPostcode: (written) => written.toUpperCase().replace(/[^A-Z0-9]/g, ''),
};
