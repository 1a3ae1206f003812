import { axisDifferenceDeg } from './angle.ts';
import { nearZoneLeft, READING_AREA_MM } from './corridor.ts';
import { differenceLens } from './differenceLens.ts';
import { powerAlongMeridianD } from './meridianPower.ts';
import { imbalanceFromPowersPd, SLAB_OFF_FROM_PD } from './readingImbalance.ts';
import { type Eye, minusCylinder, type SpheroCyl } from './spheroCyl.ts';

/** What is known at order or hand-over. What is left out is unknown and predicts nothing. */
export type JobToCome = {
  readonly R: EyeToCome;
  readonly L: EyeToCome;
  readonly firstMultifocal?: boolean;
  readonly ageYears?: number;
  readonly minimumHeightMm?: number;
  readonly corridorMm?: number;
  readonly readingBelowCentreMm?: number;
};

export type EyeToCome = {
  readonly lens: SpheroCyl;
  readonly addD?: number;
  readonly fittingHeightMm?: number;
  readonly vertexMm?: number;
  readonly baseCurveD?: number;
  readonly previous?: { readonly lens?: SpheroCyl; readonly addD?: number; readonly baseCurveD?: number };
};

export type Expectation = {
  readonly what:
    | 'add step'
    | 'high first add'
    | 'change of power'
    | 'anisometropia'
    | 'imbalance at reading level'
    | 'oblique cylinder'
    | 'height near the minimum'
    | 'little near zone'
    | 'base-curve step'
    | 'long vertex'
    | 'fall risk';
  readonly eye: Eye | 'both';
  readonly number: number;
  readonly unit: string;
  readonly threshold: number;
  /** Does trouble begin at or above the threshold, or below it? */
  readonly when: 'at or above' | 'below';
  readonly advice: string;
  readonly source: string;
};

const PRACTICE = 'common practice, no source';

/** Thresholds of this page, in the units that their names carry. Sources stand in each expectation. */
const EXPECT = {
  addStepD: 0.75,
  highFirstAddD: 2,
  powerChangeD: 1,
  powerChangeOlderD: 0.75,
  olderFromYears: 75,
  anisometropiaD: 2,
  obliqueCylinderD: 0.75,
  obliqueFromUprightDeg: 20,
  obliqueChangeD: 0.25,
  roomAboveMinimumMm: 1,
  baseCurveStepD: 2,
  longVertexMm: 15,
} as const;

/**
 * What in this job predicts trouble, each with its number, its threshold and its source: it shapes the advice at
 * hand-over and whom to ring. Dioptres, mm, years. A prediction is no fault: nothing here says that a pair is wrong.
 */
export const whatToExpect = (job: JobToCome): readonly Expectation[] => [
  ...ofOneEye(job, 'R'),
  ...ofOneEye(job, 'L'),
  ...ofThePair(job),
];

const ofOneEye = (job: JobToCome, eye: Eye): Expectation[] => {
  const found: (Expectation | null)[] = [
    addStep(job[eye], eye),
    highFirstAdd(job, eye),
    powerChange(job, eye),
    obliqueCylinder(job[eye], eye),
    heightNearMinimum(job, eye),
    littleNearZone(job, eye),
    baseCurveStep(job[eye], eye),
    longVertex(job[eye], eye),
  ];
  return found.filter((one) => one !== null);
};

const ofThePair = (job: JobToCome): Expectation[] => {
  const found = [anisometropia(job), readingImbalance(job), fallRisk(job)];
  return found.filter((one) => one !== null);
};

const from = (
  threshold: number,
  number: number,
  rest: Pick<Expectation, 'what' | 'eye' | 'unit' | 'advice' | 'source'>,
): Expectation | null =>
  number >= threshold - 1e-9 ? { ...rest, number: tidy(number), threshold, when: 'at or above' } : null;

const under = (
  threshold: number,
  number: number,
  rest: Pick<Expectation, 'what' | 'eye' | 'unit' | 'advice' | 'source'>,
): Expectation | null =>
  number < threshold - 1e-9 ? { ...rest, number: tidy(number), threshold, when: 'below' } : null;

const addStep = ({ addD, previous }: EyeToCome, eye: Eye): Expectation | null =>
  addD === undefined || previous?.addD === undefined
    ? null
    : from(EXPECT.addStepD, addD - previous.addD, {
        what: 'add step',
        eye,
        unit: 'D',
        advice: 'Print comes nearer and the sides swim more than in the old pair: say so.',
        source: PRACTICE,
      });

const highFirstAdd = (job: JobToCome, eye: Eye): Expectation | null => {
  const { addD } = job[eye];
  if (!job.firstMultifocal || addD === undefined) return null;
  return from(EXPECT.highFirstAddD, addD, {
    what: 'high first add',
    eye,
    unit: 'D',
    advice: 'A first multifocal with a strong add settles slowly: full-time wear, ring in the first week.',
    source: `threshold ${PRACTICE}; Meister 2008 lists strong adds among the slow`,
  });
};

const powerChange = (job: JobToCome, eye: Eye): Expectation | null => {
  const { lens, previous } = job[eye];
  if (!previous?.lens) return null;
  const older = job.ageYears !== undefined && job.ageYears >= EXPECT.olderFromYears;
  return from(
    older ? EXPECT.powerChangeOlderD : EXPECT.powerChangeD,
    differenceLens(lens, previous.lens).blurD,
    {
      what: 'change of power',
      eye,
      unit: 'D',
      advice: older
        ? 'A large change raises the risk of a fall at this age: ask the prescriber before it is made.'
        : 'Floors and edges may look wrong at first; put the old pair away.',
      source: older ? 'Elliott 2014' : PRACTICE,
    },
  );
};

const obliqueCylinder = ({ lens, previous }: EyeToCome, eye: Eye): Expectation | null => {
  const { cylinderD, axisDeg } = minusCylinder(lens);
  const upright = Math.min(axisDifferenceDeg(axisDeg, 180), axisDifferenceDeg(axisDeg, 90));
  if (upright < EXPECT.obliqueFromUprightDeg) return null;
  // A cylinder that was worn before, at this axis, is settled: only a new or changed one predicts trouble.
  const change = previous?.lens ? differenceLens(lens, previous.lens).lens.cylinderD : null;
  if (change !== null && Math.abs(change) < EXPECT.obliqueChangeD) return null;
  return from(EXPECT.obliqueCylinderD, Math.abs(cylinderD), {
    what: 'oblique cylinder',
    eye,
    unit: 'D',
    advice:
      'Slanting floors and door frames are usual for up to two weeks; check the axis first if they stay.',
    source: `Beesley, Davey and Elliott 2022: about twice the trouble; threshold ${PRACTICE}`,
  });
};

const heightNearMinimum = (job: JobToCome, eye: Eye): Expectation | null => {
  const { fittingHeightMm } = job[eye];
  if (fittingHeightMm === undefined || job.minimumHeightMm === undefined) return null;
  return under(EXPECT.roomAboveMinimumMm, fittingHeightMm - job.minimumHeightMm, {
    what: 'height near the minimum',
    eye,
    unit: 'mm above the minimum',
    advice:
      'A height within its own limit of 1 mm could already cut the near zone: deeper frame or shorter corridor.',
    source: 'limit of 1 mm on heights, ANSI Z80.1; the step from it is ours',
  });
};

const littleNearZone = (job: JobToCome, eye: Eye): Expectation | null => {
  const { fittingHeightMm } = job[eye];
  if (fittingHeightMm === undefined || job.corridorMm === undefined) return null;
  return under(READING_AREA_MM, nearZoneLeft(fittingHeightMm, job.corridorMm, null).nearZoneMm, {
    what: 'little near zone',
    eye,
    unit: 'mm of near zone',
    advice: 'Reading will be cramped at the rim: deeper frame or shorter corridor.',
    source: 'trade journal CE item, Nov 2015: 4 to 5 mm of reading area',
  });
};

const baseCurveStep = ({ baseCurveD, previous }: EyeToCome, eye: Eye): Expectation | null =>
  baseCurveD === undefined || previous?.baseCurveD === undefined
    ? null
    : from(EXPECT.baseCurveStepD, Math.abs(baseCurveD - previous.baseCurveD), {
        what: 'base-curve step',
        eye,
        unit: 'D',
        advice: 'May feel clear but not right for some days; keep the old curve where it mattered before.',
        source: PRACTICE,
      });

const longVertex = ({ vertexMm }: EyeToCome, eye: Eye): Expectation | null =>
  vertexMm === undefined
    ? null
    : from(EXPECT.longVertexMm, vertexMm, {
        what: 'long vertex',
        eye,
        unit: 'mm',
        advice: 'Every zone gets narrower with distance from the eye: bring the frame closer.',
        source: PRACTICE,
      });

const anisometropia = ({ R, L }: JobToCome): Expectation | null => {
  const along = (meridianDeg: number) =>
    Math.abs(powerAlongMeridianD(R.lens, meridianDeg) - powerAlongMeridianD(L.lens, meridianDeg));
  return from(EXPECT.anisometropiaD, Math.max(along(90), along(180)), {
    what: 'anisometropia',
    eye: 'both',
    unit: 'D',
    advice: 'Images differ in size and looking off centre pulls: face what is looked at; ask about doubling.',
    source: 'two trade texts: 2 D and more is worth a look',
  });
};

const readingImbalance = ({ R, L, readingBelowCentreMm = 10 }: JobToCome): Expectation | null => {
  const imbalancePd = imbalanceFromPowersPd(
    powerAlongMeridianD(R.lens, 90),
    powerAlongMeridianD(L.lens, 90),
    readingBelowCentreMm,
  );
  return from(SLAB_OFF_FROM_PD, imbalancePd, {
    what: 'imbalance at reading level',
    eye: 'both',
    unit: 'pd',
    advice:
      'Reading down may tire or double: talk of a slab-off or a separate reading pair with the prescriber.',
    source: 'continuing-education article and laboratory note: slab-off from 1.5 pd',
  });
};

const fallRisk = ({ ageYears, firstMultifocal }: JobToCome): Expectation | null =>
  !firstMultifocal || ageYears === undefined
    ? null
    : from(EXPECT.olderFromYears, ageYears, {
        what: 'fall risk',
        eye: 'both',
        unit: 'years',
        advice:
          'A first multifocal at this age is a fall risk: ask the prescriber, teach steps, keep a distance pair.',
        source: 'Elliott 2014',
      });

const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;
