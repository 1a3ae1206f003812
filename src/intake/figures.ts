import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';
import type { Quantity } from './quantities.ts';

/** The number behind what was typed: any minus sign, a decimal comma, a unit behind it. Undefined where it is none. */
export function figureIn(input: string): number | undefined {
  const text = bareText(input)
    .replace(/[\u2010-\u2015\u2212\ufe63]/g, '-')
    .replace(/ ?(mm|cm|dioptres?|diopters?|ds|dc|d|degrees?|deg|°|pd|[\u0394\u2206]|prism)$/i, '');
  if (!/^[+-]? ?(\d{1,6}([.,]\d{0,6})?|[.,]\d{1,6})$/.test(text)) return undefined;
  const figure = Number(text.replace(' ', '').replace(',', '.'));
  return Number.isFinite(figure) ? figure + 0 : undefined;
}

/** Reads one number and holds it to the range of its quantity. */
export function readFigure(text: string, quantity: Quantity): Reading<number> {
  const figure = figureIn(text);
  if (figure === undefined) {
    return refused(
      'number-unread',
      `“${shortened(text)}” is not read as a number.`,
      allowedRange(quantity),
      `Write one number${unitWords(quantity)}.`,
    );
  }
  return inRange(figure, quantity);
}

export function inRange(figure: number, quantity: Quantity): Reading<number> {
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = quantity;
  if (figure >= min && figure <= max) return read(figure === 0 ? 0 : figure);
  const hundredths = figure / 100;
  const slip =
    Number.isInteger(figure) &&
    Math.abs(figure) >= 25 &&
    hundredths >= min &&
    hundredths <= max &&
    quantity.unit === 'D';
  return refused(
    'number-out-of-range',
    `${figure}${unitWords(quantity)} is outside what is possible.`,
    allowedRange(quantity),
    slip
      ? `Was ${hundredths.toFixed(2)} meant? Write the decimal point.`
      : 'Mend the number, or leave the cell empty.',
  );
}

/**
 * Reads a cell that holds both eyes: "31/30", "R 31 L 30", "31.5 30.5", or one figure. One PD for both eyes together is
 * halved, any other single figure stands for each eye; both are said in `how`.
 */
export function readBothEyes(
  input: string,
  quantity: Quantity,
): Reading<{ R: number; L: number; how: string }> {
  const text = bareText(input);
  const two = TWO_FIGURES.exec(text);
  if (two) {
    const [right, left] = [figureIn(two[1] ?? ''), figureIn(two[2] ?? '')];
    const { together } = quantity;
    if (right !== undefined && left !== undefined) {
      if (together && right >= together.min && left >= together.min) {
        return refused(
          'pd-far-and-near',
          `“${shortened(text)}” looks like far and near of both eyes together.`,
          'right/left of one eye each, for example 31/30',
          'Write the far figure under PD and the near figure under near PD.',
        );
      }
      const checkedRight = inRange(right, quantity);
      if (!checkedRight.ok) return checkedRight;
      const checkedLeft = inRange(left, quantity);
      if (!checkedLeft.ok) return checkedLeft;
      return read({ R: checkedRight.value, L: checkedLeft.value, how: '' });
    }
  }
  const single = figureIn(text);
  if (single === undefined) {
    return refused(
      'number-unread',
      `“${shortened(text)}” is not read as a figure for each eye.`,
      `right/left, each ${allowedRange(quantity)}`,
      'Write right and left with a stroke between, for example 31/30.',
    );
  }
  if (quantity.together) {
    const { min, max } = quantity.together;
    if (single < min || single > max) {
      return refused(
        'pd-single-out-of-range',
        `${single} mm cannot be the PD of both eyes together.`,
        `one figure from ${min} to ${max} mm, or right/left each ${allowedRange(quantity)}`,
        'Write right and left with a stroke between, for example 31/30.',
      );
    }
    return read({
      R: single / 2,
      L: single / 2,
      how: 'one PD for both eyes, split equally: not measured for each eye',
    });
  }
  const checked = inRange(single, quantity);
  return checked.ok ? read({ R: checked.value, L: checked.value, how: 'one figure for both eyes' }) : checked;
}

const TWO_FIGURES =
  /^(?:(?:R|RE|OD|right)\b ?[:=]? ?)?([+-]?\d[\d.,]*?)(?: ?mm)?(?: ?[/;|] ?|, | (?=[+-]?\d)| ?,? ?(?=[LO]))(?:(?:L|LE|OS|left)\b ?[:=]? ?)?([+-]?\d[\d.,]*?)(?: ?mm)?$/i;

/** "from 20 to 42 mm". */
export function allowedRange({ min, max, unit }: Quantity): string {
  const range = min === undefined || max === undefined ? 'a number' : `from ${min} to ${max}`;
  return unit && unit !== 'none' && unit !== 'year' ? `${range} ${unit}` : range;
}

const unitWords = ({ unit }: Quantity) => (unit && unit !== 'none' && unit !== 'year' ? ` ${unit}` : '');
