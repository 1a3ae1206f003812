import type { JobView } from '../../../dashboard/job/view.ts';
import type { Eye } from '../../optics/spheroCyl.ts';
import { type Expectation, type EyeToCome, type JobToCome, whatToExpect } from '../../optics/whatToExpect.ts';
import { lensOf, ofEye } from './benchCheckOf.ts';

type Facts = Readonly<Record<string, unknown>>;

/** What in this job foretells trouble, with its number, threshold and source. Without both powers nothing is foretold. */
export function expectationsOf(
  facts: Facts,
  known: { readonly firstMultifocal: boolean | null; readonly ageYears: number | undefined },
): JobView['expect'] {
  const right = eyeToCome(facts, 'R');
  const left = eyeToCome(facts, 'L');
  if (!right || !left) return [];
  const number = (key: string) => (typeof facts[key] === 'number' ? (facts[key] as number) : undefined);
  const job: JobToCome = {
    R: right,
    L: left,
    ...(known.firstMultifocal === null ? {} : { firstMultifocal: known.firstMultifocal }),
    ...withNumbers({
      ageYears: known.ageYears,
      minimumHeightMm: number('design_min_height_mm'),
      corridorMm: number('corridor_mm'),
      readingBelowCentreMm: number('reading_level_mm_below_centre'),
    }),
  };
  return whatToExpect(job).map(expectation);
}

function eyeToCome(facts: Facts, eye: Eye): EyeToCome | undefined {
  const lens = lensOf(facts[`order_${eye}`]) ?? lensOf(facts[`rx_${eye}`]);
  if (!lens) return undefined;
  const before = lensOf(facts[`prev_${eye}`]);
  return {
    lens,
    ...withNumbers({
      addD: ofEye(facts.order_add_D, eye) ?? ofEye(facts.add_D, eye),
      fittingHeightMm: ofEye(facts.fitting_height_mm, eye),
      vertexMm: ofEye(facts.vertex_mm, eye),
      baseCurveD: ofEye(facts.base_curve_D, eye),
    }),
    previous: {
      ...(before ? { lens: before } : {}),
      ...withNumbers({
        addD: ofEye(facts.prev_add_D, eye),
        baseCurveD: ofEye(facts.prev_base_curve_D, eye),
      }),
    },
  };
}

const withNumbers = <Key extends string>(
  values: Readonly<Record<Key, number | undefined>>,
): { [K in Key]?: number } =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as {
    [K in Key]?: number;
  };

function expectation(one: Expectation): JobView['expect'][number] {
  const eye = one.eye === 'both' ? '' : ` ${one.eye}`;
  const limit = `${one.when === 'below' ? 'under' : 'from'} ${figure(one.threshold, one.unit)}`;
  return {
    words: `${one.what.charAt(0).toUpperCase()}${one.what.slice(1)}${eye}. ${one.advice}`,
    number: `${figure(one.number, one.unit)} ${one.unit}, told ${limit}`,
    trace: {
      inputs: [
        {
          name: `${one.what}${eye}`,
          value: `${figure(one.number, one.unit)} ${one.unit}`,
          from: 'numbers of this job',
        },
      ],
      formula: `told ${one.when} ${figure(one.threshold, one.unit)} ${one.unit}`,
      source: one.source,
    },
  };
}

const figure = (value: number, unit: string): string =>
  unit === 'D' || unit === 'pd' ? value.toFixed(2) : String(Math.round(value * 10) / 10);
