import { FITTER, HELPER, NEAR_LAB, OWNER, POST_LAB } from './invented.ts';
import { inventedColumns } from './prescriptions.ts';
import type { Seeded } from './seeded.ts';

/**
 * Jobs of the quarter before the shop began, as its list had them: they are out long enough to say how often pairs come back,
 * and nobody is written to about them.
 */
export type EarlierJob = {
  readonly jobNumber: string;
  readonly name: string;
  /** Days before the shop began. */
  readonly handedOverDaysBefore: number;
  readonly columns: Readonly<Record<string, string>>;
  /** Came back so many days after the shop began, and was made again. */
  readonly madeAgain?: { readonly afterDays: number; readonly reason: string; readonly bears: string };
};

const FIRST_NAMES = [
  'Nils',
  'Orla',
  'Perry',
  'Quinn',
  'Rhea',
  'Sol',
  'Tess',
  'Uma',
  'Vic',
  'Wanda',
  'Yves',
  'Zita',
];
const LAST_NAMES = [
  'Larch',
  'Mead',
  'North',
  'Orr',
  'Pike',
  'Quay',
  'Rush',
  'Stone',
  'Thorn',
  'Vale',
  'West',
];

/** How many of each design, and how many of them came back: enough to say something of two, too few of the others. */
const COUNTS = [
  { design: 'soft 15', count: 21, back: 1 },
  { design: 'short 11', count: 20, back: 6 },
  { design: 'balanced 13', count: 7, back: 0 },
] as const;

export function earlierJobs(from: Seeded): EarlierJob[] {
  const jobs = COUNTS.flatMap(({ design, count, back }) =>
    Array.from({ length: count }, (_, index) => ({ design, comesBack: index < back })),
  );
  return jobs.map(({ design, comesBack }, index) => {
    const measuredBy = from.pick([OWNER, FITTER, HELPER]);
    const first = from.next() < 0.6;
    return {
      jobNumber: `E-${String(index + 1).padStart(3, '0')}`,
      name: `${FIRST_NAMES[index % FIRST_NAMES.length]} ${LAST_NAMES[(index * 5 + 2) % LAST_NAMES.length]}`,
      // Who came back had been handed over last, so that it was within the time in which pairs come back.
      handedOverDaysBefore: comesBack ? from.between(2, 20, 1) : from.between(5, 80, 1),
      columns: {
        'lens design': design,
        'first multifocal': first ? 'yes' : 'no',
        lab: from.pick([NEAR_LAB, POST_LAB]),
        'sold by': measuredBy,
        ...inventedColumns(from, { design, first, measuredBy, checked: false }),
      },
      ...(comesBack
        ? {
            madeAgain: {
              afterDays: from.between(1, 30, 1),
              reason: from.pick(['settling', 'settling', 'measured', 'made wrong']),
              bears: from.pick(['the lab', 'the shop']),
            },
          }
        : {}),
    };
  });
}
