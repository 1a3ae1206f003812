/** One invented wearer: the job's line as a file would have it, and what is written back on which day of wear. */
export type InventedWearer = {
  readonly name: string;
  /** Last four figures of a reserved number: 0100 to 0199 after 555. Two wearers may share one. */
  readonly phone: string;
  readonly email?: string;
  readonly consent: 'text' | 'email' | 'both' | 'no';
  readonly zone: string;
  /** Days before today on which the glasses were handed over. */
  readonly daysAgo: number;
  readonly design: string;
  readonly first: boolean;
  readonly bornIn: number;
  /** Columns of the full template beside the short ones. */
  readonly facts: Readonly<Record<string, string>>;
  readonly says: readonly { readonly day: number; readonly text: string }[];
  /** Measured at the bench after the reply of that day. */
  readonly measured?: readonly {
    readonly day: number;
    readonly key: string;
    readonly eye: 'R' | 'L';
    readonly value: number;
  }[];
};

const EAST = 'America/New_York';
const CENTRAL = 'America/Chicago';
const MOUNTAIN = 'America/Denver';
const WEST = 'America/Los_Angeles';

const usual = (over: Readonly<Record<string, string>> = {}): Readonly<Record<string, string>> => ({
  'order R sphere': '+1.00',
  'order L sphere': '+1.25',
  'add R': '2.00',
  'add L': '2.00',
  ...over,
});

export const INVENTED_WEARERS: readonly InventedWearer[] = [
  {
    name: 'Ida Quill',
    phone: '0111',
    email: 'ida.quill@example.com',
    consent: 'both',
    zone: EAST,
    daysAgo: 3,
    design: 'soft 15',
    first: true,
    bornIn: 1971,
    facts: usual(),
    says: [],
  },
  {
    name: 'Hugo Marsh',
    phone: '0112',
    consent: 'text',
    zone: CENTRAL,
    daysAgo: 6,
    design: 'soft 15',
    first: true,
    bornIn: 1968,
    facts: usual(),
    says: [
      { day: 3, text: 'I have to lift my chin right up to read anything, the reading bit is miles too low' },
    ],
    measured: [
      { day: 4, key: 'cross_above_pupil_mm', eye: 'R', value: -2.1 },
      { day: 4, key: 'cross_above_pupil_mm', eye: 'L', value: -1.9 },
    ],
  },
  {
    name: 'Vera Linden',
    phone: '0113',
    consent: 'text',
    zone: WEST,
    daysAgo: 8,
    design: 'short 11, light-reactive',
    first: false,
    bornIn: 1962,
    facts: usual(),
    says: [
      { day: 3, text: 'all good thanks' },
      { day: 7, text: 'They stay clear when I drive, is that right? Lovely otherwise' },
    ],
  },
  {
    name: 'Oskar Penn',
    phone: '0114',
    consent: 'text',
    zone: EAST,
    daysAgo: 15,
    design: 'soft 15',
    first: true,
    bornIn: 1959,
    facts: usual(),
    says: [
      { day: 3, text: 'floor sways a bit when I turn my head' },
      { day: 7, text: 'much better now, reading is easy' },
      { day: 14, text: 'used to them now, very happy' },
    ],
  },
  {
    name: 'Ruth Calder',
    phone: '0115',
    consent: 'text',
    zone: MOUNTAIN,
    daysAgo: 7,
    design: 'short 11',
    first: true,
    bornIn: 1950,
    facts: usual(),
    says: [
      {
        day: 7,
        text: 'since this morning there are lots of new black specks and a flash at the side of my left eye',
      },
    ],
  },
  {
    name: 'Milo Hart',
    phone: '0116',
    consent: 'text',
    zone: EAST,
    daysAgo: 9,
    design: 'soft 15',
    first: true,
    bornIn: 1966,
    facts: usual(),
    says: [{ day: 7, text: 'they keep sliding down my nose and then I cant find the reading part' }],
  },
  {
    name: 'Nell Hart',
    phone: '0116',
    consent: 'text',
    zone: EAST,
    daysAgo: 9,
    design: 'soft 15',
    first: false,
    bornIn: 1967,
    facts: usual(),
    says: [],
  },
  {
    name: 'Tomas Reed',
    phone: '0117',
    consent: 'text',
    zone: CENTRAL,
    daysAgo: 11,
    design: 'short 11',
    first: true,
    bornIn: 1973,
    facts: usual(),
    says: [{ day: 7, text: 'road signs are blurry unless I drop my chin' }],
    measured: [
      { day: 8, key: 'cross_above_pupil_mm', eye: 'R', value: 2.2 },
      { day: 8, key: 'cross_above_pupil_mm', eye: 'L', value: 2 },
    ],
  },
  {
    name: 'Agnes Bell',
    phone: '0118',
    consent: 'text',
    zone: EAST,
    daysAgo: 20,
    design: 'soft 15',
    first: true,
    bornIn: 1955,
    facts: usual(),
    says: [
      { day: 3, text: 'settling in nicely' },
      { day: 7, text: 'all good' },
    ],
  },
  {
    name: 'Piet Sommer',
    phone: '0119',
    consent: 'no',
    zone: EAST,
    daysAgo: 5,
    design: 'soft 15',
    first: true,
    bornIn: 1970,
    facts: usual(),
    says: [],
  },
  {
    name: 'Lina Ortega',
    phone: '0121',
    consent: 'text',
    zone: WEST,
    daysAgo: 4,
    design: 'short 11',
    first: false,
    bornIn: 1964,
    facts: usual({ 'base curve': '6', 'previous base curve': '3.5' }),
    says: [{ day: 3, text: 'everything is clear but the floor rolls like a boat when I walk' }],
  },
  {
    name: 'Walt Dunn',
    phone: '0122',
    consent: 'text',
    zone: CENTRAL,
    daysAgo: 4,
    design: 'soft 15',
    first: true,
    bornIn: 1961,
    facts: usual(),
    says: [{ day: 3, text: 'STOP' }],
  },
  {
    name: 'Fern Abbott',
    phone: '0123',
    consent: 'text',
    zone: MOUNTAIN,
    daysAgo: 3,
    design: 'soft 15, light-reactive',
    first: true,
    bornIn: 1969,
    facts: usual(),
    says: [{ day: 3, text: 'my sister in law says hers feel numb' }],
  },
  {
    name: 'Joan Fisk',
    phone: '0124',
    email: 'joan.fisk@example.org',
    consent: 'email',
    zone: EAST,
    daysAgo: 10,
    design: 'soft 15',
    first: true,
    bornIn: 1958,
    facts: usual(),
    says: [
      { day: 7, text: 'Hello, they are going very well indeed. I can see the television and my book. Joan' },
    ],
  },
];
