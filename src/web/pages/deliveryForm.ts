import type { DeliveryFormView, JobField } from '../../../dashboard/delivery-form/view.ts';
import type { JobView } from '../../../dashboard/job/view.ts';
import type { FieldTrouble, FormValues } from '../../../dashboard/pieces/view.ts';
import type { CellProblem } from '../../intake/cells.ts';
import { placeOf } from '../../intake/heads.ts';
import { QUANTITIES, type Quantity } from '../../intake/quantities.ts';

/** What a lab's paper form has together, in the order in which it is looked for. */
const SECTIONS: readonly { readonly heading: string; readonly groups: readonly Quantity['group'][] }[] = [
  { heading: 'The wearer', groups: ['wearer'] },
  { heading: 'The order', groups: ['job', 'dates'] },
  { heading: 'Powers: ordered, as worn, checked', groups: ['powers'] },
  { heading: 'PDs and heights', groups: ['measures'] },
  { heading: 'Frame', groups: ['frame'] },
  { heading: 'Lens', groups: ['lens'] },
  { heading: 'As worn, at the hand-over', groups: ['hand-over'] },
  { heading: 'The pair before', groups: ['previous pair'] },
];

/** A prism is typed in one cell with its base; its two parts have no fields of their own. */
const PART_OF_PRISM = /_prism_(up|in)_pd$/;
const ON_THE_FORM = QUANTITIES.filter(({ key }) => !PART_OF_PRISM.test(key));

const CONSENT_WORDS: Readonly<Record<string, string>> = {
  yes: 'yes, any way',
  text: 'by text',
  email: 'by email',
  both: 'by text and email',
  no: 'no',
};

const FIELDS: DeliveryFormView['sections'] = [
  { heading: 'The job', fields: ON_THE_FORM.filter(({ short }) => short).map(jobField) },
  ...SECTIONS.map(({ heading, groups }) => ({
    heading,
    fields: ON_THE_FORM.filter(({ short, group }) => !short && groups.includes(group)).map(jobField),
  })),
];

const NAMES: ReadonlySet<string> = new Set(
  FIELDS.flatMap(({ fields }) =>
    fields.flatMap(({ name, eyes }) => (eyes ? [`${name}_R`, `${name}_L`] : [name])),
  ),
);

/** The form for one job: the eight lines of the short template first, every other quantity folded below. */
export const deliveryForm = (
  values: FormValues = {},
  troubles: readonly FieldTrouble[] = [],
): Omit<DeliveryFormView, 'warnings'> => ({ sections: FIELDS, values, troubles });

/** Trouble of the intake at the fields of this form: what is told of a part of a power is shown at the power. */
export function troublesAtFields(problems: readonly CellProblem[]): FieldTrouble[] {
  return problems.map(({ field, what, mend }) => ({ field: fieldFor(field), text: `${what} ${mend}` }));
}

function fieldFor(field: string): string {
  if (NAMES.has(field)) return field;
  const place = placeOf(field);
  if (!place) return 'job_number';
  const key = place.quantity.key.replace(PART_OF_PRISM, '_prism');
  const named = place.eye ? `${key}_${place.eye}` : key;
  if (NAMES.has(named)) return named;
  return NAMES.has(`${key}_R`) ? `${key}_R` : 'job_number';
}

function jobField(quantity: Quantity): JobField {
  const { key, label, unit, perEye } = quantity;
  return {
    name: key,
    label,
    unit: unit === null || unit === 'none' || quantity.kind !== 'number' ? '' : unit,
    range: rangeOf(quantity),
    kind: kindOf(quantity),
    choices: choicesOf(quantity),
    needed: key === 'name' || key === 'lens_design',
    eyes: perEye,
    hint: hintOf(quantity),
  };
}

function rangeOf({ kind, min, max }: Quantity): string {
  if (kind !== 'number' || min === undefined || max === undefined) return '';
  return `${signed(min)} to ${signed(max)}`;
}

function signed(value: number): string {
  return String(value).replace('-', '−');
}

function kindOf({ key, kind }: Quantity): JobField['kind'] {
  if (key === 'phone') return 'tel';
  if (key === 'email') return 'email';
  if (kind === 'number' || kind === 'date') return kind;
  return kind === 'yes/no' || kind === 'choice' || kind === 'consent' ? 'choice' : 'text';
}

function choicesOf({ kind, choices = [] }: Quantity): JobField['choices'] {
  const empty = { value: '', words: kind === 'consent' ? 'not asked yet' : 'not known' };
  if (kind === 'yes/no') return [empty, { value: 'yes', words: 'yes' }, { value: 'no', words: 'no' }];
  if (kind === 'choice')
    return [empty, ...choices.map((value) => ({ value, words: value.replaceAll('-', ' ') }))];
  // "yes" and "both" say the same; one of them is enough to choose from.
  if (kind === 'consent')
    return [
      empty,
      ...choices
        .filter((value) => value !== 'yes')
        .map((value) => ({ value, words: CONSENT_WORDS[value] ?? value })),
    ];
  return [];
}

function hintOf({ key, kind, sign }: Quantity): string {
  if (key === 'job_number') return 'Leave it empty if your shop keeps none.';
  if (key === 'handed_over_on') return 'Leave it empty if the pair is still to come.';
  if (kind === 'power') return 'For example +1.25 −0.50 × 90.';
  if (kind === 'prism') return 'For example 0.5 down 1 in.';
  return sign ?? '';
}

/** Numbers that can be added to a job one by one: what is read at the bench first, then by the sections of the form. */
export const FACT_KINDS: JobView['factKinds'] = [
  { heading: 'Read at the bench', kinds: factKinds((quantity) => isReading(quantity)) },
  ...SECTIONS.map(({ heading, groups }) => ({
    heading,
    kinds: factKinds((quantity) => !isReading(quantity) && groups.includes(quantity.group)),
  })).filter(({ kinds }) => kinds.length > 0),
];

function isReading({ source, group }: Quantity): boolean {
  return source === 'lensmeter' && group !== 'previous pair';
}

function factKinds(wanted: (quantity: Quantity) => boolean): { key: string; name: string }[] {
  return ON_THE_FORM.filter((quantity) => quantity.source !== undefined && wanted(quantity)).map(
    ({ key, label, unit, kind }) => ({
      key,
      name: unit === null || unit === 'none' || kind !== 'number' ? label : `${label}, ${unit}`,
    }),
  );
}
