import { z } from 'zod';
import type { Problem } from '../problems.ts';

/** One value for each eye; an eye that was not measured is absent. */
export type BothEyes = { readonly R?: number; readonly L?: number };
/** Sphere D, cylinder D, axis in degrees (0 < axis <= 180, or 0 with no cylinder). */
export type FactPower = readonly [sphereD: number, cylinderD: number, axisDeg: number];
export type FactValue = number | boolean | string | BothEyes | FactPower;
/** Job facts as they are weighed. A fact left out is unknown, which is not the same as normal. */
export type JobFacts = Readonly<Partial<Record<JobFactKey, FactValue>>>;

type Kind = 'number' | 'eyes' | 'power' | 'yes-no' | 'yes-or-words' | 'words' | 'choice';
type FactKey = {
  readonly kind: Kind;
  readonly words: string;
  readonly from?: number;
  readonly to?: number;
  readonly choices?: readonly string[];
};

const number = (words: string, from: number, to: number): FactKey => ({ kind: 'number', words, from, to });
const eyes = (words: string, from: number, to: number): FactKey => ({ kind: 'eyes', words, from, to });
const power = (words: string): FactKey => ({ kind: 'power', words });
const yesNo = (words: string): FactKey => ({ kind: 'yes-no', words });
/** Yes or no, where words in place of a yes ("hair dryer", "to the left") count as yes. */
const yesOrWords = (words: string): FactKey => ({ kind: 'yes-or-words', words });
const text = (words: string): FactKey => ({ kind: 'words', words });
const choice = (words: string, choices: readonly string[]): FactKey => ({ kind: 'choice', words, choices });

/**
 * Every key that a job may carry when its causes are weighed, with its unit in the key, what it means and the range
 * that is taken in. Ranges are wide on purpose: they catch slips of the pen and another unit (a height in centimetres, heat in
 * Fahrenheit), not unusual wearers (common practice).
 */
export const FACT_KEYS = {
  day: number('days since first worn', -30, 4000),
  age_y: number('age of the wearer, years', 0, 120),
  previous_lens: text('none, single-vision, readers, bifocal, trifocal or progressive'),
  lens_type: text('progressive unless said otherwise'),
  rx_R: power('prescription, right'),
  rx_L: power('prescription, left'),
  add_D: eyes('addition prescribed, dioptres', 0, 6),
  prev_R: power('previous pair, right'),
  prev_L: power('previous pair, left'),
  prev_add_D: eyes('addition of the previous pair, dioptres', 0, 6),
  read_R: power('checked power, right'),
  read_L: power('checked power, left'),
  read_add_D: eyes('checked addition, dioptres', 0, 6),
  order_R: power('ordered power, right'),
  order_L: power('ordered power, left'),
  order_add_D: eyes('ordered addition, dioptres', 0, 6),
  bench_within_limits: yesNo('power, prism, cross and marks checked against the order and within limits'),
  read_within_limits: yesNo('power, axis and addition checked and within limits'),
  limits_by: choice('standard that the finished pair is held to; ANSI Z80.1 unless said otherwise', [
    'ANSI Z80.1',
    'ISO 21987',
  ]),
  cross_above_pupil_mm: eyes(
    "fitting cross above (+) or below (-) the pupil in the wearer's own posture, mm",
    -25,
    25,
  ),
  cross_nasal_mm: eyes('fitting cross nasal (+) or temporal (-) of the pupil, mm', -25, 25),
  fitting_height_mm: eyes('fitting height, mm', 5, 50),
  design_min_height_mm: number('least fitting height of the design, mm', 5, 50),
  corridor_mm: number('corridor length, mm', 5, 40),
  vertex_mm: eyes('vertex distance as worn, mm', 3, 40),
  vertex_assumed_mm: eyes('vertex distance that the order assumed, mm', 3, 40),
  tilt_deg: eyes('pantoscopic tilt as worn, degrees', -30, 45),
  tilt_assumed_deg: eyes('pantoscopic tilt that the order assumed, degrees', -30, 45),
  wrap_deg: eyes('frame wrap (face form), degrees', -20, 45),
  wrap_compensated: yesNo('the lab compensated the powers for the wrap'),
  prism_h_imbalance_pd: number('unordered horizontal imbalance, prism dioptres', -20, 20),
  prism_v_imbalance_pd: number('unordered vertical imbalance, prism dioptres', -20, 20),
  prism_both_base_up_pd: eyes('equal base up (+) or down (-) prism on both sides, prism dioptres', -10, 10),
  base_curve_D: eyes('base curve, dioptres', -5, 20),
  prev_base_curve_D: eyes('base curve of the previous pair, dioptres', -5, 20),
  abbe: number('V number of the material', 15, 100),
  antireflection: yesOrWords('anti-reflection coating present'),
  prev_antireflection: yesOrWords('anti-reflection coating on the previous pair'),
  marks_tilt_deg: eyes('engraving line off level, degrees', -90, 90),
  slips: yesOrWords('the frame slides down'),
  pads_adjustable: yesNo('the frame has adjustable nose pads'),
  temples: text('tight or loose'),
  height_cm: number('height of the wearer, cm', 50, 250),
  screen_cm: number('distance to the screen, cm', 10, 1000),
  screen_hours: number('hours a day at a screen', 0, 24),
  screen_above_eye_level: yesNo('the screen stands above eye level'),
  better_when_frame_tilted: yesNo('sight gets better when the frame is tilted'),
  pinhole_helps: yesNo('a pinhole makes it clearer'),
  old_pair_also: yesNo('the same trouble with the previous pair on'),
  cheek_contact: yesOrWords('the rims touch the cheeks'),
  brow_contact: yesOrWords('the rims touch the brows'),
  light_reactive: yesOrWords('light-reactive lenses'),
  material: text('lens material'),
  temp_C: number('temperature where it happened, Celsius', -60, 58),
  behind_windscreen: yesOrWords('it happens behind a windscreen'),
  darkens_outside: yesNo('the lenses darken outside'),
  one_lens_replaced: yesOrWords('one lens alone was replaced'),
  lens_age_months: eyes('age of the lenses, months', 0, 400),
  by_window: yesOrWords('it happens by a window'),
  fell_before: yesOrWords('has had a fall before'),
  diabetes: yesOrWords('has diabetes'),
  heat_or_solvent: yesOrWords('the lenses met heat or a strong cleaner'),
  made_pd_mm: eyes('PD of the finished pair, mm', 10, 90),
  wearer_pd_mm: eyes("the wearer's PD, mm", 10, 90),
  centre_height_error_mm: eyes('optical centre above (+) or below (-) where it was ordered, mm', -30, 30),
  order_height_same_as_made: yesNo('the fitting height was made as ordered'),
  measured: text('how the heights were taken: seated, standing, by photograph'),
  prev_segment_width_mm: number('width of the reading part of the previous pair, mm', 0, 80),
  reading_level_mm_below_centre: number('reading level below the distance centre, mm', 0, 40),
  faded_transmittance_pct: eyes('light passed when faded, per cent', 5, 100),
  known: text('condition on record'),
  motion_sick: yesOrWords('easily motion-sick'),
  dominant_eye: text('R or L'),
  brow_line_level: yesNo('the brow line sits level'),
  temple_spread: text('which temple is spread'),
  heights_look: text('how the two heights look'),
  pressure_at: text('where it presses'),
  sore: text('where it is sore'),
  sat_on: yesOrWords('the frame was sat or stepped on, or knocked'),
  fell_off: yesOrWords('the frame falls off'),
  haze_seen: yesOrWords('haze is seen on the lens'),
  film_on_lens: yesOrWords('a film lies on the lens'),
  clears_after_cleaning: yesNo('cleaning cures it'),
  dirty_lower_edge: yesOrWords('the lower edge gets dirty'),
  option_ordered: text('option that was ordered'),
  option_found: text('option that was found'),
  coating: text('coating'),
  side: text('which side'),
  zone: text('which zone: distance, intermediate, near'),
  light: text('in which light'),
  where: text('where it happens'),
  says: text("the wearer's own words"),
  onset: text('sudden, gradual or with new glasses only'),
  when: text('when it happens'),
  blur_when: text('when it is blurred'),
  chin_down_helps: yesNo('dropping the chin makes far clear'),
  head_turn: yesOrWords('the head must be turned to see clearly'),
  print_must_come: choice('print gets clear nearer or farther', ['nearer', 'farther', 'neither']),
  reading_cm_wanted: number('distance at which the wearer wants to read, cm', 5, 200),
  distance_clear: yesNo('far is clear'),
  one_eye_only_persists: yesNo('it stays with the other eye shut'),
  varies_by_day: yesNo('it is better on some days than on others'),
  old_pair_complaint: yesOrWords('complained of the previous pair too'),
  vision_complaint: yesOrWords('there is a complaint about sight'),
  in_open_sun: yesNo('in open sun when it happened'),
  even_both_lenses: yesNo('the same in both lenses'),
  clear_after_min: number('minutes until the lenses are clear', 0, 2000),
  // Numbers that were measured at a distance, by the wearer or on a photograph.
  pupil_height_mm: eyes('pupil above the lowest point of the lens as worn, mm', 5, 50),
  cross_above_pupil_error_mm: number('usual error of the heights of the crosses, mm', 0, 10),
  wearer_pd_error_mm: number("usual error of the wearer's PD, mm", 0, 10),
  // Answers that only the follow-up questions set: plain words of our own, one fact for each question.
  push_up_helps: yesNo('pushing the glasses up the nose makes it right'),
  chin_up_needed: yesNo('the chin must come up to read'),
  only_when_moving: yesNo('only while the head moves'),
  cover_one_eye_cures: yesNo('it goes when one eye is covered'),
  clear_when_still: yesNo('clear straight ahead when sitting still'),
  whole_time_wear: yesNo('worn all day, the previous pair put away'),
  uneven_sides: yesNo('more on one side than the other'),
  edges_slope: choice('straight edges slope, bend at the sides, or neither', ['slope', 'bend', 'neither']),
  shown_how: yesNo('was shown how to use the zones'),
  came_so: yesNo('it was so on arrival'),
  darkens_within: choice('how long they take to darken', ['seconds', 'minute', 'many minutes']),
  came_from_cold: yesNo('had been out in the cold'),
  was_hot: yesNo('it was a hot day'),
  snug: yesNo('snug at the sides and still sliding'),
  only_at_edges: yesNo('only toward the edges of the lens'),
} satisfies Readonly<Record<string, FactKey>>;
export type JobFactKey = keyof typeof FACT_KEYS;

const yes = new Set(['yes', 'true', 'y']);
const no = new Set(['no', 'false', 'n', 'none', 'never', 'not']);

const numeric = (key: FactKey) =>
  z
    .union([
      z.number(),
      z
        .string()
        .regex(/^\s*[+-]?\d+(\.\d+)?\s*$/)
        .transform(Number),
    ])
    .pipe(
      z
        .number()
        .min(key.from ?? -1e6)
        .max(key.to ?? 1e6),
    );

const powerPart = z.union([
  z.number(),
  z
    .string()
    .regex(/^\s*[+-]?\d+(\.\d+)?\s*$/)
    .transform(Number),
]);
const dioptres = powerPart.pipe(z.number().min(-40).max(40));
const cylinder = powerPart.pipe(z.number().min(-20).max(20));
const axis = powerPart.pipe(z.number().min(0).max(180));
const powerValue = z
  .union([
    z.tuple([dioptres, cylinder.nullable(), axis.nullable()]),
    z.tuple([dioptres, cylinder.nullable()]).transform(([s, c]) => [s, c, null] as const),
    z.tuple([dioptres]).transform(([s]) => [s, 0, 0] as const),
    dioptres.transform((s) => [s, 0, 0] as const),
    z
      .object({ sphere: dioptres, cylinder: cylinder.nullish(), axis: axis.nullish() })
      .transform(({ sphere, cylinder: c, axis: a }) => [sphere, c ?? 0, a ?? null] as const),
  ])
  .refine(([, c, a]) => a !== null || !c, 'a cylinder has an axis')
  .transform(([s, c, a]) => [s, c ?? 0, a ?? 0] as FactPower);

const fieldSchema = (key: FactKey): z.ZodType => {
  switch (key.kind) {
    case 'number':
      return numeric(key).describe(key.words);
    case 'eyes':
      return z
        .union([
          numeric(key).transform((both) => ({ R: both, L: both })),
          z.object({ R: numeric(key).nullish(), L: numeric(key).nullish() }).strict(),
        ])
        .describe(key.words);
    case 'power':
      return powerValue.describe(`${key.words}: [sphere D, cylinder D, axis]`);
    case 'yes-no':
      return z
        .union([z.boolean(), z.string().transform((word, ctx) => readYesNo(word, ctx))])
        .describe(key.words);
    case 'yes-or-words':
      return z
        .union([
          z.boolean(),
          z
            .string()
            .trim()
            .min(1)
            .transform((word) => !no.has(/^\p{L}+/u.exec(word.toLowerCase())?.[0] ?? '')),
        ])
        .describe(key.words);
    case 'choice':
      return z.enum((key.choices ?? []) as [string, ...string[]]).describe(key.words);
    case 'words':
      return z
        .union([
          z.string().max(4000),
          z.array(z.string().max(400)).transform((all) => all.join(', ')),
          z.boolean().transform((b) => (b ? 'yes' : 'no')),
          z.number().transform(String),
        ])
        .describe(key.words);
  }
};

const readYesNo = (word: string, ctx: z.RefinementCtx): boolean => {
  // "no, not at all" is a no: the first word answers.
  const first = /^\p{L}+/u.exec(word.trim().toLowerCase())?.[0] ?? '';
  if (yes.has(first)) return true;
  if (no.has(first)) return false;
  ctx.addIssue({ code: 'custom', message: 'yes or no' });
  return z.NEVER;
};

const FIELDS: ReadonlyMap<string, z.ZodType> = new Map(
  Object.entries(FACT_KEYS).map(([name, key]) => [name, fieldSchema(key)]),
);

/** The whole job as one schema, for printing as JSON Schema; keys beyond these are told by name, not refused. */
export const jobSchema = z.looseObject(
  Object.fromEntries([...FIELDS].map(([name, schema]) => [name, schema.nullish()])),
);

/**
 * Reads the facts of a job. A key that is not known and a value that cannot be are each told by name and left out; the
 * rest goes on. `null` is the same as left out: unknown.
 */
export const readJobFacts = (
  job: Readonly<Record<string, unknown>>,
): { readonly facts: JobFacts; readonly problems: readonly Problem[] } => {
  const facts: Record<string, FactValue> = {};
  const problems: Problem[] = [];
  for (const [name, value] of Object.entries(job)) {
    if (value === null || value === undefined) continue;
    const schema = FIELDS.get(name);
    if (!schema) {
      problems.push(unknownKey(name));
      continue;
    }
    const read = schema.safeParse(value);
    if (read.success) facts[name] = withoutEmptyEyes(read.data as FactValue);
    else problems.push(badValue(name, value));
  }
  return { facts: facts as JobFacts, problems };
};

const withoutEmptyEyes = (value: FactValue): FactValue => {
  if (typeof value !== 'object' || Array.isArray(value)) return value;
  const both = value as { R?: number | null; L?: number | null };
  return {
    ...(both.R === null || both.R === undefined ? {} : { R: both.R }),
    ...(both.L === null || both.L === undefined ? {} : { L: both.L }),
  };
};

const unknownKey = (name: string): Problem => ({
  code: 'unknown-fact',
  what: `"${name}" is not a fact that is known here; it was left out`,
  where: `job.${name}`,
  mend: 'Use one of the known keys (see --schema), or leave it out.',
});

const badValue = (name: string, value: unknown): Problem => {
  const key: FactKey = FACT_KEYS[name as JobFactKey];
  return {
    code: 'bad-fact',
    what: `${name} is ${JSON.stringify(value)}, which it cannot be; it was left out`,
    where: `job.${name}`,
    mend: `${key.words}: ${allowed(key)}.`,
  };
};

const allowed = (key: FactKey): string => {
  switch (key.kind) {
    case 'number':
      return `a number from ${key.from} to ${key.to}`;
    case 'eyes':
      return `a number, or {"R": number, "L": number}, from ${key.from} to ${key.to}`;
    case 'power':
      return '[sphere, cylinder, axis], sphere within 40 D, axis 0 to 180';
    case 'yes-no':
    case 'yes-or-words':
      return 'true or false';
    case 'choice':
      return (key.choices ?? []).join(', ');
    case 'words':
      return 'words';
  }
};
