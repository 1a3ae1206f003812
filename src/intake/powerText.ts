import { minusCylinder } from '../optics/spheroCyl.ts';
import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';
import { figureIn } from './figures.ts';
import type { PowerTriple } from './job.ts';

/** The three parts of a power as they were written; an empty text is a part that was not written. */
export type WrittenPower = { readonly sphere: string; readonly cylinder: string; readonly axis: string };

const EXAMPLE = 'a power such as -2.00 / -0.50 x 90, plano, or -2.00 DS';
const LARGEST_SPHERE_D = 30;
const LARGEST_CYLINDER_D = 12;

/**
 * Reads a power written in one cell: "-2.00 / -0.50 x 90", "+1,25 -0,75 x 5", "plano -0.50 x 180", "-2.00 DS".
 * Returns it in minus-cylinder form; dioptres, degrees, axis 0 becomes 180.
 */
export function readPowerText(input: string): Reading<PowerTriple> {
  const parts = partsOfPower(input);
  if (!parts) {
    return refused(
      'power-unread',
      `“${shortened(input)}” is not read as a power.`,
      EXAMPLE,
      'Write sphere, cylinder and axis in this order, without the add: it has a column of its own.',
    );
  }
  return readPowerParts(parts);
}

/**
 * Puts the three parts together. Sphere from -30 to +30 D, cylinder from -12 to +12 D, axis from 0 to 180 degrees. A
 * cylinder needs its axis; an axis other than 0 or 180 without a cylinder is a cylinder forgotten. Missing sphere is
 * missing, never plano.
 */
export function readPowerParts({ sphere, cylinder, axis }: WrittenPower): Reading<PowerTriple> {
  const sphereText = bareText(sphere).replace(/ ?(ds|sph|sphere)\.?$/i, '');
  const sphereD = PLANO.test(sphereText) ? 0 : figureIn(sphereText);
  if (sphereText === '') {
    return refused(
      'sphere-missing',
      'The sphere is missing; an empty sphere is not read as plano.',
      EXAMPLE,
      'Write the sphere; write plano where it is nought.',
    );
  }
  if (sphereD === undefined || Math.abs(sphereD) > LARGEST_SPHERE_D) {
    return outOfRange('sphere', sphere, sphereD, LARGEST_SPHERE_D);
  }
  const cylinderText = bareText(cylinder);
  const cylinderD = NO_CYLINDER.test(cylinderText) ? 0 : figureIn(cylinderText);
  if (cylinderD === undefined || Math.abs(cylinderD) > LARGEST_CYLINDER_D) {
    return outOfRange('cylinder', cylinder, cylinderD, LARGEST_CYLINDER_D);
  }
  const axisText = bareText(axis).replace(/^(x|ax(is)?|@)\.? ?/i, '');
  const noAxis = axisText === '' || /^-+$/.test(axisText);
  const axisDeg = noAxis ? undefined : figureIn(axisText);
  if (!noAxis && (axisDeg === undefined || axisDeg < 0 || axisDeg > 180)) {
    return refused(
      'axis-out-of-range',
      `Axis “${shortened(axis)}” does not exist.`,
      'from 1 to 180 degrees (0 is read as 180)',
      'Mend the axis.',
    );
  }
  if (cylinderD === 0) {
    if (axisDeg !== undefined && axisDeg !== 0 && axisDeg !== 180) {
      return refused(
        'cylinder-missing',
        `Axis ${axisDeg} stands without a cylinder.`,
        'a cylinder with its axis, or neither',
        'Write the cylinder, or take the axis away.',
      );
    }
    return read([sphereD, 0, 180]);
  }
  if (axisDeg === undefined) {
    return refused(
      'axis-missing',
      `Cylinder ${cylinderD.toFixed(2)} stands without an axis.`,
      'from 1 to 180 degrees (0 is read as 180)',
      'Write the axis.',
    );
  }
  const lens = minusCylinder({ sphereD, cylinderD, axisDeg });
  return read([toHundredthsOfHundredths(lens.sphereD), lens.cylinderD, lens.axisDeg]);
}

/** Rounds off what a sum in binary leaves behind. */
const toHundredthsOfHundredths = (dioptres: number) => Math.round(dioptres * 1e4) / 1e4 + 0;

/** Takes one cell apart; undefined where it is not a power. */
function partsOfPower(input: string): WrittenPower | undefined {
  const text = bareText(input)
    .replace(/[\u2010-\u2015\u2212\ufe63]/g, '-')
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/([+-]) +(?=[\d.])/g, '$1');
  const found = POWER.exec(text);
  if (!found) return undefined;
  const [, sphere = '', cylinder = '', axis = ''] = found;
  return { sphere, cylinder, axis };
}

const FIGURE = '[+-]?(?:\\d{1,5}(?:\\.\\d{0,4})?|\\.\\d{1,4})';
const POWER = new RegExp(
  `^(${FIGURE}|plano|plan|pl\\.?|\u221e)(?: ?(?:ds?|sph\\.?))?` +
    `(?: ?[/,;(]? ?(${FIGURE})(?: ?(?:dc?|cyl\\.?))?\\)?(?: ?(?:[x\u00d7*@/]|ax(?:is)?\\.?:?)? ?(\\d{1,5}(?:\\.\\d+)?) ?\u00b0?)?)?$`,
  'i',
);

const PLANO = /^(plano|plan|pl|pl\.|\u221e|[+-]?0+([.,]0*)?)$/i;
const NO_CYLINDER = /^(|-+|ds|sph|sph\.|sphere|none|nil|plano|pl)$/i;

function outOfRange(part: string, text: string, figure: number | undefined, limit: number): Reading<never> {
  const hundredths = figure === undefined ? Number.NaN : figure / 100;
  const slip = Number.isInteger(figure) && Math.abs(hundredths) <= limit;
  return refused(
    figure === undefined ? 'power-unread' : `${part}-out-of-range`,
    `${part[0]!.toUpperCase()}${part.slice(1)} “${shortened(text)}” is ${figure === undefined ? 'not read as a power' : 'outside what is possible'}.`,
    `from -${limit} to +${limit} D`,
    slip ? `Was ${hundredths.toFixed(2)} meant? Write the decimal point.` : 'Mend the power.',
  );
}
