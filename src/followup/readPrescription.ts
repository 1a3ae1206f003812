import type { NewPrescription } from '../causes/newPrescription.ts';
import type { Cell } from '../intake/cells.ts';
import { factsFromCells } from '../intake/factsFromCells.ts';
import type { Fact } from '../intake/job.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';

/** A prescription as it was typed: a power in one field for each eye, and the additions. */
export type TypedPrescription = {
  readonly rx_R: string;
  readonly rx_L: string;
  readonly add_R: string;
  readonly add_L: string;
};

/** Reads a prescription with the words, signs and ranges of a file of jobs; both eyes are needed, additions come in pairs. */
export function readPrescription(typed: TypedPrescription): Checked<NewPrescription> {
  const missing = (['rx_R', 'rx_L'] as const)
    .filter((field) => typed[field] === '')
    .map((field) => missingPower(field));
  if (missing.length > 0) return bad(...missing);
  const addL = typed.add_L === '' ? typed.add_R : typed.add_L;
  const cells = new Map<string, Cell>([
    ['rx_R', { text: typed.rx_R, field: 'rx_R', column: 'Right' }],
    ['rx_L', { text: typed.rx_L, field: 'rx_L', column: 'Left' }],
    ...(typed.add_R === '' && addL === ''
      ? []
      : ([
          ['add_D_R', { text: typed.add_R || addL, field: 'add_D_R', column: 'Addition, right' }],
          ['add_D_L', { text: addL, field: 'add_D_L', column: 'Addition, left' }],
        ] as const)),
  ]);
  const { facts, problems } = factsFromCells(cells, '');
  if (problems.length > 0)
    return bad(
      ...problems.map(({ code, what, mend, field }) => ({
        code,
        what,
        mend,
        where: field.replace('add_D', 'add'),
      })),
    );
  const of = (key: string, eye: 'R' | 'L'): Fact['value'] | undefined =>
    facts.find((fact) => fact.key === key && fact.eye === eye)?.value;
  const [R, L] = [of('rx', 'R'), of('rx', 'L')];
  if (!Array.isArray(R) || !Array.isArray(L)) return bad(missingPower(Array.isArray(R) ? 'rx_L' : 'rx_R'));
  const [addR, addLeft] = [of('add_D', 'R'), of('add_D', 'L')];
  return good({
    R: R as unknown as NewPrescription['R'],
    L: L as unknown as NewPrescription['L'],
    ...(typeof addR === 'number' && typeof addLeft === 'number' ? { addD: { R: addR, L: addLeft } } : {}),
  });
}

const missingPower = (where: 'rx_R' | 'rx_L'): Problem => ({
  code: 'power-missing',
  what: `The ${where === 'rx_R' ? 'right' : 'left'} power is missing.`,
  where,
  mend: 'Write it as on the prescription: -2.00 / -0.50 x 90, or plano.',
});
