import {
  type PrescribedLens,
  readVisionPrescription,
  type VisionPrescription,
  verticalDifferencePd,
} from '../../src/intake/fhir.ts';
import { frameGeometry, readLensOrder } from '../../src/intake/lensOrder.ts';
import { dondersD, hofstetter } from '../../src/optics/accommodation.ts';
import { addForDistanceD, addFromPowersD, usualAddForAge } from '../../src/optics/addNeeded.ts';
import { axisDifferenceDeg } from '../../src/optics/angle.ts';
import { decentrationInMm, framePdMm } from '../../src/optics/boxGeometry.ts';
import { lowerCentreByRuleMm, lowerCentreMm, tiltForCentreDropDeg } from '../../src/optics/centreForTilt.ts';
import { prismFromCentringError } from '../../src/optics/centringError.ts';
import {
  clearRangeCm,
  comfortableReadingCm,
  screenThroughAdd,
  testRoomVergenceD,
} from '../../src/optics/clearRange.ts';
import { colourFringePd, fringeFreeRadiusMm } from '../../src/optics/colourFringe.ts';
import {
  astigmatismGradientDPerMm,
  astigmatismOffAxisD,
  corridorWidthMm,
  longestCorridorMm,
  nearZoneLeft,
  powerDownCorridorD,
  powerGradientDPerMm,
} from '../../src/optics/corridor.ts';
import { combineLenses } from '../../src/optics/crossedCylinders.ts';
import { crossTooHighOrLow, depthForGazeMm, gazeDepressionDeg } from '../../src/optics/crossHeight.ts';
import { decentrationForPrismMm, prismFromDecentration } from '../../src/optics/decentration.ts';
import { axisErrorLeavingDeg, differenceLens } from '../../src/optics/differenceLens.ts';
import {
  baseCurveChangePercent,
  imageDifferencePercent,
  powerFactor,
  spectacleMagnification,
  vertexChangePercent,
} from '../../src/optics/imageSize.ts';
import { insetByRuleMm, insetMm, nearPdMm } from '../../src/optics/inset.ts';
import { effectiveTiltDeg, martinLens, martinSphere } from '../../src/optics/lensTilt.ts';
import { isWithin, type LensKind, type Limit } from '../../src/optics/limit.ts';
import {
  ansiAddLimit,
  ansiAxisLimit,
  ansiBaseCurveLimit,
  ansiCylinderLimit,
  ansiHeightLimits,
  ansiHorizontalImbalanceLimit,
  ansiMarksTiltLimit,
  ansiPrismPointWithin,
  ansiSegmentSizeLimits,
  ansiSphereLimit,
  ansiThicknessLimit,
  ansiVerticalImbalanceLimit,
} from '../../src/optics/limitsAnsi.ts';
import { isoAxisRangeDeg } from '../../src/optics/limitsIso.ts';
import { cylinderShare, powerAlongMeridianD } from '../../src/optics/meridianPower.ts';
import { powerMatrix } from '../../src/optics/powerMatrix.ts';
import { blurStrengthD, lensOfVector, powerVector } from '../../src/optics/powerVector.ts';
import { type Prism, prismAtPoint, verticalPrismBand } from '../../src/optics/prismAtPoint.ts';
import { prismComponents, resultantPrism, splitPrism } from '../../src/optics/prismSum.ts';
import {
  imbalanceFromPowersPd,
  readingLevelImbalance,
  slabOffGuidance,
} from '../../src/optics/readingImbalance.ts';
import { segmentPrismUpPd } from '../../src/optics/segmentPrism.ts';
import { type Eye, type SpheroCyl, transpose } from '../../src/optics/spheroCyl.ts';
import {
  curveVariationFactor,
  type LensForm,
  nominalPowerD,
  sagitta,
  surfaceAtPoint,
  surfacePowerFromClockD,
  vogelBaseCurveD,
} from '../../src/optics/surfaces.ts';
import { drivingFitness, roadColour, tintCategory } from '../../src/optics/tintCategory.ts';
import { coldHalfLifeS, uvPassedPercent } from '../../src/optics/tintConditions.ts';
import {
  darkeningPercent,
  fadingPercent,
  partlyActivatedPercent,
  responseRatio,
  timeToFadeS,
} from '../../src/optics/tintKinetics.ts';
import {
  compensateForVertexD,
  compensateLensForVertex,
  effectivePowerD,
} from '../../src/optics/vertexCompensation.ts';
import { backVertexPowerD, frontVertexPowerD } from '../../src/optics/vertexPowers.ts';

/** One row's `given` and what comes out of it, by key. */
export type Given = Readonly<Record<string, unknown>>;
type Found = Readonly<Record<string, unknown>>;
type Adapter = (given: Given) => Found;

const num = (given: Given, key: string): number => {
  const value = given[key];
  if (typeof value !== 'number') throw new Error(`the row has no number "${key}"`);
  return value;
};
const numOr = (given: Given, key: string, otherwise: number): number =>
  given[key] === undefined ? otherwise : num(given, key);
const part = (given: Given, key: string): Given => {
  const value = given[key];
  if (typeof value !== 'object' || value === null) throw new Error(`the row has no "${key}"`);
  return value as Given;
};
const list = (given: Given, key: string): readonly unknown[] => {
  const value = given[key];
  return Array.isArray(value) ? value : [value];
};

const lensOf = (given: Given): SpheroCyl => ({
  sphereD: num(given, 'sphere_D'),
  cylinderD: numOr(given, 'cylinder_D', 0),
  axisDeg: numOr(given, 'axis_deg', 180),
});
const lensOut = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): Found => ({
  sphere_D: sphereD,
  cylinder_D: cylinderD,
  axis_deg: axisDeg,
});
const eyeOf = (given: Given): Eye => (String(given.eye).toUpperCase().startsWith('L') ? 'L' : 'R');
const prismOf = (given: Given): Prism => ({
  upPd: numOr(given, 'prism_up_pd', 0) - numOr(given, 'prism_down_pd', 0),
  inPd: numOr(given, 'prism_in_pd', 0) - numOr(given, 'prism_out_pd', 0),
});
const kindOf = (given: Given): LensKind => given.design as LensKind;

/** A row may hold a list where others hold one number: the answer is then a list of the same length, key by key. */
const oneByOne =
  (adapter: Adapter): Adapter =>
  (given) => {
    const lists = Object.entries(given).filter(([, value]) => Array.isArray(value)) as [string, unknown[]][];
    if (lists.length === 0) return adapter(given);
    const rows = (lists[0]?.[1] ?? []).map((_, at) =>
      adapter({ ...given, ...Object.fromEntries(lists.map(([key, values]) => [key, values[at]])) }),
    );
    const keys = Object.keys(rows[0] ?? {});
    return Object.fromEntries(keys.map((key) => [key, rows.map((row) => row[key])]));
  };

const sphereLimit: Adapter = (given) => {
  const ordered = num(given, 'ordered_sphere_meridian_D');
  const limit = ansiSphereLimit(ordered, kindOf(given));
  return {
    tolerance_D: limit.limit,
    low_D: ordered - limit.limit,
    high_D: ordered + limit.limit,
    within: isWithin(num(given, 'measured_D') - ordered, limit),
  };
};

const cylinderLimit: Adapter = (given) => {
  const ordered = num(given, 'ordered_cylinder_D');
  const limit = ansiCylinderLimit(ordered, kindOf(given));
  if (given.measured_cylinder_D === undefined) return { tolerance_D: limit.limit };
  return { tolerance_D: limit.limit, within: isWithin(num(given, 'measured_cylinder_D') - ordered, limit) };
};

const limitOut = (limit: Limit): Found =>
  limit.unit === 'mm' ? { limit_mm: limit.limit } : { limit_pd: limit.limit };

const martinSphereFrom =
  (about: 'tilt' | 'wrap'): Adapter =>
  (given) => {
    const index = given.index_used === undefined ? num(given, 'index') : num(given, 'index_used');
    const angle = num(given, about === 'tilt' ? 'pantoscopic_tilt_deg' : 'face_form_deg');
    return lensOut(martinSphere(num(given, 'sphere_D'), angle, index, about));
  };

const martinLensFrom: Adapter = (given) =>
  lensOut(
    martinLens(lensOf(given), {
      eye: 'R',
      tiltDeg: numOr(given, 'pantoscopic_tilt_deg', 0),
      wrapDeg: numOr(given, 'face_form_deg', 0),
      index: num(given, 'index'),
    }),
  );

const segmentPrism: Adapter = (given) => ({
  segment_prism_up_pd: segmentPrismUpPd(
    {
      addD: num(given, 'add_D'),
      dropMm: num(given, 'segment_drop_mm'),
      centreBelowTopMm: num(given, 'segment_oc_below_top_mm'),
    },
    num(given, 'reading_below_distance_oc_mm'),
  ),
});

const imageLens = (given: Given, vertexMm: number) => ({
  frontSurfaceD: num(given, 'front_surface_D'),
  centreThicknessMm: num(given, 'center_thickness_mm'),
  index: num(given, 'index'),
  backVertexPowerD: num(given, 'back_vertex_power_D'),
  vertexMm,
});

const vertexMove = (given: Given): Found => {
  const powerD = num(given, 'power_D');
  const toOrderD = compensateForVertexD(powerD, num(given, 'moved_closer_mm'));
  return { power_to_order_D: toOrderD, change_D: toOrderD - powerD };
};

const BASES: Readonly<Record<string, Prism>> = {
  up: { upPd: 1, inPd: 0 },
  down: { upPd: -1, inPd: 0 },
  in: { upPd: 0, inPd: 1 },
  out: { upPd: 0, inPd: -1 },
};

/** A part of a prism may be written by components, by size and base angle, or by size and base word. */
const prismPart = (eye: Eye, given: Given): Prism => {
  const size = numOr(given, 'prism_pd', numOr(given, 'amount', 0));
  if (typeof given.base_deg === 'number') {
    return prismComponents(eye, { prismPd: size, baseDeg: given.base_deg });
  }
  const base = typeof given.base === 'string' ? BASES[given.base] : undefined;
  return base ? { upPd: size * base.upPd, inPd: size * base.inPd } : prismOf(given);
};

const resultant: Adapter = (given) => {
  const eye = eyeOf(given);
  const parts =
    given.parts === undefined
      ? [prismOf(given)]
      : list(given, 'parts').map((one) => prismPart(eye, one as Given));
  const { prismPd, baseDeg } = resultantPrism(eye, parts);
  return { prism_pd: prismPd, base_deg: baseDeg };
};

const lensForm = (words: string): LensForm => {
  const plain = words.toLowerCase().replaceAll(/[^a-z]/g, '');
  if (plain.includes('meniscus')) return 'meniscus';
  if (plain.startsWith('plano')) return plain.includes('concave') ? 'plano-concave' : 'plano-convex';
  return plain.includes('concave') ? 'biconcave' : 'biconvex';
};

const radius = (given: Given, key: string): number | null =>
  typeof given[key] === 'number' ? num(given, key) : null;

const sorted = (values: readonly number[]): readonly number[] => [...values].sort((a, b) => a - b);

/** The suffix by which a check row names one power of several: plus4, plano, minus6. */
const powerName = (powerD: number): string =>
  powerD === 0 ? 'plano' : `${powerD > 0 ? 'plus' : 'minus'}${Math.abs(powerD)}`;

const readingImbalance: Adapter = (given) => {
  if (given.right === undefined) {
    return {
      imbalance_pd: imbalanceFromPowersPd(
        num(given, 'right_power_90_D'),
        num(given, 'left_power_90_D'),
        num(given, 'reading_below_oc_mm'),
      ),
    };
  }
  const { R, L, verticalPd } = readingLevelImbalance(
    lensOf(part(given, 'right')),
    lensOf(part(given, 'left')),
    num(given, 'gaze_below_oc_mm'),
    numOr(given, 'gaze_nasal_of_oc_mm', 0),
  );
  return {
    right_prism_up_pd: R.upPd,
    left_prism_up_pd: L.upPd,
    vertical_difference_right_minus_left_pd: verticalPd,
  };
};

const forPrescribedPrism: Adapter = (given) => {
  const lens = lensOf(given);
  if (given.prism_up_pd !== undefined) {
    return { oc_moved_up_mm: decentrationForPrismMm(lens, 90, num(given, 'prism_up_pd')) };
  }
  const inMm = decentrationForPrismMm(lens, 180, prismOf(given).inPd);
  return { oc_moved_out_mm: inMm === null ? null : -inMm };
};

const verticalMounted: Adapter = (given) => {
  const power = (side: string) =>
    numOr(given, `${side}_power_90_D`, numOr(given, `${side}_sphere_D`, Number.NaN));
  const limit = ansiVerticalImbalanceLimit(power('right'), power('left'));
  const error =
    limit.unit === 'mm'
      ? num(given, 'prp_height_right_mm') - num(given, 'prp_height_left_mm')
      : num(given, 'vertical_prism_imbalance_pd');
  return { ...limitOut(limit), within: isWithin(error, limit) };
};

const horizontalMounted: Adapter = (given) => {
  const limit = ansiHorizontalImbalanceLimit(num(given, 'power_180_D'), 'single vision');
  const error =
    limit.unit === 'mm'
      ? num(given, 'measured_centre_distance_mm') - num(given, 'ordered_pd_mm')
      : num(given, 'horizontal_prism_imbalance_pd');
  return { ...limitOut(limit), within: isWithin(error, limit) };
};

const axisLimit: Adapter = (given) => {
  const limit = ansiAxisLimit(num(given, 'ordered_cylinder_D'));
  const tolerance = { tolerance_deg: limit?.limit ?? null };
  if (given.measured_axis_deg === undefined) return tolerance;
  const errorDeg = axisDifferenceDeg(num(given, 'measured_axis_deg'), num(given, 'ordered_axis_deg'));
  return { ...tolerance, error_deg: errorDeg, within: limit === null || isWithin(errorDeg, limit) };
};

const meridian: Adapter = (given) => {
  if (given.angle_from_axis_deg === undefined) {
    return oneByOne((row) => ({ power_D: powerAlongMeridianD(lensOf(row), num(row, 'meridian_deg')) }))(
      given,
    );
  }
  return Object.fromEntries(
    (list(given, 'angle_from_axis_deg') as number[]).map((angle) => [
      `cylinder_share_${angle}_percent`,
      100 * cylinderShare(angle),
    ]),
  );
};

const inset: Adapter = (given) => {
  const at = (powerD: number) =>
    insetMm(
      num(given, 'mono_pd_mm'),
      num(given, 'working_distance_mm'),
      powerD,
      num(given, 'stop_distance_mm'),
    );
  const powers = list(given, 'power_180_D') as number[];
  if (!Array.isArray(given.power_180_D)) return { inset_mm: at(powers[0] as number) };
  return Object.fromEntries(powers.map((powerD) => [`inset_${powerName(powerD)}_mm`, at(powerD)]));
};

const fringeRadius: Adapter = (given) => {
  const at = (abbe: number) => fringeFreeRadiusMm(num(given, 'power_D'), abbe, num(given, 'threshold_pd'));
  if (!Array.isArray(given.abbe)) return { radius_mm: at(num(given, 'abbe')) };
  return Object.fromEntries((given.abbe as number[]).map((abbe) => [`radius_abbe${abbe}_mm`, at(abbe)]));
};

const gazeDepth: Adapter = (given) =>
  Object.fromEntries(
    (list(given, 'lens_to_rotation_centre_mm') as number[]).map((s) => [
      `depth_s${s}_mm`,
      depthForGazeMm(num(given, 'gaze_depression_deg'), s),
    ]),
  );

const heat: Adapter = (given) =>
  Object.fromEntries(
    Object.entries(given).flatMap(([key, value]) => {
      const degreesC = /_(\d+)C_percent$/.exec(key)?.[1];
      return degreesC === undefined ? [] : [[`category_${degreesC}C`, tintCategory(value as number)]];
    }),
  );

const compensatedReference: Adapter = (given) => {
  const reference = num(given, 'lab_as_worn_sphere_D');
  const prescribed = num(given, 'prescribed_sphere_D');
  const measured = num(given, 'measured_sphere_D');
  const inside = (wanted: number) => isWithin(measured - wanted, ansiSphereLimit(wanted, kindOf(given)));
  return { reference_D: reference, within: inside(reference), within_if_prescribed_used: inside(prescribed) };
};

/** What the reader says of one eye, by the keys of the checks; what it leaves out is `undefined`. */
const prescribed = (side: 'right' | 'left', lens: PrescribedLens | undefined): Found => ({
  [`${side}_sphere_D`]: lens?.sphereD,
  [`${side}_cylinder_D`]: lens?.cylinderD,
  [`${side}_axis_deg`]: lens?.axisDeg,
  [`${side}_add_D`]: lens?.addD,
  [`${side}_power_D`]: lens?.powerD,
  [`${side}_back_curve_mm`]: lens?.backCurveMm,
  [`${side}_diameter_mm`]: lens?.diameterMm,
  [`${side}_prism_pd`]: lens?.prism[0]?.amountPd,
  [`${side}_base`]: lens?.prism[0]?.base,
});

const prescription: Adapter = (given) => {
  const read = readVisionPrescription(given.resource);
  if (!read.ok) return { accept_for_spectacles: false };
  const value: VisionPrescription = read.value;
  return {
    accept_for_spectacles: value.spectacles.ok,
    ...prescribed('right', value.right),
    ...prescribed('left', value.left),
    vertical_difference_right_minus_left_pd: verticalDifferencePd(value),
  };
};

const lensOrder: Adapter = (given) => {
  const read = readLensOrder(String(given.text));
  if (!read.ok) throw new Error(read.problems.map(({ where, what }) => `${where}: ${what}`).join('; '));
  const { right, left, bridgeMm } = read.value;
  const geometry = frameGeometry(read.value);
  return {
    ...prescribed('right', { ...right, prism: [] }),
    ...prescribed('left', { ...left, prism: [] }),
    bridge_mm: bridgeMm,
    frame_pd_mm: geometry.framePdMm,
    decentration_in_right_mm: geometry.decentrationInMm.R,
    decentration_in_left_mm: geometry.decentrationInMm.L,
    fitting_height_above_midline_mm: geometry.heightAboveMidlineMm.R,
    fitting_height_above_midline_left_mm: geometry.heightAboveMidlineMm.L,
  };
};

/** One adapter for every topic of the optics checks; each calls the product's own functions. */
export const OPTICS_ADAPTERS: Readonly<Record<string, Adapter>> = {
  'ANSI add': oneByOne((given) => {
    const ordered = num(given, 'ordered_add_D');
    const limit = ansiAddLimit(ordered);
    return { tolerance_D: limit.limit, within: isWithin(num(given, 'measured_add_D') - ordered, limit) };
  }),
  'ANSI axis': oneByOne(axisLimit),
  'ANSI base curve and centre thickness': (given) => {
    const base = ansiBaseCurveLimit();
    const thickness = ansiThicknessLimit();
    return {
      base_limit_D: base.limit,
      base_within: isWithin(num(given, 'measured_base_curve_D') - num(given, 'ordered_base_curve_D'), base),
      thickness_limit_mm: thickness.limit,
      thickness_within: isWithin(
        num(given, 'measured_center_thickness_mm') - num(given, 'ordered_center_thickness_mm'),
        thickness,
      ),
    };
  },
  'ANSI cylinder, progressive': oneByOne(cylinderLimit),
  'ANSI cylinder, single vision': oneByOne(cylinderLimit),
  'ANSI horizontal prism imbalance, mounted single vision': horizontalMounted,
  'ANSI prism at the reference point': (given) => ({
    within: ansiPrismPointWithin(num(given, 'prism_error_pd'), num(given, 'prp_error_mm')),
  }),
  'ANSI segment height': (given) => {
    const limits = ansiHeightLimits('multifocal');
    const right = num(given, 'measured_right_mm') - num(given, 'ordered_right_mm');
    const left = num(given, 'measured_left_mm') - num(given, 'ordered_left_mm');
    return {
      each_within: isWithin(right, limits.each) && isWithin(left, limits.each),
      pair_difference_mm: Math.abs(right - left),
      pair_within: isWithin(right - left, limits.pair),
    };
  },
  'ANSI segment size': (given) => {
    const limits = ansiSegmentSizeLimits();
    const right = num(given, 'right_width_mm') - num(given, 'ordered_width_mm');
    const left = num(given, 'left_width_mm') - num(given, 'ordered_width_mm');
    return {
      each_limit_mm: limits.each.limit,
      each_within: isWithin(right, limits.each) && isWithin(left, limits.each),
      pair_limit_mm: limits.pair.limit,
      pair_within: isWithin(right - left, limits.pair),
    };
  },
  'ANSI segment tilt': (given) => {
    const limit = ansiMarksTiltLimit('multifocal');
    return { limit_deg: limit.limit, within: isWithin(num(given, 'tilt_deg'), limit) };
  },
  'ANSI sphere, progressive': oneByOne(sphereLimit),
  'ANSI sphere, single vision': oneByOne(sphereLimit),
  'ANSI vertical prism imbalance, mounted': verticalMounted,
  "Donders' table": oneByOne((given) => ({ amplitude_D: dondersD(num(given, 'age_years')) })),
  'FHIR R4 example, glasses': prescription,
  'FHIR example, contacts': prescription,
  Hofstetter: oneByOne((given) => {
    const { minimumD, meanD, maximumD } = hofstetter(num(given, 'age_years'));
    return { minimum_D: minimumD, mean_D: meanD, maximum_D: maximumD };
  }),
  'Hofstetter minimum': oneByOne((given) => ({ minimum_D: hofstetter(num(given, 'age_years')).minimumD })),
  'ISO 21987 axis range': () => {
    const { smallestDeg, largestDeg } = isoAxisRangeDeg();
    return { smallest_axis_tolerance_deg: smallestDeg, largest_axis_tolerance_deg: largestDeg };
  },
  'UV-A behind glass': (given) => {
    const windscreen = uvPassedPercent(num(given, 'windscreen_block_percent'));
    const side = uvPassedPercent(num(given, 'side_block_percent'));
    return {
      windscreen_pass_percent: windscreen,
      side_pass_percent: side,
      side_over_windscreen: side / windscreen,
    };
  },
  'UV-A behind glass, range': (given) => {
    const passed = (key: string) => sorted((list(given, key) as number[]).map(uvPassedPercent));
    return {
      windscreen_pass_range_percent: passed('windscreen_block_range_percent'),
      side_pass_range_percent: passed('side_block_range_percent'),
    };
  },
  'add expected by age': oneByOne((given) => {
    const usual = usualAddForAge(num(given, 'age_years'));
    return { low_D: usual?.lowD ?? null, high_D: usual?.highD ?? null };
  }),
  'add from two powers': oneByOne((given) => ({
    add_D: addFromPowersD(num(given, 'distance_sphere_D'), num(given, 'near_sphere_D')),
  })),
  'add from working distance': oneByOne((given) => ({
    add_D: addForDistanceD(
      num(given, 'working_distance_cm'),
      num(given, 'amplitude_D'),
      num(given, 'share_used'),
    ),
  })),
  'astigmatism beside the corridor': oneByOne((given) => ({
    astigmatism_D: astigmatismOffAxisD(
      num(given, 'add_D'),
      num(given, 'corridor_length_mm'),
      num(given, 'off_axis_mm'),
    ),
  })),
  'axis error that leaves 0.12 D of cylinder': oneByOne((given) => ({
    axis_error_deg: axisErrorLeavingDeg(num(given, 'cylinder_D'), num(given, 'residual_cylinder_D')),
  })),
  'base curve change, same power': (given) => ({
    difference_percent: baseCurveChangePercent(
      num(given, 'old_front_surface_D'),
      num(given, 'new_front_surface_D'),
      num(given, 'center_thickness_mm'),
      num(given, 'index'),
    ),
  }),
  'cold slows fading': (given) => {
    const { lowS, highS } = coldHalfLifeS(
      num(given, 'warm_half_life_s'),
      num(given, 'slowing_low'),
      num(given, 'slowing_high'),
    );
    return { cold_half_life_low_s: lowS, cold_half_life_high_s: highS };
  },
  'colour condition for road use': (given) => {
    const { requiredPercent, within } = roadColour(
      num(given, 'luminous_transmittance_percent'),
      num(given, 'spectral_transmittance_min_475_650_percent'),
    );
    return { required_percent: requiredPercent, within };
  },
  'colour fringe at the reading point': (given) => {
    const { upPd } = prismAtPoint(lensOf(given), 'R', {
      aboveMm: -num(given, 'reading_below_oc_mm'),
      nasalMm: 0,
    });
    return { prism_pd: Math.abs(upPd), tca_pd: colourFringePd(upPd, num(given, 'abbe')) };
  },
  'corridor for a fitting height': oneByOne((given) => ({
    corridor_length_mm: longestCorridorMm(num(given, 'fitting_height_mm'), num(given, 'reading_area_mm')),
  })),
  'corridor gradients and width': oneByOne((given) => {
    const addD = num(given, 'add_D');
    const corridorMm = num(given, 'corridor_length_mm');
    return {
      power_gradient_D_per_mm: powerGradientDPerMm(addD, corridorMm),
      astigmatism_gradient_D_per_mm: astigmatismGradientDPerMm(addD, corridorMm),
      corridor_width_mm: corridorWidthMm(addD, corridorMm, num(given, 'astigmatism_limit_D')),
    };
  }),
  'corridor width (Minkwitz)': oneByOne((given) => ({
    corridor_width_mm: corridorWidthMm(
      num(given, 'add_D'),
      num(given, 'corridor_length_mm'),
      num(given, 'astigmatism_limit_D'),
    ),
  })),
  'curve variation factor': oneByOne((given) => ({
    curve_variation_factor: curveVariationFactor(num(given, 'index'), num(given, 'reference_index')),
  })),
  darkening: oneByOne((given) => ({
    transmittance_percent: darkeningPercent(
      num(given, 'clear_percent'),
      num(given, 'equilibrium_percent'),
      num(given, 'time_constant_s'),
      num(given, 'time_s'),
    ),
  })),
  'decentration for prescribed prism': forPrescribedPrism,
  'difference lens (measured minus ordered)': (given) =>
    lensOut(differenceLens(lensOf(part(given, 'measured')), lensOf(part(given, 'ordered'))).lens),
  'dioptric power matrix': (given) => {
    const { xxD, xyD, yyD } = powerMatrix(lensOf(given));
    return { F_xx_D: xxD, F_xy_D: xyD, F_yy_D: yyD };
  },
  'distance from centre to the 0.1 threshold': fringeRadius,
  'effective power at the eye when no compensation was made': oneByOne((given) => {
    const powerD = num(given, 'power_D');
    const effectiveD = effectivePowerD(
      powerD,
      num(given, 'refracted_vertex_mm'),
      num(given, 'worn_vertex_mm'),
    );
    return { effective_D: effectiveD, change_D: effectiveD - powerD };
  }),
  'effective tilt from two angles': (given) => ({
    effective_tilt_deg: effectiveTiltDeg(num(given, 'pantoscopic_tilt_deg'), num(given, 'face_form_deg')),
  }),
  'eye depression to the near point': oneByOne((given) => ({
    gaze_depression_deg: gazeDepressionDeg(
      num(given, 'near_point_below_fitting_cross_mm'),
      num(given, 'lens_to_rotation_centre_mm'),
    ),
  })),
  fading: oneByOne((given) => ({
    transmittance_percent: fadingPercent(
      num(given, 'clear_percent'),
      num(given, 'dark_percent'),
      num(given, 'half_life_s'),
      num(given, 'time_s'),
    ),
  })),
  'filter category': oneByOne((given) => ({
    category: tintCategory(num(given, 'luminous_transmittance_percent')),
  })),
  'fitting cross too high or low': (given) => {
    const effect = crossTooHighOrLow(
      num(given, 'ordered_fitting_height_mm'),
      num(given, 'pupil_height_worn_mm'),
      num(given, 'corridor_length_mm'),
      num(given, 'add_D'),
    );
    return {
      cross_above_pupil_mm: effect.crossAbovePupilMm,
      add_in_distance_gaze_D: effect.addInDistanceGazeD,
    };
  },
  'front and back vertex power': (given) => {
    const lens = {
      frontSurfaceD: num(given, 'front_surface_D'),
      backSurfaceD: num(given, 'back_surface_D'),
      centreThicknessMm: num(given, 'center_thickness_mm'),
      index: num(given, 'index'),
    };
    return { back_vertex_power_D: backVertexPowerD(lens), front_vertex_power_D: frontVertexPowerD(lens) };
  },
  'horizontal decentration from box sizes': (given) => {
    const frameMm =
      given.frame_pd_mm === undefined
        ? framePdMm({ aMm: num(given, 'lens_width_mm'), dblMm: num(given, 'bridge_mm') })
        : num(given, 'frame_pd_mm');
    return { decentration_in_per_eye_mm: decentrationInMm(frameMm, num(given, 'pd_mm')) };
  },
  'hot weather lightens the tint': heat,
  'image size difference between the eyes': (given) => {
    const vertexMm = num(given, 'vertex_mm');
    return {
      difference_percent: imageDifferencePercent(
        imageLens(part(given, 'right'), vertexMm),
        imageLens(part(given, 'left'), vertexMm),
        num(given, 'entrance_pupil_behind_cornea_mm'),
      ),
    };
  },
  'inset per eye': inset,
  'inset rule of thumb': oneByOne((given) => ({
    inset_per_eye_mm: insetByRuleMm(num(given, 'working_distance_cm')),
  })),
  'iso-vertical-prism band': (given) => {
    const { halfWidthMm, inclinationDeg } = verticalPrismBand(lensOf(given), num(given, 'prism_limit_pd'));
    return { half_width_mm: halfWidthMm, inclination_deg: inclinationDeg };
  },
  'lens clock reading to surface power': oneByOne((given) => ({
    surface_power_D: surfacePowerFromClockD(
      num(given, 'reading_D'),
      num(given, 'material_index'),
      num(given, 'clock_index'),
    ),
  })),
  'lens-order records, right;left values': lensOrder,
  'linear power law': oneByOne((given) => ({
    power_D: powerDownCorridorD(
      num(given, 'distance_power_D'),
      num(given, 'add_D'),
      num(given, 'progression_mm'),
      num(given, 'below_start_mm'),
    ),
  })),
  'longer corridor widens': (given) => {
    const width = (key: string) =>
      corridorWidthMm(num(given, 'add_D'), num(given, key), num(given, 'astigmatism_limit_D'));
    const oldMm = width('old_corridor_length_mm');
    const newMm = width('new_corridor_length_mm');
    return { old_width_mm: oldMm, new_width_mm: newMm, ratio: newMm / oldMm };
  },
  'near PD': oneByOne((given) => ({
    near_pd_mm: nearPdMm(
      num(given, 'distance_pd_mm'),
      num(given, 'working_distance_mm'),
      num(given, 'power_180_D'),
      num(given, 'stop_distance_mm'),
    ),
  })),
  'near zone left below the corridor': oneByOne((given) => {
    const { nearZoneMm, shortfallMm } = nearZoneLeft(
      num(given, 'fitting_height_mm'),
      num(given, 'corridor_length_mm'),
      num(given, 'minimum_fitting_height_mm'),
    );
    return { near_zone_mm: nearZoneMm, shortfall_mm: shortfallMm };
  }),
  'nominal power from radii': (given) => ({
    nominal_power_D: nominalPowerD(
      lensForm(String(given.form)),
      radius(given, 'front_radius_m'),
      radius(given, 'back_radius_m'),
      num(given, 'index'),
    ),
  }),
  'obliquely crossed cylinders': (given) =>
    lensOut(combineLenses(list(given, 'lenses').map((one) => lensOf(one as Given)))),
  'optical centre lowering for tilt': oneByOne((given) => ({
    lower_oc_mm: lowerCentreByRuleMm(num(given, 'pantoscopic_tilt_deg')),
  })),
  'optical centre lowering from the centre of rotation': oneByOne((given) => ({
    lower_oc_mm: lowerCentreMm(num(given, 'pantoscopic_tilt_deg'), num(given, 'lens_to_rotation_centre_mm')),
  })),
  'over-strong add pulls reading close': oneByOne((given) => ({
    comfortable_cm: comfortableReadingCm(
      num(given, 'add_D'),
      num(given, 'amplitude_D'),
      num(given, 'share_used'),
    ),
  })),
  'pantoscopic tilt that suits a given optical centre drop': oneByOne((given) => ({
    pantoscopic_tilt_deg: tiltForCentreDropDeg(
      num(given, 'oc_below_pupil_mm'),
      num(given, 'lens_to_rotation_centre_mm'),
    ),
  })),
  'partial activation behind a side window': oneByOne((given) => ({
    transmittance_percent: partlyActivatedPercent(
      num(given, 'clear_percent'),
      num(given, 'outdoor_percent'),
      num(given, 'activation_share'),
    ),
  })),
  'photochromic response ratio': (given) => {
    const { ratio, isPhotochromic } = responseRatio(
      num(given, 'faded_percent'),
      num(given, 'darkened_percent'),
    );
    return { ratio, is_photochromic: isPhotochromic };
  },
  'power factor': oneByOne((given) => ({
    magnification_percent:
      (powerFactor(num(given, 'back_vertex_power_D'), num(given, 'distance_mm')) - 1) * 100,
  })),
  'power in a meridian': meridian,
  'power vector': (given) => {
    const vector = powerVector(lensOf(given));
    return {
      M_D: vector.meanD,
      J0_D: vector.j0D,
      J45_D: vector.j45D,
      blur_B_D: blurStrengthD(vector),
    };
  },
  'power vector to sphere, cylinder, axis': (given) =>
    lensOut(lensOfVector({ meanD: num(given, 'M_D'), j0D: num(given, 'J0_D'), j45D: num(given, 'J45_D') })),
  'prism from a PD error': (given) => {
    const side = (name: string) => ({
      lens: lensOf(part(given, name)),
      madePdMm: num(given, `made_mono_pd_${name}_mm`),
      wearerPdMm: num(given, `wearer_mono_pd_${name}_mm`),
    });
    const { R, L, horizontalInPd, verticalPd } = prismFromCentringError(side('right'), side('left'));
    return {
      right_prism_in_pd: R.inPd,
      left_prism_in_pd: L.inPd,
      total_prism_in_pd: horizontalInPd,
      vertical_difference_right_minus_left_pd: verticalPd,
    };
  },
  'prism from a full-width straight-top segment': segmentPrism,
  'prism from a round bifocal segment': segmentPrism,
  'prism from decentration': (given) => {
    const { upPd, inPd } = prismFromDecentration(
      lensOf(given),
      eyeOf(given),
      numOr(given, 'oc_moved_up_mm', 0),
      numOr(given, 'oc_moved_in_mm', 0),
    );
    return { prism_up_pd: upPd, prism_in_pd: inPd };
  },
  'prismatic effect at a point': (given) => {
    const { upPd, inPd } = prismAtPoint(lensOf(given), eyeOf(given), {
      aboveMm: num(given, 'gaze_above_oc_mm'),
      nasalMm: num(given, 'gaze_nasal_of_oc_mm'),
    });
    return { prism_up_pd: upPd, prism_in_pd: inPd };
  },
  'range of clear vision through an add': oneByOne((given) => {
    const { farCm, nearCm } = clearRangeCm(num(given, 'add_D'), num(given, 'amplitude_D'));
    return { far_cm: farCm, near_cm: nearCm };
  }),
  'reading depth for a gaze angle': gazeDepth,
  'recommended base curve (Vogel)': oneByOne((given) => ({
    base_curve_D: vogelBaseCurveD(num(given, 'spherical_equivalent_D')),
  })),
  'refraction lane': oneByOne((given) => ({ vergence_D: testRoomVergenceD(num(given, 'chart_m')) })),
  'resultant prism': resultant,
  'sagitta, approximate': oneByOne((given) => {
    const { radiusMm, sagMm } = sagitta(
      num(given, 'surface_power_D'),
      num(given, 'index'),
      num(given, 'diameter_mm'),
    );
    return { radius_mm: radiusMm, sag_mm: sagMm };
  }),
  'screen distance against the add': oneByOne((given) => {
    const { addWantedD, farCm, nearCm } = screenThroughAdd(
      num(given, 'add_D'),
      num(given, 'amplitude_D'),
      num(given, 'screen_cm'),
    );
    return { add_wanted_at_screen_D: addWantedD, far_cm: farCm, near_cm: nearCm };
  }),
  'slab-off guidance': (given) => {
    const { imbalancePd, slabOffEye, guide } = slabOffGuidance(
      lensOf(part(given, 'right')),
      lensOf(part(given, 'left')),
      num(given, 'reading_below_oc_mm'),
    );
    return { imbalance_pd: imbalancePd, slab_off_eye: slabOffEye, guide };
  },
  'spectacle magnification': (given) => {
    const found = spectacleMagnification(
      imageLens(given, num(given, 'vertex_mm')),
      num(given, 'entrance_pupil_behind_cornea_mm'),
    );
    return {
      shape_factor: found.shapeFactor,
      power_factor: found.powerFactor,
      magnification_percent: found.percent,
    };
  },
  'splitting prism': (given) => {
    const { R, L } = splitPrism(prismOf(part(given, 'right')), prismOf(part(given, 'left')));
    return {
      right_prism_up_pd: R.upPd,
      right_prism_in_pd: R.inPd,
      left_prism_up_pd: L.upPd,
      left_prism_in_pd: L.inPd,
    };
  },
  'suitable for driving': oneByOne((given) => {
    const { day, twilightOrNight } = drivingFitness(num(given, 'luminous_transmittance_percent'));
    return { day, twilight_or_night: twilightOrNight };
  }),
  'surface astigmatism at a point': (given) => {
    const { meanD, astigmatismD } = surfaceAtPoint(
      num(given, 'principal_power_1_D'),
      num(given, 'principal_power_2_D'),
    );
    return { mean_surface_power_D: meanD, surface_astigmatism_D: astigmatismD };
  },
  'tilted sphere (Martin)': martinSphereFrom('tilt'),
  'tilted sphero-cylinder, axis 180': martinLensFrom,
  'tilted sphero-cylinder, oblique axis': martinLensFrom,
  'time to fade to the night-driving limit': oneByOne((given) => ({
    time_s: timeToFadeS(
      num(given, 'clear_percent'),
      num(given, 'dark_percent'),
      num(given, 'half_life_s'),
      num(given, 'limit_percent'),
    ),
  })),
  'tolerance is applied to the compensated power': compensatedReference,
  transposition: (given) => lensOut(transpose(lensOf(given))),
  'transverse chromatic aberration': oneByOne((given) => ({
    tca_pd: colourFringePd(num(given, 'prism_pd'), num(given, 'abbe')),
  })),
  'vertex change alters image size': oneByOne((given) => ({
    difference_percent: vertexChangePercent(
      num(given, 'back_vertex_power_D'),
      num(given, 'old_vertex_mm'),
      num(given, 'new_vertex_mm'),
      num(given, 'entrance_pupil_behind_cornea_mm'),
    ),
  })),
  'vertex compensation': oneByOne(vertexMove),
  'vertex compensation, each principal meridian': (given) =>
    lensOut(
      compensateLensForVertex(lensOf(given), num(given, 'refracted_vertex_mm'), num(given, 'worn_vertex_mm')),
    ),
  'vertex effect that may be ignored': oneByOne(vertexMove),
  'vertical imbalance at reading level': readingImbalance,
  'wrapped sphere (Martin)': martinSphereFrom('wrap'),
  'wrapped sphero-cylinder, axis 90': martinLensFrom,
};
