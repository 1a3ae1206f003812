import type { PhotoLine, PhotoMarksView, PhotosView } from '../../../dashboard/photo/view.ts';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import type { TypedMarks } from '../../followup/photoMarks.ts';
import { localDay } from '../../followup/planSlots.ts';
import { USUAL_ERROR_MM } from '../../followup/usualErrors.ts';
import type { ErrorPart, PhotoDoubt, PhotoMeasures, PhotoNumber } from '../../optics/photoMeasure.ts';
import type { Problem } from '../../problems.ts';
import type { Db } from '../../store/database.ts';
import {
  facePicturesOf,
  findFacePicture,
  newestPhotoMeasure,
  type PhotoMeasure,
  sentPicturesOf,
} from '../../store/facePictures.ts';
import { factsOf } from '../../store/jobs.ts';
import { wholeJob } from '../../store/pages/deliveries.ts';
import type { Shop } from '../../store/shops.ts';
import { shortDay } from '../format.ts';
import { signersOf } from './papersView.ts';

/** The photographs of a job and those that its wearer sent. */
export async function loadPhotos(
  db: Db,
  shop: Shop,
  jobId: string,
  problems: readonly Problem[],
): Promise<PhotosView | undefined> {
  const shopId = shop.shop_id;
  const job = await wholeJob(db, shopId, jobId, ASKED_AT_HAND_OVER);
  if (!job) return undefined;
  const day = (at: Date) => shortDay(localDay(at, shop.time_zone));
  return {
    ...whereOf(job),
    pictures: (await facePicturesOf(db, shopId, jobId)).map((one) => ({
      href: one.state === 'kept' ? `/jobs/${jobId}/photo/${one.face_picture_id}` : null,
      src: one.state === 'kept' ? `/face-pictures/${one.face_picture_id}` : null,
      words: `${day(one.at)}, ${cameWords(one.came, one.by_name)}${one.state === 'kept' ? '' : '; the picture is removed, as promised'}`,
    })),
    sent: (await sentPicturesOf(db, shopId, job.wearer_id)).map((one) => ({
      pictureId: one.picture_id,
      src: `/pictures/${one.picture_id}`,
      words: `picture of ${day(one.at)}`,
    })),
    troubles: troublesOf(problems),
  };
}

type Whole = NonNullable<Awaited<ReturnType<typeof wholeJob>>>;

const whereOf = (job: Whole) => ({
  jobId: job.job_id,
  jobNumber: job.job_key,
  jobHref: `/jobs/${job.job_id}`,
  wearer: job.wearer,
  caseHref: job.case_id ? `/cases/${job.case_id}` : null,
});

const cameWords = (came: string, by: string): string =>
  came === 'wearer' ? 'sent by the wearer' : `handed in by ${by}`;

const troublesOf = (problems: readonly Problem[]) =>
  problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` }));

/** One photograph with its marks, and the newest numbers from them beside the ordered ones. */
export async function loadPhotoMarks(
  db: Db,
  shop: Shop,
  jobId: string,
  pictureId: string,
  now: Date,
  asked: {
    readonly quarter: string | undefined;
    readonly typed: TypedMarks | undefined;
    readonly problems: readonly Problem[];
  },
): Promise<PhotoMarksView | undefined> {
  const shopId = shop.shop_id;
  const job = await wholeJob(db, shopId, jobId, ASKED_AT_HAND_OVER);
  const picture = job && (await findFacePicture(db, shopId, jobId, pictureId));
  if (!job || !picture || picture.state === 'removed') return undefined;
  const measure = await newestPhotoMeasure(db, shopId, pictureId);
  const known = gather(
    (await factsOf(db, shopId, jobId)).filter(({ source }) => !(source in USUAL_ERROR_MM)),
  );
  const kept = asked.typed ?? (measure?.marks as TypedMarks | undefined) ?? {};
  const quarter = quarterOf(asked.quarter ?? kept.quarter);
  const turned = quarter % 180 !== 0;
  const [width, height] = turned
    ? [picture.height_dots, picture.width_dots]
    : [picture.width_dots, picture.height_dots];
  const sameWay = quarter === quarterOf(kept.quarter);
  return {
    ...whereOf(job),
    pictureId,
    src: `/face-pictures/${pictureId}`,
    came: `Photograph of ${shortDay(localDay(picture.at, shop.time_zone))}, ${cameWords(picture.came, picture.by_name)}`,
    width,
    height,
    fileWidth: picture.width_dots,
    fileHeight: picture.height_dots,
    quarter,
    values: {
      ...startOf(width, height, known),
      ...Object.fromEntries(Object.entries(sameWay ? kept : {}).filter(([, value]) => value !== '')),
    },
    troubles: troublesOf(asked.problems),
    result: measure && sameWay ? resultOf(measure, known, shop) : null,
    signers: await signersOf(db, shop, now),
  };
}

const quarterOf = (text: string | undefined): number => {
  const quarter = Number(text ?? 0);
  return [0, 90, 180, 270].includes(quarter) ? quarter : 0;
};

/** Where the marks begin: a face in the middle of the picture. The sizes of the frame come from the job. */
function startOf(
  width: number,
  height: number,
  known: Readonly<Record<string, unknown>>,
): Record<string, string> {
  const number = (key: string, or: number) => (typeof known[key] === 'number' ? (known[key] as number) : or);
  const [a, b, dbl] = [number('frame_a_mm', 52), number('frame_b_mm', 34), number('dbl_mm', 18)];
  const perMm = (width * 0.42) / (2 * a + dbl);
  const [middleX, middleY] = [width / 2, height * 0.46];
  const size = (key: string) => (typeof known[key] === 'number' ? String(known[key]) : '');
  const eye = (name: 'r' | 'l', side: -1 | 1) => ({
    [`${name}_outer_x`]: middleX + side * (dbl / 2 + a) * perMm,
    [`${name}_inner_x`]: middleX + (side * dbl * perMm) / 2,
    [`${name}_top_y`]: middleY - (b / 2) * perMm,
    [`${name}_bottom_y`]: middleY + (b / 2) * perMm,
    [`${name}_pupil_x`]: middleX + side * (dbl / 2 + a / 2) * perMm,
    [`${name}_pupil_y`]: middleY - 2 * perMm,
  });
  return {
    ...Object.fromEntries(
      Object.entries({ ...eye('r', -1), ...eye('l', 1) }).map(([name, at]) => [name, String(Math.round(at))]),
    ),
    a_mm: size('frame_a_mm'),
    b_mm: size('frame_b_mm'),
    dbl_mm: size('dbl_mm'),
  };
}

function resultOf(
  measure: PhotoMeasure,
  known: Readonly<Record<string, unknown>>,
  shop: Shop,
): NonNullable<PhotoMarksView['result']> {
  const numbers = measure.numbers as PhotoMeasures;
  const ordered = (key: string, eye: 'R' | 'L'): number | undefined => {
    const held = known[key];
    return typeof held === 'number' ? undefined : (held as { R?: number; L?: number } | undefined)?.[eye];
  };
  const [pdR, pdL] = [ordered('wearer_pd_mm', 'R'), ordered('wearer_pd_mm', 'L')];
  const whole = known.wearer_pd_mm;
  const both =
    typeof whole === 'number' ? whole : pdR !== undefined && pdL !== undefined ? pdR + pdL : undefined;
  const height = (eye: 'R' | 'L') =>
    ordered('fitting_height_mm', eye) ??
    (typeof known.fitting_height_mm === 'number' ? known.fitting_height_mm : undefined);
  const [hR, hL] = [height('R'), height('L')];
  const { monoPdMm, pdMm, heightMm, heightDifferenceMm } = numbers;
  const nears = [monoPdMm.R, monoPdMm.L].every((one) => one.canSay);
  const heights = [heightMm.R, heightMm.L].every((one) => one.canSay);
  return {
    measureId: measure.measure_id,
    by: measure.by_name,
    lines: [
      line('PD, right', monoPdMm.R, pdR),
      line('PD, left', monoPdMm.L, pdL),
      line('PD, both', pdMm, both),
      line('Pupil height, right', heightMm.R, hR),
      line('Pupil height, left', heightMm.L, hL),
      line(
        'Right height less left',
        heightDifferenceMm,
        hR === undefined || hL === undefined ? undefined : hR - hL,
      ),
    ],
    doubts: [
      ...numbers.doubts.map((doubt) => DOUBTS[doubt]),
      ...(numbers.turnDeg !== undefined &&
      !numbers.doubts.includes('turned') &&
      Math.abs(numbers.turnDeg) >= 1
        ? [
            `By the ears the head was turned by about ${Math.abs(numbers.turnDeg).toFixed(0)}° to the wearer’s ${numbers.turnDeg > 0 ? 'left' : 'right'}; that is taken out.`,
          ]
        : []),
    ],
    signed:
      measure.signed_at && measure.signed_by
        ? `Signed by ${measure.signed_by}, licence ${measure.licence_number}, ${shortDay(localDay(measure.signed_at, shop.time_zone))}. What can be said stands on the job.`
        : null,
    canSign: nears || heights,
  };
}

const DOUBTS: Readonly<Record<PhotoDoubt, string>> = {
  'too near':
    'The camera was nearer than 80 cm: the eyes turn in much and edges bend. Ask for a picture from one metre or more.',
  coarse:
    'The picture is coarse: fewer than six dots to a millimetre. Nearer is not better; a camera with more dots, or only the face in the picture, is.',
  'edges disagree':
    'The edges do not fit the sizes of the frame. Look at the marks again, and at A, B and DBL.',
  turned: 'The head was turned much. Better take another picture.',
};

const PARTS: Readonly<Record<ErrorPart, string>> = {
  distance: 'distance',
  'depth of the eye': 'depth of the eye',
  'head turn': 'turn of the head',
  'head tilt': 'nod of the head',
  marks: 'marks',
  'frame sizes': 'sizes of the frame',
  'lens of the camera': 'lens of the camera',
};

function line(name: string, number: PhotoNumber, ordered: number | undefined): PhotoLine {
  const off = ordered === undefined ? 0 : number.mm - ordered;
  return {
    name,
    found: number.canSay ? `${number.mm.toFixed(1)} mm` : null,
    // Rounded up: what is just over the limit must not read as the limit.
    plusMinus: `± ${(Math.ceil(number.plusMinusMm * 10) / 10).toFixed(1)} mm`,
    ordered: ordered === undefined ? '' : `${ordered.toFixed(1)} mm`,
    against: ordered === undefined || !number.canSay ? '' : comparedWords(off, number.plusMinusMm),
    from: number.from
      .slice(0, 4)
      .map(({ what, mm }) => `${PARTS[what]} ${mm.toFixed(1)}`)
      .join(', '),
  };
}

const comparedWords = (off: number, plusMinus: number): string =>
  Math.abs(off) <= plusMinus
    ? 'as ordered, as near as can be said'
    : `${Math.abs(off).toFixed(1)} mm ${off > 0 ? 'more' : 'less'} than ordered`;
