import {
  CENTRAL,
  EAST,
  FITTER,
  HELPER,
  type InventedWearer,
  MOUNTAIN,
  NEAR_LAB,
  OWNER,
  POST_LAB,
  type Told,
  WEST,
} from './invented.ts';
import { inventedColumns } from './prescriptions.ts';
import type { Seeded } from './seeded.ts';

const FIRST_NAMES = [
  'Alma',
  'Basil',
  'Cleo',
  'Dario',
  'Elsa',
  'Felix',
  'Greta',
  'Hal',
  'Iris',
  'Jonas',
  'Kit',
];
const LAST_NAMES = [
  'Ashe',
  'Brook',
  'Carver',
  'Dell',
  'Ember',
  'Fenn',
  'Glade',
  'Heath',
  'Ivers',
  'Jessop',
  'Kerr',
];

/** Zones with the area whose numbers reserved for fiction stand in for them. */
const PLACES = [
  [EAST, '202'],
  [EAST, '202'],
  [CENTRAL, '312'],
  [MOUNTAIN, '303'],
  [WEST, '206'],
] as const;

const DESIGNS = [
  'soft 15',
  'soft 15',
  'short 11',
  'short 11',
  'balanced 13',
  'soft 15, light-reactive',
] as const;

const WELL = [
  '1',
  'all good thanks',
  'seeing well, no trouble',
  'very happy with them',
  'great, clear near and far',
];
const GETTING_THERE = ['2', 'getting there', 'better every day', 'slowly getting used to them'];

/** What is not right in the first days and mends with a word or a bent temple, and what was done about it. */
const SMALL_TROUBLES = [
  { says: 'the floor swims when I walk', act: 'coach', way: 'by phone', cause: 'early-adaptation' },
  { says: 'a bit blurry at the sides', act: 'coach', way: 'by phone', cause: 'viewing-habit' },
  { says: 'they slip down when I bend', act: 'adjust', way: 'at the shop', cause: 'temples-too-loose' },
  { says: 'the nose pads press', act: 'adjust', way: 'at the shop', cause: 'bridge-fit' },
] as const;

/** Wearers who are drawn: the many with whom little happens, handed over one after another over ten weeks. */
export function drawnWearers(count: number, from: Seeded): InventedWearer[] {
  return Array.from({ length: count }, (_, index) => {
    const [zone, area] = from.pick(PLACES);
    const design = from.pick(DESIGNS);
    const first = from.next() < 0.7;
    const measuredBy = from.pick([OWNER, FITTER, HELPER]);
    const name = `${FIRST_NAMES[index % FIRST_NAMES.length]} ${LAST_NAMES[(index * 7 + Math.floor(index / FIRST_NAMES.length)) % LAST_NAMES.length]}`;
    const byEmail = from.next() < 0.25;
    return {
      name,
      phone: `+1 ${area}-555-${String(150 + index).padStart(4, '0')}`,
      ...(byEmail ? { email: `${name.toLowerCase().replace(' ', '.')}@example.net` } : {}),
      consent: byEmail ? 'email' : 'text',
      zone,
      daysAgo: 70 - Math.round((index * 66) / Math.max(1, count - 1)),
      design,
      first,
      bornIn: from.between(1945, 1976, 1),
      lab: from.pick([NEAR_LAB, POST_LAB]),
      soldBy: measuredBy,
      facts: inventedColumns(from, { design, first, measuredBy, checked: from.next() < 0.5 }),
      // Whoever helps out marks the pupil a little too low; the others are off either way.
      crossFound: measuredBy === HELPER ? found(from, -1.5, -0.5) : found(from, -0.5, 0.5),
      story: drawnStory(from),
    };
  });
}

const found = (from: Seeded, least: number, most: number) => ({
  R: from.between(least, most, 0.5),
  L: from.between(least, most, 0.5),
});

function drawnStory(from: Seeded): Told[] {
  const chance = from.next();
  if (chance < 0.2) return [];
  const answer = (day: number, words: readonly string[]): Told => ({ day, says: from.pick(words) });
  if (chance < 0.45) return [answer(3, WELL), answer(14, WELL)];
  if (chance < 0.75)
    return [answer(3, GETTING_THERE), answer(7, WELL), ...(from.next() < 0.4 ? [answer(30, WELL)] : [])];
  const trouble = from.pick(SMALL_TROUBLES);
  const settled = trouble.act === 'adjust' ? 'settled after adjusting' : 'settled';
  return [
    { day: 3, says: trouble.says },
    {
      day: 4,
      act: trouble.act,
      way: trouble.way,
      note: '',
      state: trouble.act === 'adjust' ? 'coming in' : 'new',
    },
    answer(7, ['much better now', 'used to them now, thank you']),
    { day: 8, closed: settled, reason: null, bears: null, cause: trouble.cause },
  ];
}
