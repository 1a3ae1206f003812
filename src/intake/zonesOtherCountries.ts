import type { RegionTable } from './regionTable.ts';

/**
 * Time zones of the other countries with more than one, by region and by the beginning of the postcode.
 * Source: zones and their places from the comments of zone.tab (IANA tz database 2025b); postcodes from memory.
 */
const SYDNEY = 'Australia/Sydney';
const BROKEN_HILL = 'Australia/Broken_Hill';
const LORD_HOWE = 'Australia/Lord_Howe';
const EUCLA = 'Australia/Eucla';

const digitsOnly = (written: string) => written.replace(/\D/g, '');
const table = (
  regions: readonly (readonly [readonly string[], readonly string[]])[],
  postcodes: readonly (readonly [readonly string[], string])[],
  digits: number,
): RegionTable => ({
  regions: regions.map(([names, zones]) => ({ names, zones })),
  postcodes: new Map(
    postcodes.flatMap(([zones, areas]) => areas.split(' ').map((area) => [area, zones] as const)),
  ),
  // Spreadsheets take the first nought away.
  tidyPostcode: (written) => {
    const found = digitsOnly(written);
    return found.length < digits - 1 || found.length > digits ? '' : found.padStart(digits, '0');
  },
});

export const AUSTRALIA = table(
  [
    [
      ['NSW', 'New South Wales'],
      [SYDNEY, BROKEN_HILL, LORD_HOWE],
    ],
    [['ACT', 'Australian Capital Territory'], [SYDNEY]],
    [['VIC', 'Victoria'], ['Australia/Melbourne']],
    [['QLD', 'Queensland'], ['Australia/Brisbane']],
    [['SA', 'South Australia'], ['Australia/Adelaide']],
    [
      ['WA', 'Western Australia'],
      ['Australia/Perth', EUCLA],
    ],
    [['TAS', 'Tasmania'], ['Australia/Hobart']],
    [['NT', 'Northern Territory'], ['Australia/Darwin']],
  ],
  [
    [[SYDNEY], '2'],
    [[BROKEN_HILL], '2880'],
    [[LORD_HOWE], '2898'],
    [['Australia/Melbourne'], '3'],
    [['Australia/Brisbane'], '4'],
    [['Australia/Adelaide'], '5'],
    [['Australia/Perth'], '6'],
    [['Australia/Perth', EUCLA], '6443'],
    [['Australia/Hobart'], '7'],
    [['Australia/Darwin'], '08 09'],
    // 0872 lies across the borders of three states.
    [['Australia/Darwin', 'Australia/Adelaide', 'Australia/Perth'], '0872'],
  ],
  4,
);

export const NEW_ZEALAND = table(
  [[['Chatham', 'Chatham Islands', 'CIT'], ['Pacific/Chatham']]],
  [
    [['Pacific/Auckland'], '0 1 2 3 4 5 6 7 8 9'],
    [['Pacific/Chatham'], '8016'],
  ],
  4,
);

const MEXICO_CITY = ['America/Mexico_City'];
const BORDER_EAST = ['America/Monterrey', 'America/Matamoros'];
const CHIHUAHUA = ['America/Chihuahua', 'America/Ciudad_Juarez', 'America/Ojinaga'];
const NAYARIT = ['America/Mazatlan', 'America/Bahia_Banderas'];

export const MEXICO = table(
  [
    [['BC', 'BCN', 'Baja California'], ['America/Tijuana']],
    [['BCS', 'Baja California Sur'], ['America/Mazatlan']],
    [['SON', 'Sonora'], ['America/Hermosillo']],
    [['SIN', 'Sinaloa'], ['America/Mazatlan']],
    [['NAY', 'Nayarit'], NAYARIT],
    [['CHH', 'CHIH', 'Chihuahua'], CHIHUAHUA],
    [['COA', 'COAH', 'Coahuila'], BORDER_EAST],
    [['NL', 'NLE', 'Nuevo León', 'Nuevo Leon'], BORDER_EAST],
    [['TAM', 'TAMPS', 'Tamaulipas'], BORDER_EAST],
    [['ROO', 'QROO', 'Quintana Roo'], ['America/Cancun']],
    [['YUC', 'Yucatán', 'Yucatan'], ['America/Merida']],
    [['CAM', 'CAMP', 'Campeche'], ['America/Merida']],
    ...[
      ['AGU', 'AGS', 'Aguascalientes'],
      ['CMX', 'CDMX', 'DF', 'Ciudad de México', 'Mexico City'],
      ['CHP', 'CHIS', 'Chiapas'],
      ['COL', 'Colima'],
      ['DUR', 'DGO', 'Durango'],
      ['GUA', 'GTO', 'Guanajuato'],
      ['GRO', 'Guerrero'],
      ['HID', 'HGO', 'Hidalgo'],
      ['JAL', 'Jalisco'],
      ['MEX', 'Estado de México', 'State of Mexico'],
      ['MIC', 'MICH', 'Michoacán', 'Michoacan'],
      ['MOR', 'Morelos'],
      ['OAX', 'Oaxaca'],
      ['PUE', 'Puebla'],
      ['QUE', 'QRO', 'Querétaro', 'Queretaro'],
      ['SLP', 'San Luis Potosí', 'San Luis Potosi'],
      ['TAB', 'Tabasco'],
      ['TLA', 'TLAX', 'Tlaxcala'],
      ['VER', 'Veracruz'],
      ['ZAC', 'Zacatecas'],
    ].map((names) => [names, names[0] === 'DUR' ? ['America/Monterrey'] : MEXICO_CITY] as const),
  ],
  [
    [MEXICO_CITY, '0 1 20 28 29 30 36 37 38 39 4 5 60 61 62 68 69 7 86 90 91 92 93 94 95 96 98 99'],
    [['America/Tijuana'], '21 22'],
    [['America/Mazatlan'], '23 80 81 82'],
    [['America/Merida'], '24 97'],
    [BORDER_EAST, '25 26 27 64 65 66 67 87 88 89'],
    [CHIHUAHUA, '31 32 33'],
    [['America/Monterrey'], '34 35'],
    [NAYARIT, '63'],
    [['America/Cancun'], '77'],
    [['America/Hermosillo'], '83 84 85'],
  ],
  5,
);

const MADRID = ['Europe/Madrid'];
const CANARY = ['Atlantic/Canary'];
const AFRICA = ['Africa/Ceuta'];

export const SPAIN = table(
  [
    [
      [
        'Canarias',
        'Canary Islands',
        'Islas Canarias',
        'Las Palmas',
        'Santa Cruz de Tenerife',
        'Tenerife',
        'CN',
        'GC',
        'TF',
      ],
      CANARY,
    ],
    [['Ceuta', 'Melilla', 'CE', 'ML'], AFRICA],
    [
      [
        'Andalucía',
        'Andalucia',
        'Andalusia',
        'Aragón',
        'Aragon',
        'Asturias',
        'Baleares',
        'Illes Balears',
        'Balearic Islands',
        'Cantabria',
        'Castilla-La Mancha',
        'Castilla y León',
        'Castilla y Leon',
        'Cataluña',
        'Cataluna',
        'Catalunya',
        'Catalonia',
        'Comunidad Valenciana',
        'Valencia',
        'Extremadura',
        'Galicia',
        'La Rioja',
        'Madrid',
        'Comunidad de Madrid',
        'Barcelona',
        'Sevilla',
        'Málaga',
        'Malaga',
        'Murcia',
        'Navarra',
        'País Vasco',
        'Pais Vasco',
        'Euskadi',
        'Basque Country',
      ],
      MADRID,
    ],
  ],
  [
    [MADRID, '0 1 2 30 31 32 33 34 36 37 39 4 50'],
    [CANARY, '35 38'],
    [AFRICA, '51 52'],
  ],
  5,
);
