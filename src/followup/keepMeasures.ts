import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, factsOf, findJob, type NewFact } from '../store/jobs.ts';
import { noSuchJob } from './handOver.ts';
import { gather } from './jobFactsOf.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';
import { type MeasuredFrom, USUAL_ERROR_MM } from './usualErrors.ts';

type EachEye = { readonly R: string; readonly L: string };

/** What was measured away from the shop, as it was written: a comma or a point, with or without "mm". */
export type Measured =
  /** Dots on tape before the pupils, and a ruler from the dot straight down to the lowest point of the lens. */
  | { readonly how: 'tape'; readonly pupilHeightMm: EachEye }
  /** A straight-on photograph, measured by us in any unit of length; the height of the lens is its scale. */
  | {
      readonly how: 'photo';
      /** The height of the lens (box measure B) as it is, mm. */
      readonly lensHeightMm: string;
      readonly lensHeightInPicture: string;
      readonly pupilHeightInPicture: EachEye;
      /** From the middle of the bridge to each pupil; empty where it was not measured. */
      readonly bridgeToPupilInPicture: EachEye;
      /** From the camera to the glasses, cm; empty where it is not known, then no PD is taken. */
      readonly cameraCm: string;
    };

export type KeptMeasures = {
  /** How high each cross sits above (+) or below (-) the pupil; absent where it could not be, or need not be, worked out. */
  readonly crossAbovePupilMm?: Eyes;
  readonly why: 'worked out' | 'no fitting height' | 'measured at the bench already' | 'no height told';
};

/**
 * Takes what was measured at a distance as facts of the job, with where they are from and the usual error of that way. From the
 * pupil height and the fitting height on record it works out where each cross sits, unless somebody measured that on the face:
 * the better number stands. An open case is weighed again.
 */
export async function keepMeasures(
  shell: Shell,
  shopId: string,
  jobId: string,
  measured: Measured,
  by: string,
): Promise<Checked<KeptMeasures>> {
  const read = readMeasured(measured);
  if (!read.ok) return read;
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findJob(trx, shopId, jobId))) return bad(noSuchJob);
    const from: MeasuredFrom = measured.how === 'tape' ? 'wearer' : 'photo';
    return good(await putMeasures(trx, shopId, jobId, read.value, { from, how: HOW[from], by }, now));
  });
}

/** Numbers measured at a distance: pupil heights, PDs, or both. */
export type MeasuredNumbers = { readonly pupilHeightMm?: Eyes; readonly monoPdMm?: Eyes };

/** Puts measured numbers on record as facts, with what follows from them, and weighs an open case again. */
export async function putMeasures(
  trx: Trx,
  shopId: string,
  jobId: string,
  { pupilHeightMm, monoPdMm }: MeasuredNumbers,
  { from, how, by }: { readonly from: MeasuredFrom; readonly how: string; readonly by: string },
  now: Date,
): Promise<KeptMeasures> {
  const cross = pupilHeightMm && (await crossAbovePupil(trx, shopId, jobId, pupilHeightMm));
  const told = { jobId, by, from };
  const facts: NewFact[] = [
    ...(pupilHeightMm ? eachEye('pupil_height_mm', pupilHeightMm, how, told) : []),
    ...(cross && 'mm' in cross
      ? eachEye('cross_above_pupil_mm', cross.mm, `fitting height less pupil height; ${how}`, told)
      : []),
    ...(monoPdMm ? eachEye('wearer_pd_mm', monoPdMm, how, told) : []),
  ];
  await addFacts(trx, shopId, facts, now);
  await addAudit(trx, shopId, { by, act: 'measured at a distance', subject: jobId, detail: { from } }, now);
  await weighAgain(trx, shopId, jobId, facts, by, now);
  if (!cross) return { why: 'no height told' };
  return 'mm' in cross ? { crossAbovePupilMm: cross.mm, why: 'worked out' } : cross;
}

const HOW: Readonly<Record<MeasuredFrom, string>> = {
  wearer: `tape and ruler, usual error ${USUAL_ERROR_MM.wearer} mm`,
  photo: `straight-on photograph, usual error ${USUAL_ERROR_MM.photo} mm`,
};

type Eyes = { readonly R: number; readonly L: number };

const eachEye = (
  key: string,
  value: Eyes,
  how: string,
  { jobId, by, from }: { jobId: string; by: string; from: MeasuredFrom },
): NewFact[] =>
  (['R', 'L'] as const).map((eye) => ({
    jobId,
    key,
    eye,
    value: value[eye],
    unit: 'mm',
    how,
    by,
    source: from,
  }));

/** Where each cross sits before its pupil, mm, + above: fitting height - pupil height, both from the lowest point. */
async function crossAbovePupil(
  trx: Trx,
  shopId: string,
  jobId: string,
  pupilHeightMm: Eyes,
): Promise<{ mm: Eyes } | { why: 'no fitting height' | 'measured at the bench already' }> {
  const rows = await factsOf(trx, shopId, jobId);
  const known = rows.findLast((row) => row.key === 'cross_above_pupil_mm');
  if (known && !(known.source in USUAL_ERROR_MM)) return { why: 'measured at the bench already' };
  const held = gather(rows).fitting_height_mm;
  const of = (eye: 'R' | 'L') =>
    typeof held === 'number' ? held : (held as Partial<Eyes> | undefined)?.[eye];
  const [R, L] = [of('R'), of('L')];
  if (R === undefined || L === undefined) return { why: 'no fitting height' };
  return { mm: { R: tenth(R - pupilHeightMm.R), L: tenth(L - pupilHeightMm.L) } };
}

const tenth = (mm: number): number => Math.round(mm * 10) / 10;

async function weighAgain(
  trx: Trx,
  shopId: string,
  jobId: string,
  facts: readonly NewFact[],
  by: string,
  now: Date,
): Promise<void> {
  const pair = await trx
    .selectFrom('pair')
    .select('pair_id')
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .executeTakeFirst();
  const file = pair && (await openCaseOf(trx, shopId, pair.pair_id));
  if (!file) return;
  for (const { key, eye, value, how } of facts)
    await addCaseEvent(trx, shopId, file.case_id, 'fact', { key, eye, value, how }, by, now);
  await rankCase(trx, shopId, file, now);
}

type Read = { readonly pupilHeightMm: Eyes; readonly monoPdMm?: Eyes };

function readMeasured(measured: Measured): Checked<Read> {
  return measured.how === 'tape' ? readTape(measured) : readPhoto(measured);
}

/** No lens puts the pupil nearer than this to its lowest point, nor farther; wide on purpose (common practice). */
const PUPIL_HEIGHT_MM = [8, 45] as const;
const MONO_PD_MM = [20, 45] as const;

function readTape({ pupilHeightMm }: Extract<Measured, { how: 'tape' }>): Checked<Read> {
  return pair(
    'right_mm',
    'left_mm',
    pupilHeightMm,
    PUPIL_HEIGHT_MM,
    'from the dot to the lowest point, in mm',
    1,
  );
}

function readPhoto(photo: Extract<Measured, { how: 'photo' }>): Checked<Read> {
  const lensMm = number('lens_height_mm', photo.lensHeightMm, [15, 70], 'height of the lens in mm');
  if (!lensMm.ok) return lensMm;
  const inPicture = number(
    'lens_height_in_picture',
    photo.lensHeightInPicture,
    [1, 10_000],
    'height of the lens in the picture',
  );
  if (!inPicture.ok) return inPicture;
  const scale = lensMm.value / inPicture.value;
  const heights = pair(
    'pupil_right_in_picture',
    'pupil_left_in_picture',
    photo.pupilHeightInPicture,
    PUPIL_HEIGHT_MM,
    'from the lowest point of the lens up to the pupil, in the same unit as the height of the lens in the picture',
    scale,
  );
  if (!heights.ok) return heights;
  const { R, L } = photo.bridgeToPupilInPicture;
  if (R === '' && L === '') return heights;
  const camera = number('camera_cm', photo.cameraCm, [40, 600], 'how far the camera was, in cm');
  if (!camera.ok) return camera;
  const pds = pair(
    'bridge_right_in_picture',
    'bridge_left_in_picture',
    photo.bridgeToPupilInPicture,
    MONO_PD_MM,
    'from the middle of the bridge to the pupil, in the same unit',
    scale * farOfNear(camera.value * 10),
  );
  return pds.ok ? good({ ...heights.value, monoPdMm: pds.value.pupilHeightMm }) : pds;
}

/**
 * The eyes turn in to the camera: what lies between the pupils on the plane of the lens is PD x d / (d + s), with d from camera to
 * lens and s = 27 mm from lens to the centre of rotation of the eye. This is its reverse, (d + s) / d. Source: as the near
 * PD of a plano lens, sci.med.vision thread with worked numbers (R. Martellaro).
 */
const LENS_TO_CENTRE_OF_ROTATION_MM = 27;
const farOfNear = (cameraMm: number): number => (cameraMm + LENS_TO_CENTRE_OF_ROTATION_MM) / cameraMm;

function pair(
  rightField: string,
  leftField: string,
  { R, L }: EachEye,
  limits: readonly [number, number],
  what: string,
  scale: number,
): Checked<Read> {
  const inUnit = [limits[0] / scale, limits[1] / scale] as const;
  const right = number(rightField, R, inUnit, `right, ${what}`);
  const left = number(leftField, L, inUnit, `left, ${what}`);
  if (!right.ok) return left.ok ? right : bad(...right.problems, ...left.problems);
  if (!left.ok) return left;
  return good({ pupilHeightMm: { R: tenth(right.value * scale), L: tenth(left.value * scale) } });
}

function number(
  where: string,
  written: string,
  [from, to]: readonly [number, number],
  what: string,
): Checked<number> {
  const plain = written
    .trim()
    .replace(',', '.')
    .replace(/\s*mm$/i, '');
  const value = /^\d+(\.\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
  if (value >= from && value <= to) return good(value);
  const told: Problem = {
    code: 'measure-range',
    what: written.trim() === '' ? 'A number is missing.' : `“${written.trim()}” cannot be.`,
    where,
    mend: `Write a number from ${shown(from)} to ${shown(to)}: ${what}.`,
  };
  return bad(told);
}

const shown = (value: number): string => String(value >= 100 ? Math.round(value) : tenth(value));
