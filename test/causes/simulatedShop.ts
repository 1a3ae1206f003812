import type { Label } from '../../src/replies/types.ts';
import {
  CAUSES_BY_LABEL,
  CAUSES_OF_1000,
  CHANCES,
  DAY_TOLD_MEAN,
  MEASURED,
  NOISE,
} from './simulatedShop.data.ts';

export type Wearer = {
  readonly causes: readonly string[];
  readonly labels: readonly Label[];
  /** What the shop knows now. */
  readonly job: Readonly<Record<string, unknown>>;
  /** What is so, for answering questions and looking again. */
  readonly whole: Readonly<Record<string, unknown>>;
};

/** A run of numbers that is the same for the same seed (mulberry32). */
export const randomFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** One wearer with trouble, drawn from the numbers of the simulated shop. */
export const drawWearer = (random: () => number): Wearer => {
  const first = pick(CAUSES_OF_1000, random);
  const second = random() < NOISE.twoCauses ? pick(CAUSES_OF_1000, random) : first;
  const causes = [...new Set([first, second])];
  const whole = wholeJob(causes, random);
  return { causes, labels: labelsFor(causes, random), job: partlyKnown(whole, random), whole };
};

const pick = (weights: Readonly<Record<string, number>>, random: () => number): string => {
  const entries = Object.entries(weights);
  let left = random() * entries.reduce((sum, [, weight]) => sum + weight, 0);
  for (const [id, weight] of entries) {
    left -= weight;
    if (left <= 0) return id;
  }
  return (entries.at(-1) as [string, number])[0];
};

const ALL_LABELS = Object.keys(CAUSES_BY_LABEL) as readonly Label[];

const labelsFor = (causes: readonly string[], random: () => number): readonly Label[] => {
  const said = causes.flatMap((cause) => {
    const weights = Object.fromEntries(
      ALL_LABELS.flatMap((label) => {
        const place = CAUSES_BY_LABEL[label]?.indexOf(cause) ?? -1;
        return place < 0 ? [] : [[label, 1 / (place + 1)]];
      }),
    );
    const one = pick(weights, random);
    return random() < NOISE.secondLabel ? [one, pick(weights, random)] : [one];
  });
  const heard = said.map((label) =>
    random() < NOISE.labelWrong ? (ALL_LABELS[Math.floor(random() * ALL_LABELS.length)] as string) : label,
  );
  return [...new Set(heard)] as Label[];
};

const bell = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const wholeJob = (causes: readonly string[], random: () => number): Record<string, unknown> => {
  const value = (key: keyof typeof MEASURED): number => {
    const { usual, under } = MEASURED[key] as {
      usual: readonly [number, number];
      under: Record<string, readonly [number, number]>;
    };
    const moved = causes.map((cause) => under[cause]).find((spread) => spread !== undefined);
    const [mean, spread] = moved ?? usual;
    return mean + spread * bell(random);
  };
  const chance = (key: keyof typeof CHANCES): boolean => {
    const { usual, under } = CHANCES[key] as { usual: number; under: Record<string, number> };
    const moved = causes.map((cause) => under[cause]).find((p) => p !== undefined);
    return random() < (moved ?? usual);
  };
  const quarter = (x: number): number => Math.round(x * 4) / 4;
  const hundredth = (x: number): number => Math.round(x * 100) / 100;
  const sign = (): number => (random() < 0.5 ? -1 : 1);

  const cylinder = -Math.abs(quarter(0.6 * bell(random))) - (causes.includes('cyl-or-axis-off') ? 0.5 : 0);
  const axis = 1 + Math.floor(random() * 180);
  const sphere = quarter(2.2 * bell(random));
  const differ = quarter(value('eyesDifferD'));
  const rx = { R: [sphere, cylinder, axis], L: [sphere + differ, cylinder, 181 - axis] } as const;
  const moved = quarter(value('changeMeanD'));
  const cylinderMoved = quarter(Math.max(0, value('changeCylinderD')));
  const before = (p: readonly [number, number, number]) => [
    p[0] - moved,
    Math.min(0, p[1] + cylinderMoved),
    p[2],
  ];
  const changed = causes.includes('cyl-change-not-adapted') ? Math.min(cylinder, -cylinderMoved) : cylinder;
  const rxNow = { R: [rx.R[0], changed, rx.R[2]] as const, L: [rx.L[0], changed, rx.L[2]] as const };
  const orderOff = quarter(value('orderErrorD'));
  const order = { R: [rxNow.R[0] + orderOff, rxNow.R[1], rxNow.R[2]], L: [...rxNow.L] };
  const read = {
    R: [hundredth((order.R[0] as number) + sign() * value('madeErrorD')), order.R[1], order.R[2]],
    L: [hundredth((order.L[0] as number) + 0.05 * bell(random)), order.L[1], order.L[2]],
  };
  const age = Math.round(56 + 8 * bell(random));
  const usualAdd = age < 50 ? 1.15 : age < 55 ? 1.6 : age < 60 ? 2.1 : 2.5;
  const height = value('crossHeightMm');
  const uneven = value('crossUnevenMm');
  const nasal = value('crossNasalMm') * sign();
  const vertex = value('vertexMm');
  const vertexUneven = value('vertexUnevenMm');
  const meanDay =
    causes.map((cause) => DAY_TOLD_MEAN[cause]).find((d) => d !== undefined) ?? DAY_TOLD_MEAN.usual;
  const corridor = value('corridorMm');
  const minimum = Math.round(corridor + 4);

  return {
    day: 1 + Math.floor(-meanDay * Math.log(1 - random())),
    age_y: age,
    add_D: quarter(usualAdd + value('addOverAgeMeanD')),
    rx_R: rxNow.R,
    rx_L: rxNow.L,
    prev_R: before(rxNow.R),
    prev_L: before(rxNow.L),
    order_R: order.R,
    order_L: order.L,
    read_R: read.R,
    read_L: read.L,
    cross_above_pupil_mm: { R: hundredth(height + uneven / 2), L: hundredth(height - uneven / 2) },
    cross_nasal_mm: { R: hundredth(nasal), L: hundredth(0.4 * bell(random)) },
    vertex_mm: { R: hundredth(vertex + vertexUneven), L: hundredth(vertex) },
    tilt_deg: hundredth(value('tiltDeg')),
    marks_tilt_deg: hundredth(Math.max(0, value('marksTiltDeg'))),
    design_min_height_mm: minimum,
    fitting_height_mm: hundredth(minimum + value('heightOverMinimumMm')),
    corridor_mm: hundredth(corridor),
    prism_h_imbalance_pd: hundredth(Math.abs(value('prismSidewaysPd'))),
    prism_v_imbalance_pd: hundredth(Math.abs(value('prismUpDownPd'))),
    base_curve_D: 6,
    prev_base_curve_D: hundredth(6 - value('baseCurveChangeD')),
    temp_C: Math.round(value('temperatureC')),
    lens_age_months: Math.max(0, Math.round(value('lensAgeMonths'))),
    screen_hours: Math.max(0, Math.round(value('screenHours'))),
    print_must_come: causes.includes('add-too-strong')
      ? 'nearer'
      : causes.includes('add-too-weak')
        ? 'farther'
        : 'neither',
    ...Object.fromEntries(
      (Object.keys(CHANCES) as (keyof typeof CHANCES)[]).map((key) => [key, chance(key)]),
    ),
  };
};

/** Facts go missing by 40 in 100; answers of the wearer are not known before they are asked for. */
const partlyKnown = (
  whole: Readonly<Record<string, unknown>>,
  random: () => number,
): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(whole).filter(
      ([key]) => key === 'day' || (!ANSWERS.has(key) && random() >= NOISE.factMissing),
    ),
  );

/** Known only when the wearer is asked. */
const ANSWERS: ReadonlySet<string> = new Set([
  'push_up_helps',
  'chin_down_helps',
  'chin_up_needed',
  'only_when_moving',
  'uneven_sides',
  'old_pair_also',
  'better_when_frame_tilted',
  'clears_after_cleaning',
  'darkens_outside',
  'in_open_sun',
  'by_window',
  'one_lens_replaced',
  'whole_time_wear',
  'shown_how',
  'cover_one_eye_cures',
  'snug',
  'print_must_come',
  'heat_or_solvent',
  'screen_hours',
  'pinhole_helps',
  'behind_windscreen',
]);
