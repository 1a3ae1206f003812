import { fullTemplateHeads } from '../../src/intake/quantities.ts';

type PlantedFault = { readonly line: number; readonly head: string; readonly code: string };
export type GoldenFile = { readonly text: string; readonly faults: readonly PlantedFault[] };

type Row = Record<string, string>;
/** A way to spoil a line: which column is told, with which code, and what is written there. */
type Way = readonly [code: string, head: string, spoil: (row: Row) => void];

const LINES = 1000;
const BAD = 37;

export const WAYS: readonly Way[] = [
  ['job-number-missing', 'job number', (row) => (row['job number'] = '')],
  ['job-number-twice', 'job number', (row) => (row['job number'] = 'G-0001')],
  ['job-number-mangled', 'job number', (row) => (row['job number'] = '1.2E+11')],
  ['name-missing', 'name', (row) => (row.name = '  ')],
  ['too-long', 'name', (row) => (row.name = 'Ann '.repeat(60))],
  ['phone-impossible', 'phone', (row) => (row.phone = '212-555-O123')],
  ['phone-two', 'phone', (row) => (row.phone = '212 555 0123 / 212 555 0124')],
  ['phone-real', 'phone', (row) => (row.phone = '+1 212 555 0200')],
  ['email-malformed', 'email', (row) => (row.email = 'ann.example.com')],
  ['email-real', 'email', (row) => (row.email = 'ann@examples.org')],
  ['consent-unread', 'consent', (row) => (row.consent = 'maybe later')],
  ['date-ambiguous', 'handed over on', (row) => (row['handed over on'] = '03/04/2026')],
  ['date-impossible', 'handed over on', (row) => (row['handed over on'] = '2026-02-30')],
  ['date-in-future', 'handed over on', (row) => (row['handed over on'] = '2062-11-03')],
  ['design-missing', 'lens design', (row) => (row['lens design'] = '')],
  ['yes-no-unread', 'first multifocal', (row) => (row['first multifocal'] = 'perhaps')],
  ['zone-unknown', 'zone', (row) => (row.zone = 'EST')],
  ['power-unread', 'order R', (row) => (row['order R'] = '-2.00 - 0.50 x')],
  ['axis-missing', 'order L', (row) => (row['order L'] = '-2.00 -0.50')],
  ['number-out-of-range', 'fitting height R', (row) => (row['fitting height R'] = '200')],
];

/** A thousand lines of the full template in many hands; 37 of them are bad, in 20 ways. The same seed, the same file. */
export function goldenFile(seed: number): GoldenFile {
  const random = seeded(seed);
  const pick = <T>(...held: readonly T[]): T => held[Math.floor(random() * held.length)]!;
  const heads = fullTemplateHeads();
  const places = new Map<number, Way>();
  // The first line stays good: it holds the job number that comes again.
  for (let planted = 0; planted < BAD; planted += 1) {
    let index = 1 + Math.floor(random() * (LINES - 1));
    while (places.has(index)) index = 1 + Math.floor(random() * (LINES - 1));
    places.set(index, WAYS[planted % WAYS.length]!);
  }
  const faults: PlantedFault[] = [];
  const lines = [heads.map(quoted).join(',')];
  for (let index = 0; index < LINES; index += 1) {
    const row = goodRow(index, pick);
    const way = places.get(index);
    if (way) {
      const [code, head, spoil] = way;
      spoil(row);
      faults.push({ line: index + 2, head, code });
    }
    lines.push(heads.map((head) => quoted(row[head] ?? '')).join(','));
  }
  return { text: `${lines.join('\r\n')}\r\n`, faults };
}

function goodRow(index: number, pick: <T>(...held: readonly T[]) => T): Row {
  const digits = String(index % 100).padStart(2, '0');
  const area = pick('212', '415', '512', '208');
  return {
    'job number': `G-${String(index + 1).padStart(4, '0')}`,
    name: pick(
      'Ann Example',
      'Example, Bo',
      'Çağla "Cy" Örnek',
      'O’Test, Dee',
      '=Fay Example',
      '-Gil Example',
    ),
    phone: pick(
      '',
      `(${area}) 555-01${digits}`,
      `+1 ${area} 555 01${digits}`,
      `1-${area}-555-01${digits}`,
      `07700 9001${digits}`.replace(/^0/, '+44 '),
    ),
    email: pick('', `w${index}@example.com`, `W${index}@Mail.Example.ORG`),
    consent: pick('yes', 'Yes', 'text', 'email', 'both', 'no', '', 'SMS'),
    'handed over on': pick(
      '2026-11-03',
      '2026/11/3',
      '3 Nov 2026',
      'Nov 3, 2026',
      '13/11/2026',
      '11-13-2026',
    ),
    'lens design': pick('Generic 14', 'Generic 11 short', 'Generic room 80'),
    'first multifocal': pick('yes', 'no', 'Y', 'N', ''),
    zone: pick('', 'America/Chicago', 'US/Eastern'),
    state: pick('', 'FL', 'Idaho'),
    postcode: pick('', '32501', '83814'),
    'birth year': pick('', '1961', '1955'),
    'ordered on': pick('', '2026-10-20', '20.10.2026'),
    'order R': pick('-2.00 / -0.50 x 90', 'plano', 'pl -0,50 x 180', '+1,25 +0,75 x 0', '-2.00 DS', '2', ''),
    'order L': pick('-1.75/-0.25x5', 'pl', '\u22122.25 \u22120.50 \u00d7 90', '-1.00 sph', ''),
    'order add R': pick('', '2.00', '+2,25'),
    'order add L': pick('', '2.00 D', '2,5'),
    'order prism R': pick('', '0.5 down', '1 BI', '0,5 base up / 1 out'),
    'PD R': pick('', '31', '31,5', '31.5 mm'),
    'PD L': pick('', '30', '30.5'),
    'fitting height R': pick('', '20', '19,5 mm'),
    'frame B': pick('', '38', '40'),
    DBL: pick('', '18', '17,5'),
    'vertex R': pick('', '12', '13.5'),
    tilt: pick('', '9', '8,5°'),
    'previous lens': pick('', 'none', 'SV', 'single vision', 'Bifocal', 'varifocal'),
    antireflection: pick('', 'yes', 'no'),
  };
}

const quoted = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Mulberry32: the same numbers for the same seed on every machine (public-domain algorithm, from memory). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
