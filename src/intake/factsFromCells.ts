import { bareText } from './bareText.ts';
import {
  type Cell,
  type CellProblem,
  type Cells,
  cellProblem,
  type Reading,
  type Refusal,
  refused,
  shortened,
} from './cells.ts';
import { readBothEyes, readFigure } from './figures.ts';
import type { Eye, Fact, FactValue } from './job.ts';
import { readPowerParts, readPowerText } from './powerText.ts';
import { readPrismText } from './prismText.ts';
import { QUANTITIES, type Quantity, quantityOf } from './quantities.ts';
import { readChoice, readYesNo } from './words.ts';

export type ReadFacts = { readonly facts: readonly Fact[]; readonly problems: readonly CellProblem[] };

const EYES: readonly Eye[] = ['R', 'L'];
const OF_THE_LENSES = QUANTITIES.filter(({ source }) => source !== undefined);
const PARTS = ['', '_sphere', '_cylinder', '_axis'];
/** Field names of the lenses, each with the quantity that it tells of. */
const FIELDS: ReadonlyMap<string, Quantity> = new Map(
  OF_THE_LENSES.flatMap((quantity) => [
    [quantity.key, quantity] as const,
    ...EYES.flatMap((eye) => PARTS.map((part) => [`${quantity.key}_${eye}${part}`, quantity] as const)),
  ]),
);
const MEASURED_AT_THE_FACE = new Set(['wearer_pd_mm', 'near_pd_mm', 'fitting_height_mm']);

/** The facts of the lenses that the cells of one line or form hold, with every problem of every cell. */
export function factsFromCells(cells: Cells, where: string): ReadFacts {
  const facts: Fact[] = [];
  const problems: CellProblem[] = [];
  const by = textOf(cells, 'measured_by');
  const how = textOf(cells, 'measured');
  const refuse = (refusal: Refusal, cell: Cell) => problems.push(cellProblem(refusal, cell, where));
  const put = (quantity: Quantity, eye: Eye | null, value: FactValue, said: string) => {
    const atTheFace = MEASURED_AT_THE_FACE.has(quantity.key);
    facts.push({
      key: quantity.key,
      value,
      unit: quantity.unit === 'none' ? null : quantity.unit,
      eye,
      how: [said, atTheFace ? how : ''].filter((part) => part !== '').join('; '),
      by: atTheFace && by !== '' ? by : null,
      source: quantity.source!,
      from: where,
    });
  };
  const told = new Set<Quantity>();
  for (const { field, text } of cells.values()) {
    const quantity = text === '' ? undefined : FIELDS.get(field);
    if (quantity) told.add(quantity);
  }
  for (const quantity of OF_THE_LENSES) {
    if (!told.has(quantity)) continue;
    if (quantity.perEye) {
      const together = filled(cells, quantity.key);
      if (together && quantity.kind === 'number') {
        const reading = readBothEyes(together.text, quantity);
        if (!reading.ok) refuse(reading.refusal, together);
        else for (const eye of EYES) put(quantity, eye, reading.value[eye], reading.value.how);
      } else if (together) {
        refuse(eyeMissing(quantity, together), together);
      }
      for (const eye of EYES) {
        const cell = filled(cells, `${quantity.key}_${eye}`);
        if (quantity.kind === 'power') readPowerOf(quantity, eye, cell);
        else if (cell && together) refuse(saidTwice(quantity), cell);
        else if (cell && quantity.kind === 'prism') readPrismOf(quantity, eye, cell);
        else if (cell) {
          const reading = readFigure(cell.text, quantity);
          if (reading.ok) put(quantity, eye, reading.value, '');
          else refuse(reading.refusal, cell);
        }
      }
      continue;
    }
    const cell = filled(cells, quantity.key);
    if (!cell) continue;
    const reading = readOne(cell.text, quantity);
    if (reading.ok) put(quantity, null, reading.value, '');
    else refuse(reading.refusal, cell);
  }

  function readPowerOf(quantity: Quantity, eye: Eye, whole: Cell | undefined): void {
    const name = `${quantity.key}_${eye}`;
    const [sphere, cylinder, axis] = [
      filled(cells, `${name}_sphere`),
      filled(cells, `${name}_cylinder`),
      filled(cells, `${name}_axis`),
    ];
    const anyPart = sphere ?? cylinder ?? axis;
    if (!whole && !anyPart) return;
    if (whole && anyPart) {
      refuse(saidTwice(quantity), anyPart);
      return;
    }
    // A whole power written in the sphere column, as some exports do, is read as such.
    const inSphereColumn =
      sphere && !cylinder && !axis && /\d.*[ /x\u00d7].*\d/i.test(sphere.text) ? sphere : undefined;
    const one = whole ?? inSphereColumn;
    const reading = one
      ? readPowerText(one.text)
      : readPowerParts({
          sphere: sphere?.text ?? '',
          cylinder: cylinder?.text ?? '',
          axis: axis?.text ?? '',
        });
    if (reading.ok) {
      put(quantity, eye, reading.value, '');
      return;
    }
    const { code } = reading.refusal;
    const parts = { sphere, cylinder, axis };
    const named = (['sphere', 'cylinder', 'axis'] as const).find((part) => code.startsWith(part));
    refuse(
      reading.refusal,
      one ?? (named ? (parts[named] ?? cells.get(`${name}_${named}`)) : undefined) ?? anyPart!,
    );
  }

  function readPrismOf(quantity: Quantity, eye: Eye, cell: Cell): void {
    const reading = readPrismText(cell.text);
    if (!reading.ok) {
      refuse(reading.refusal, cell);
      return;
    }
    const parts = [
      [`${quantity.key}_up_pd`, reading.value.upPd],
      [`${quantity.key}_in_pd`, reading.value.inPd],
    ] as const;
    for (const [key, value] of parts) {
      if (filled(cells, `${key}_${eye}`)) refuse(saidTwice(quantity), cell);
      else put(quantityOf(key)!, eye, value, '');
    }
  }

  if (facts.length > 1) problems.push(...crossChecked(facts, cells, where));
  return { facts, problems };
}

function readOne(text: string, quantity: Quantity): Reading<FactValue> {
  if (quantity.kind === 'number') return readFigure(text, quantity);
  if (quantity.kind === 'yes/no') return readYesNo(text);
  if (quantity.kind === 'choice') return readChoice(text, quantity);
  const words = bareText(text);
  const longest = quantity.longest ?? 200;
  if (words.length <= longest) return { ok: true, value: words };
  return refused(
    'too-long',
    `The cell holds ${words.length} characters.`,
    `at most ${longest} characters`,
    'Shorten it.',
  );
}

/** Figures that cannot both be true. */
function crossChecked(facts: readonly Fact[], cells: Cells, where: string): CellProblem[] {
  const problems: CellProblem[] = [];
  const value = (key: string, eye: Eye | null) =>
    facts.find((fact) => fact.key === key && fact.eye === eye)?.value as number | undefined;
  for (const eye of EYES) {
    const [far, near] = [value('wearer_pd_mm', eye), value('near_pd_mm', eye)];
    if (far !== undefined && near !== undefined && near > far) {
      problems.push(
        cellProblem(
          {
            code: 'near-pd-over-far',
            what: `Near PD ${near} mm is greater than distance PD ${far} mm; the eyes turn in to read.`,
            allowed: `at most ${far} mm`,
            mend: 'Look whether near and distance changed places.',
          },
          cells.get(`near_pd_mm_${eye}`) ?? cells.get('near_pd_mm')!,
          where,
        ),
      );
    }
    const [height, frameB] = [value('fitting_height_mm', eye), value('frame_b_mm', null)];
    if (height !== undefined && frameB !== undefined && height >= frameB) {
      problems.push(
        cellProblem(
          {
            code: 'height-over-frame',
            what: `Fitting height ${height} mm does not fit into a lens ${frameB} mm high.`,
            allowed: `less than ${frameB} mm`,
            mend: 'Mend the fitting height or the frame’s B.',
          },
          cells.get(`fitting_height_mm_${eye}`) ?? cells.get('fitting_height_mm')!,
          where,
        ),
      );
    }
  }
  return problems;
}

function filled(cells: Cells, key: string): Cell | undefined {
  const cell = cells.get(key);
  return cell && !/^-*$/.test(bareText(cell.text)) ? cell : undefined;
}

const textOf = (cells: Cells, key: string): string => bareText(cells.get(key)?.text ?? '').slice(0, 200);

const saidTwice = (quantity: Quantity): Refusal => ({
  code: 'said-twice',
  what: `“${quantity.head}” is written in two ways in this line.`,
  allowed: 'one of them',
  mend: 'Leave either the column for both together or the columns for each.',
});

const eyeMissing = (quantity: Quantity, cell: Cell): Refusal => ({
  code: 'eye-missing',
  what: `“${shortened(cell.text)}” does not say which eye.`,
  allowed: `columns “${quantity.head} R” and “${quantity.head} L”`,
  mend: 'Write a column for each eye.',
});
