import type { Eye, SpheroCyl } from '../optics/spheroCyl.ts';
import type { EyeToCome, JobToCome } from '../optics/whatToExpect.ts';

type Facts = Readonly<Record<string, unknown>>;

/** A job's gathered facts as the optics read them to foretell trouble; without both powers nothing can be foretold. */
export function jobToCome(
  facts: Facts,
  known: { readonly firstMultifocal: boolean | null; readonly ageYears: number | undefined },
): JobToCome | undefined {
  const right = eyeToCome(facts, 'R');
  const left = eyeToCome(facts, 'L');
  if (!right || !left) return undefined;
  const number = (key: string) => (typeof facts[key] === 'number' ? (facts[key] as number) : undefined);
  return {
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

/** A number told of one eye, or of both together. */
export function ofEye(value: unknown, eye: Eye): number | undefined {
  const one = typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[eye] : value;
  return typeof one === 'number' ? one : undefined;
}

/** A power as it is kept, [sphere, cylinder, axis], as the optics read it. */
export function lensOf(value: unknown): SpheroCyl | undefined {
  if (!Array.isArray(value)) return undefined;
  const [sphereD, cylinderD, axisDeg] = value as number[];
  if (sphereD === undefined) return undefined;
  return { sphereD, cylinderD: cylinderD ?? 0, axisDeg: axisDeg || 180 };
}

const withNumbers = <Key extends string>(
  values: Readonly<Record<Key, number | undefined>>,
): { [K in Key]?: number } =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as {
    [K in Key]?: number;
  };
