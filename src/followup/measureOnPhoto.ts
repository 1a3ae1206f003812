import { pictureSize } from '../channels/pictureSize.ts';
import { withoutLocation } from '../channels/pictures.ts';
import type { PhotoMeasures, PhotoNumber } from '../optics/photoMeasure.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import {
  addPhotoMeasure,
  findFacePicture,
  newestPhotoMeasure,
  notePhotoSigned,
  putFacePicture,
  sentPicturesOf,
} from '../store/facePictures.ts';
import { findJob } from '../store/jobs.ts';
import { licensedOn } from '../store/papers.ts';
import { pictureBytes } from '../store/pictures.ts';
import { findShop } from '../store/shops.ts';
import { noSuchJob } from './handOver.ts';
import { type KeptMeasures, type MeasuredNumbers, putMeasures } from './keepMeasures.ts';
import { readPhotoMarks, type TypedMarks } from './photoMarks.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

/** A photograph to measure on: handed in by staff, or one that the wearer sent. */
export type PhotoSource = { readonly bytes: Uint8Array } | { readonly sentPictureId: string };

/** Keeps a photograph beside its job, without what a camera writes beside it. */
export async function takePhoto(
  shell: Shell,
  shopId: string,
  jobId: string,
  source: PhotoSource,
  by: string,
): Promise<Checked<{ pictureId: string }>> {
  const { db } = shell;
  const now = shell.clock.now();
  const job = await findJob(db, shopId, jobId);
  if (!job) return bad(noSuchJob);
  const sent = 'sentPictureId' in source;
  if (sent) {
    const theirs = await sentPicturesOf(db, shopId, job.wearer_id);
    if (!theirs.some((one) => one.picture_id === source.sentPictureId)) return bad(NO_PICTURE);
  }
  const bytes = sent ? (await pictureBytes(db, shopId, source.sentPictureId))?.bytes : source.bytes;
  const picture = bytes && bytes.length > 0 ? withoutLocation(bytes) : undefined;
  const size = picture && pictureSize(picture.contentType, picture.bytes);
  if (!picture || !size) return bad(bytes && bytes.length > 0 ? NOT_READ : NO_PICTURE);
  return db.transaction().execute(async (trx) => {
    const kept = { jobId, ...picture, ...size, came: sent ? ('wearer' as const) : ('staff' as const), by };
    const pictureId = await putFacePicture(trx, shopId, kept, now);
    const detail = { pictureId };
    await addAudit(trx, shopId, { by, act: 'photograph to measure on', subject: jobId, detail }, now);
    return good({ pictureId });
  });
}

/** Keeps what was marked on a photograph and the numbers that follow: an estimate, until it is signed. */
export async function keepMarks(
  shell: Shell,
  shopId: string,
  jobId: string,
  pictureId: string,
  typed: TypedMarks,
  by: string,
): Promise<Checked<{ measureId: string }>> {
  const read = readPhotoMarks(typed);
  if (!read.ok) return read;
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const picture = await findFacePicture(trx, shopId, jobId, pictureId);
    if (!picture) return bad(noSuchJob);
    const { fields: marks, numbers } = read.value;
    const measureId = await addPhotoMeasure(trx, shopId, { pictureId, jobId, marks, numbers, by }, now);
    return good({ measureId });
  });
}

/**
 * A licensed person signs the newest estimate: what can be said becomes facts of the job, with the photograph as their source and
 * the plus-minus beside them. What cannot be said is not kept as a number.
 */
export async function signMarks(
  shell: Shell,
  shopId: string,
  jobId: string,
  pictureId: string,
  seenMeasureId: string,
  personId: string,
): Promise<Checked<KeptMeasures>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findFacePicture(trx, shopId, jobId, pictureId))) return bad(noSuchJob);
    const measure = await newestPhotoMeasure(trx, shopId, pictureId);
    if (!measure || measure.measure_id !== seenMeasureId) return bad(CHANGED);
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const signer = (await licensedOn(trx, shopId, today)).find((one) => one.person_id === personId);
    if (!signer) return bad(NOT_LICENSED);
    const told = sayable(measure.numbers as PhotoMeasures);
    if (!told.pupilHeightMm && !told.monoPdMm) return bad(NOTHING_TO_SAY);
    const signed = { by: signer.name, licence: signer.licence_number };
    if (!(await notePhotoSigned(trx, shopId, measure.measure_id, signed, now))) return bad(SIGNED_BEFORE);
    const how = `photograph of ${measure.at.toISOString().slice(0, 10)}, ${howNear(measure.numbers as PhotoMeasures)}, signed by ${signer.name}`;
    return good(await putMeasures(trx, shopId, jobId, told, { from: 'photo', how, by: signer.name }, now));
  });
}

function sayable({ heightMm, monoPdMm }: PhotoMeasures): MeasuredNumbers {
  const both = ({ R, L }: Readonly<Record<'R' | 'L', PhotoNumber>>) =>
    R.canSay && L.canSay ? { R: tenth(R.mm), L: tenth(L.mm) } : undefined;
  const [pupilHeightMm, mono] = [both(heightMm), both(monoPdMm)];
  return { ...(pupilHeightMm ? { pupilHeightMm } : {}), ...(mono ? { monoPdMm: mono } : {}) };
}

const tenth = (mm: number): number => Math.round(mm * 10) / 10;

function howNear({ heightMm, monoPdMm }: PhotoMeasures): string {
  const part = (words: string, { R, L }: Readonly<Record<'R' | 'L', PhotoNumber>>) =>
    R.canSay && L.canSay ? [`${words} ±${Math.max(R.plusMinusMm, L.plusMinusMm).toFixed(1)} mm`] : [];
  return [...part('heights', heightMm), ...part('PD', monoPdMm)].join(', ');
}

const problem = (code: string, where: string, what: string, mend: string): Problem => ({
  code,
  what,
  where,
  mend,
});
const NO_PICTURE = problem('no-picture', 'picture', 'There is no picture.', 'Choose a photograph first.');
const NOT_READ = problem(
  'picture-kind',
  'picture',
  'This picture cannot be read.',
  'Choose a JPEG, PNG or WebP of at most 8 MB; a telephone can save it as JPEG.',
);
const CHANGED = problem(
  'marks-changed',
  'person_id',
  'The marks were changed meanwhile. Nothing was signed.',
  'Look at the numbers as they are now, then sign.',
);
const NOT_LICENSED = problem(
  'not-licensed',
  'person_id',
  'This person is not marked as licensed today.',
  'Choose somebody of the list, or mend the licence on the page People.',
);
const NOTHING_TO_SAY = problem(
  'cannot-say',
  'person_id',
  'Nothing can be said from this picture within 1.5 mm.',
  'Mark both ears, see to the stance, or take another picture.',
);
const SIGNED_BEFORE = problem(
  'signed',
  'person_id',
  'This was signed before.',
  'Its numbers stand on the job.',
);
