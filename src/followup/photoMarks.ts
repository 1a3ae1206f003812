import { type MarkedPhoto, measurePhoto, type PhotoMeasures, type Spot } from '../optics/photoMeasure.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';

/** What is marked on a photograph, in the order in which it is asked: name of its field, and in words. */
export const PHOTO_MARKS = [
  ['r_outer_x', 'outer edge of the right lens'],
  ['r_inner_x', 'inner edge of the right lens'],
  ['r_top_y', 'top edge of the right lens'],
  ['r_bottom_y', 'lowest edge of the right lens'],
  ['r_pupil_x', 'right pupil, across'],
  ['r_pupil_y', 'right pupil, down'],
  ['l_outer_x', 'outer edge of the left lens'],
  ['l_inner_x', 'inner edge of the left lens'],
  ['l_top_y', 'top edge of the left lens'],
  ['l_bottom_y', 'lowest edge of the left lens'],
  ['l_pupil_x', 'left pupil, across'],
  ['l_pupil_y', 'left pupil, down'],
] as const;
export const EAR_MARKS = [
  ['r_ear_x', 'right ear'],
  ['l_ear_x', 'left ear'],
] as const;
export const PHOTO_SIZES = [
  ['a_mm', 'width of the lens (A)', 30, 75],
  ['b_mm', 'height of the lens (B)', 15, 70],
  ['dbl_mm', 'between the lenses (DBL)', 8, 32],
  ['camera_cm', 'from the camera to the frame', 40, 600],
] as const;

type Names = (typeof PHOTO_MARKS | typeof EAR_MARKS | typeof PHOTO_SIZES)[number][0];
/** As it was typed or dragged. The ears may be empty; `level_deg` turns the picture until the frame is level. */
export type TypedMarks = Readonly<
  Partial<Record<Names | 'level_deg' | 'quarter' | 'stood_as_usual', string>>
>;

export type ReadMarks = {
  readonly photo: MarkedPhoto;
  readonly numbers: PhotoMeasures;
  /** The fields as they are kept, to draw the marks again. */
  readonly fields: Readonly<Record<string, string>>;
};

/** Reads the marks on a photograph and works the numbers out; what cannot be is told by its field. */
export function readPhotoMarks(typed: TypedMarks): Checked<ReadMarks> {
  const problems: Problem[] = [];
  const number = (name: Names, words: string, from: number, to: number): number => {
    const written = (typed[name] ?? '').trim().replace(',', '.');
    const value = /^-?\d+(\.\d+)?$/.test(written) ? Number(written) : Number.NaN;
    if (value >= from && value <= to) return value;
    problems.push({
      code: 'mark',
      what: written === '' ? `Missing: ${words}.` : `“${written}” cannot be.`,
      where: name,
      mend: `Write a number from ${from} to ${to}.`,
    });
    return Number.NaN;
  };
  const marks = Object.fromEntries(
    PHOTO_MARKS.map(([name, words]) => [name, number(name, words, 0, 40_000)]),
  ) as Record<(typeof PHOTO_MARKS)[number][0], number>;
  const sizes = Object.fromEntries(
    PHOTO_SIZES.map(([name, words, from, to]) => [name, number(name, words, from, to)]),
  ) as Record<(typeof PHOTO_SIZES)[number][0], number>;
  const ears = EAR_MARKS.filter(([name]) => (typed[name] ?? '').trim() !== '');
  const [earR, earL] = EAR_MARKS.map(
    ([name, words]) => ears.length > 0 && number(name, words, -40_000, 40_000),
  );
  if (problems.length > 0) return bad(...problems);
  if (!inOrder(marks)) return bad(NOT_IN_ORDER);
  const spot = (x: number): Spot => ({ x, y: 0 });
  const photo: MarkedPhoto = {
    R: lens(
      marks.r_outer_x,
      marks.r_inner_x,
      marks.r_top_y,
      marks.r_bottom_y,
      marks.r_pupil_x,
      marks.r_pupil_y,
    ),
    L: lens(
      marks.l_outer_x,
      marks.l_inner_x,
      marks.l_top_y,
      marks.l_bottom_y,
      marks.l_pupil_x,
      marks.l_pupil_y,
    ),
    ...(typeof earR === 'number' && typeof earL === 'number'
      ? { ears: { R: spot(earR), L: spot(earL) } }
      : {}),
    frame: { aMm: sizes.a_mm, bMm: sizes.b_mm, dblMm: sizes.dbl_mm },
    cameraMm: sizes.camera_cm * 10,
    stoodAsUsual: typed.stood_as_usual === 'yes',
  };
  return good({ photo, numbers: measurePhoto(photo), fields: asKept(typed) });
}

const lens = (outerX: number, innerX: number, topY: number, bottomY: number, x: number, y: number) => ({
  outerX,
  innerX,
  topY,
  bottomY,
  pupil: { x, y },
});

/** From left to right: the wearer's right lens, then the left one; each pupil inside its box. */
function inOrder(of: Readonly<Record<(typeof PHOTO_MARKS)[number][0], number>>): boolean {
  const rising = (...numbers: number[]) => numbers.every((one, at) => at === 0 || numbers[at - 1]! < one);
  return (
    rising(of.r_outer_x, of.r_pupil_x, of.r_inner_x, of.l_inner_x, of.l_pupil_x, of.l_outer_x) &&
    rising(of.r_top_y, of.r_pupil_y, of.r_bottom_y) &&
    rising(of.l_top_y, of.l_pupil_y, of.l_bottom_y)
  );
}

const NOT_IN_ORDER: Problem = {
  code: 'marks-order',
  what: 'The marks do not stand in their order.',
  where: 'r_outer_x',
  mend: 'The wearer’s right lens is on the left of the picture; each pupil lies between the edges of its lens.',
};

const asKept = (typed: TypedMarks): Record<string, string> =>
  Object.fromEntries(
    [...PHOTO_MARKS, ...EAR_MARKS, ...PHOTO_SIZES, ['level_deg'], ['quarter'], ['stood_as_usual']].flatMap(
      ([name]) => {
        const value = (typed[name as keyof TypedMarks] ?? '').trim();
        return value === '' ? [] : [[name as string, value]];
      },
    ),
  );
