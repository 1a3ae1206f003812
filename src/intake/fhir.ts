import { z } from 'zod';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { shortened } from './cells.ts';
import { allowedRange, inRange } from './figures.ts';
import type { Eye, Fact } from './job.ts';
import { readPowerParts } from './powerText.ts';
import { type Quantity, quantityOf } from './quantities.ts';

type PrismBase = 'up' | 'down' | 'in' | 'out';

/** What the prescription says of one eye. What it does not say is left out: missing is not nought and not plano. */
export type PrescribedLens = {
  readonly sphereD?: number;
  readonly cylinderD?: number;
  /** 0 < axis <= 180; a written 0 is given as 180. */
  readonly axisDeg?: number;
  readonly addD?: number;
  readonly prism: readonly { readonly amountPd: number; readonly base: PrismBase }[];
  /** Base up is plus. Left out where no vertical prism is written. */
  readonly prismUpPd?: number;
  /** Base in is plus, whichever eye. */
  readonly prismInPd?: number;
  /** Contact lenses only. */
  readonly powerD?: number;
  readonly backCurveMm?: number;
  readonly diameterMm?: number;
};

export type VisionPrescription = {
  readonly id?: string;
  readonly status: string;
  /** When the record was made: a day, or an instant with its offset, as written. */
  readonly created?: string;
  /** When the prescriber wrote it: this is the date of the prescription. */
  readonly dateWritten?: string;
  readonly right?: PrescribedLens;
  readonly left?: PrescribedLens;
  /** Whether spectacles can be made from it, and if not, why. */
  readonly spectacles: Checked<true>;
  /** What is written but deserves a look. */
  readonly warnings: readonly string[];
};

/**
 * Reads a FHIR R4 VisionPrescription. Glasses are accepted; contact lenses are read but refused for spectacles, because
 * their powers hold at the eye and not at the vertex distance of a frame. R4 has no PD, height, vertex distance or tilt:
 * those come from the shop. Source: HL7 FHIR R4 (4.0.1), resource VisionPrescription.
 */
export function readVisionPrescription(resource: unknown): Checked<VisionPrescription> {
  const parsed = RESOURCE.safeParse(resource);
  if (!parsed.success) return bad(...parsed.error.issues.slice(0, 20).map(problemOfShape));
  const { id, status, created, dateWritten, lensSpecification } = parsed.data;
  const problems: Problem[] = [];
  const warnings: string[] =
    dateWritten === undefined ? ['Nothing says when the prescription was written.'] : [];
  const lenses: Partial<Record<Eye, PrescribedLens>> = {};
  const reasons: Problem[] = statusProblems(status);
  lensSpecification.forEach((written, index) => {
    const where = `lensSpecification[${index}]`;
    const eye: Eye = written.eye === 'right' ? 'R' : 'L';
    if (isContactLens(written)) reasons.push(contactLens(where, written.eye));
    if (lenses[eye]) {
      problems.push({
        code: 'fhir-eye-twice',
        what: `There are two lenses for the ${written.eye} eye, and nothing says which to make.`,
        where,
        mend: 'Ask the prescriber for one prescription for each pair.',
      });
      return;
    }
    lenses[eye] = lensOf(written, where, problems);
    if (written.sphere === undefined && !isContactLens(written)) {
      warnings.push(
        `No sphere is written for the ${written.eye} eye; it is not read as plano. Ask the prescriber.`,
      );
    }
  });
  if (problems.length > 0) return bad(...problems);
  return good({
    ...(id === undefined ? {} : { id }),
    status,
    ...(created === undefined ? {} : { created }),
    ...(dateWritten === undefined ? {} : { dateWritten }),
    ...(lenses.R ? { right: lenses.R } : {}),
    ...(lenses.L ? { left: lenses.L } : {}),
    spectacles: reasons.length === 0 ? good(true) : bad(...reasons),
    warnings,
  });
}

/** Base up on the right minus base up on the left, prism dioptres; undefined where no vertical prism is written. */
export function verticalDifferencePd({ right, left }: VisionPrescription): number | undefined {
  if (right?.prismUpPd === undefined && left?.prismUpPd === undefined) return undefined;
  return (right?.prismUpPd ?? 0) - (left?.prismUpPd ?? 0);
}

/** The facts of a prescription that spectacles can be made from; none from one that they cannot. */
export function factsOfPrescription(prescription: VisionPrescription): Fact[] {
  if (!prescription.spectacles.ok) return [];
  const from = `FHIR VisionPrescription${prescription.id === undefined ? '' : ` ${shortened(prescription.id)}`}`;
  const common = {
    how: prescription.dateWritten === undefined ? '' : `written ${prescription.dateWritten}`,
    by: null,
    source: 'order',
    from,
  } as const;
  const lenses = [
    ['R', prescription.right],
    ['L', prescription.left],
  ] as const;
  return lenses.flatMap(([eye, lens]) => {
    if (!lens) return [];
    const fact = (key: string, value: Fact['value']): Fact => ({
      key,
      value,
      unit: unitOf(key),
      eye,
      ...common,
    });
    const power = readPowerParts({
      sphere: written(lens.sphereD),
      cylinder: written(lens.cylinderD),
      axis: written(lens.axisDeg),
    });
    return [
      ...(power.ok ? [fact('rx', power.value)] : []),
      ...(lens.addD === undefined ? [] : [fact('add_D', lens.addD)]),
      ...(lens.prismUpPd === undefined ? [] : [fact('order_prism_up_pd', lens.prismUpPd)]),
      ...(lens.prismInPd === undefined ? [] : [fact('order_prism_in_pd', lens.prismInPd)]),
    ];
  });
}

const written = (figure: number | undefined) => (figure === undefined ? '' : String(figure));
const unitOf = (key: string) => quantityOf(key)?.unit ?? null;

const CODING = z.looseObject({ system: z.string().optional(), code: z.string().optional() });
const LENS = z.looseObject({
  product: z.looseObject({ coding: z.array(CODING).optional(), text: z.string().optional() }),
  eye: z.enum(['right', 'left']),
  sphere: z.number().optional(),
  cylinder: z.number().optional(),
  axis: z.number().int().optional(),
  prism: z.array(z.looseObject({ amount: z.number(), base: z.enum(['up', 'down', 'in', 'out']) })).optional(),
  add: z.number().optional(),
  power: z.number().optional(),
  backCurve: z.number().optional(),
  diameter: z.number().optional(),
});
// FHIR dateTime: a year, month or day, or an instant with its offset.
const DATE_TIME = z
  .string()
  .regex(/^\d{4}(-\d{2}(-\d{2}(T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2}))?)?)?$/);
const RESOURCE = z.looseObject({
  resourceType: z.literal('VisionPrescription'),
  id: z.string().max(200).optional(),
  status: z.enum(['active', 'cancelled', 'draft', 'entered-in-error']),
  // R4 wants both, but exports leave them out; a prescription without its date is read and told.
  created: DATE_TIME.optional(),
  dateWritten: DATE_TIME.optional(),
  lensSpecification: z.array(LENS).min(1).max(20),
});
type WrittenLens = z.infer<typeof LENS>;

/** By the product code "contact"; where no code is given, by what only a contact lens has. */
function isContactLens(lens: WrittenLens): boolean {
  const words = [...(lens.product.coding ?? []).map(({ code }) => code), lens.product.text];
  if (words.some((word) => word !== undefined && /contact/i.test(word))) return true;
  return lens.power !== undefined || lens.backCurve !== undefined || lens.diameter !== undefined;
}

const POWER: Quantity = quantityOf('rx')!;
const CYLINDER: Quantity = { ...POWER, min: -12, max: 12 };
const AXIS: Quantity = { ...POWER, unit: 'degrees', min: 0, max: 180 };
const ADD: Quantity = quantityOf('add_D')!;
const PRISM: Quantity = { ...quantityOf('order_prism_up_pd')!, min: 0, max: 20 };
const CURVE: Quantity = { ...POWER, unit: 'mm', min: 5, max: 12 };
const DIAMETER: Quantity = { ...POWER, unit: 'mm', min: 5, max: 25 };

function lensOf(lens: WrittenLens, where: string, problems: Problem[]): PrescribedLens {
  const held = (field: string, figure: number | undefined, quantity: Quantity): number | undefined => {
    if (figure === undefined) return undefined;
    const reading = inRange(figure, quantity);
    if (reading.ok) return reading.value;
    problems.push({
      code: 'fhir-out-of-range',
      what: `${reading.refusal.what} Allowed: ${allowedRange(quantity)}.`,
      where: `${where}.${field}`,
      mend: 'Ask the prescriber.',
    });
    return undefined;
  };
  if (lens.cylinder !== undefined && lens.cylinder !== 0 && lens.axis === undefined) {
    problems.push({
      code: 'fhir-axis-missing',
      what: `Cylinder ${lens.cylinder} stands without an axis.`,
      where: `${where}.axis`,
      mend: 'Ask the prescriber for the axis.',
    });
  }
  if (lens.cylinder === undefined && lens.axis !== undefined && lens.axis !== 0 && lens.axis !== 180) {
    problems.push({
      code: 'fhir-cylinder-missing',
      what: `Axis ${lens.axis} stands without a cylinder.`,
      where: `${where}.cylinder`,
      mend: 'Ask the prescriber whether a cylinder was left out.',
    });
  }
  const axis = held('axis', lens.axis, AXIS);
  const prism = (lens.prism ?? []).map(({ amount, base }, index) => ({
    amountPd: held(`prism[${index}].amount`, amount, PRISM) ?? 0,
    base,
  }));
  return withoutMissing({
    sphereD: held('sphere', lens.sphere, POWER),
    cylinderD: held('cylinder', lens.cylinder, CYLINDER),
    axisDeg: axis === 0 ? 180 : axis,
    addD: held('add', lens.add, ADD),
    prism,
    prismUpPd: along(prism, 'up', 'down', where, problems),
    prismInPd: along(prism, 'in', 'out', where, problems),
    powerD: held('power', lens.power, POWER),
    backCurveMm: held('backCurve', lens.backCurve, CURVE),
    diameterMm: held('diameter', lens.diameter, DIAMETER),
  });
}

function along(
  prism: PrescribedLens['prism'],
  plus: PrismBase,
  minus: PrismBase,
  where: string,
  problems: Problem[],
): number | undefined {
  const parts = prism.filter(({ base }) => base === plus || base === minus);
  if (parts.length > 1) {
    problems.push({
      code: 'fhir-prism-twice',
      what: `Prism base ${plus} or ${minus} is written more than once for one eye.`,
      where: `${where}.prism`,
      mend: 'Ask the prescriber which one counts.',
    });
  }
  const [part] = parts;
  return part && (part.base === plus ? part.amountPd : 0 - part.amountPd);
}

type Maybe<T> = { readonly [Key in keyof T]?: T[Key] | undefined };

function withoutMissing(lens: Maybe<PrescribedLens> & Pick<PrescribedLens, 'prism'>): PrescribedLens {
  return Object.fromEntries(Object.entries(lens).filter(([, held]) => held !== undefined)) as PrescribedLens;
}

function statusProblems(status: string): Problem[] {
  if (status === 'active') return [];
  const words: Readonly<Record<string, string>> = {
    cancelled: 'was cancelled',
    draft: 'is a draft that nobody has signed',
    'entered-in-error': 'was entered in error',
  };
  return [
    {
      code: 'fhir-not-active',
      what: `This prescription ${words[status] ?? status}.`,
      where: 'status',
      mend: 'Ask the prescriber for a prescription that is active.',
    },
  ];
}

const contactLens = (where: string, eye: string): Problem => ({
  code: 'fhir-contact-lens',
  what: `The lens for the ${eye} eye is a contact lens: its power holds at the eye, not in a frame.`,
  where: `${where}.product`,
  mend: 'Ask the prescriber for the spectacle prescription; do not reckon one from contact lenses.',
});

function problemOfShape(issue: z.core.$ZodIssue): Problem {
  const path = issue.path
    .map((part) => (typeof part === 'number' ? `[${part}]` : `.${String(part)}`))
    .join('');
  return {
    code: 'fhir-shape',
    what: `This is not a FHIR R4 VisionPrescription: ${issue.message}.`,
    where: path === '' ? 'resource' : path.replace(/^\./, ''),
    mend: 'Export the prescription again as FHIR R4, with status, dateWritten and lensSpecification.',
  };
}
