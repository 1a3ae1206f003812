import type { Seeded } from './seeded.ts';

type Columns = Readonly<Record<string, string>>;

/** Corridor of the starter designs, mm; what has no corridor here is fitted like single vision. */
const CORRIDORS: Readonly<Record<string, number>> = {
  'soft 17': 17,
  'soft 15': 15,
  'balanced 13': 13,
  'short 11': 11,
};

/**
 * An invented prescription, frame and set of measures as a full line has them: moderate powers, heights with room below the
 * corridor. With `checked` the lab's form and the lensmeter's readings are there too, inside the limits.
 */
export function inventedColumns(
  from: Seeded,
  about: { design: string; first: boolean; measuredBy: string; checked: boolean },
): Columns {
  const sphere = from.between(-3.5, 2.5, 0.25);
  const cylinder = from.next() < 0.55 ? from.between(-1.25, -0.25, 0.25) : 0;
  const axis = from.pick([5, 10, 80, 90, 95, 170, 175, 180]);
  const right = powerText(sphere, cylinder, axis);
  const left = powerText(sphere + from.pick([-0.5, -0.25, 0, 0.25, 0.5]), cylinder, 180 - axis || 180);
  const add = from.pick(about.first ? [1.25, 1.5, 1.75, 2] : [1.75, 2, 2.25, 2.5]);
  const pd = from.between(29.5, 34, 0.5);
  const corridor = Object.entries(CORRIDORS).find(([name]) => about.design.startsWith(name))?.[1];
  const height = (corridor ?? 14) + from.between(5, 7, 0.5);
  const addText = add.toFixed(2);
  return {
    'order R': right,
    'order L': left,
    ...(corridor === undefined ? {} : { 'order add R': addText, 'order add L': addText }),
    'PD R': String(pd),
    'PD L': String(pd + from.pick([-0.5, 0, 0.5])),
    ...(corridor === undefined
      ? {}
      : {
          'fitting height R': String(height),
          'fitting height L': String(height + from.pick([-0.5, 0, 0.5])),
        }),
    'frame A': String(from.between(50, 55, 1)),
    'frame B': String(height + from.between(13, 16, 1)),
    DBL: String(from.between(16, 19, 1)),
    'how measured': from.pick(['ruler and marks on the lens', 'pupil gauge']),
    'measured by': about.measuredBy,
    'previous lens': about.first ? from.pick(['single-vision', 'readers', 'none']) : 'progressive',
    ...(about.checked
      ? { 'as worn R': right, 'as worn L': left, 'checked R': right, 'checked L': left }
      : {}),
    ...(about.checked && corridor !== undefined
      ? {
          'as worn add R': addText,
          'as worn add L': addText,
          'checked add R': addText,
          'checked add L': addText,
        }
      : {}),
  };
}

/** Sphere, cylinder and axis as they are written on an order. */
export function powerText(sphere: number, cylinder: number, axis: number): string {
  const signed = (value: number): string => `${value < 0 ? '-' : '+'}${Math.abs(value).toFixed(2)}`;
  return cylinder === 0 ? signed(sphere) : `${signed(sphere)} ${signed(cylinder)} x ${axis}`;
}
