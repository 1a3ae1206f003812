import type { Cell } from '../intake/cells.ts';
import { factsFromCells } from '../intake/factsFromCells.ts';
import { fieldName, placeOf } from '../intake/heads.ts';
import type { Eye, Fact } from '../intake/job.ts';
import { type AsWornExplanation, explainAsWorn } from '../optics/asWorn.ts';
import { differenceLens } from '../optics/differenceLens.ts';
import { lensWritten } from '../optics/rounding.ts';
import type { SpheroCyl } from '../optics/spheroCyl.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import type { Db } from '../store/database.ts';
import { addFacts, designOf, factsOf, findJob } from '../store/jobs.ts';
import { noSuchJob } from './handOver.ts';
import { gather } from './jobFactsOf.ts';
import { lensOf, ofEye } from './jobToCome.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';

const EYES = ['R', 'L'] as const satisfies readonly Eye[];

/** Vertex distances between which a refraction is done, mm. Common practice, no source. */
const VERTEX = { least: 5, most: 25 } as const;
/** Where no index is on record the formula takes standard resin; it moves the result by hundredths of a dioptre. */
const STANDARD_INDEX = 1.5;
/** Under this nothing differs: no form is written finer. */
const SAME_D = 0.005;

export type LabFormLook = {
  readonly facts: readonly Fact[];
  /** Order against as-worn powers, line by line; an eye of which one of the two is missing is left out. */
  readonly eyes: readonly { readonly eye: Eye; readonly explained: AsWornExplanation }[];
  /** Where the lab's form says another order than ours. */
  readonly differences: readonly string[];
  /** What was not on record and had to be taken as something. */
  readonly notes: readonly string[];
};

/**
 * Looks at a lab's form as it was typed: is its order ours, and do the as-worn powers follow from order, vertex distance, tilt
 * and wrap? Keeps nothing. Fields are named as quantities are; `refracted_vertex_mm` is the vertex distance of the refraction.
 */
export async function lookAtLabForm(
  db: Db,
  shopId: string,
  jobId: string,
  typed: Readonly<Record<string, string>>,
): Promise<Checked<LabFormLook>> {
  const job = await findJob(db, shopId, jobId);
  if (!job) return bad(noSuchJob);
  const { facts, problems } = factsFromCells(cellsOf(typed), '');
  const vertex = refractedVertex(typed.refracted_vertex_mm ?? '');
  const told = problems.map(({ code, what, mend, field }) => ({ code, what, mend, where: field }));
  if (told.length > 0 || !vertex.ok) return bad(...told, ...(vertex.ok ? [] : vertex.problems));
  const design = await designOf(db, shopId, job.design_id);
  const ours = gather(await factsOf(db, shopId, jobId));
  const form = gather(facts);
  const notes = new Set<string>();
  const eyes = EYES.flatMap((eye) => {
    const ordered = orderOf(form, eye) ?? orderOf(ours, eye);
    const labAsWorn = lensOf(form[`as_worn_${eye}`]) ?? lensOf(ours[`as_worn_${eye}`]);
    if (!ordered || !labAsWorn) return [];
    const pose = poseOf({ ...ours, ...form }, eye, design?.refractive_index ?? null, notes);
    const worn = ofEye(form.vertex_assumed_mm, eye) ?? ofEye(ours.vertex_assumed_mm, eye);
    if (worn === undefined || vertex.value === null)
      notes.add('One of the two vertex distances is not known: they are taken as the same.');
    const wornVertexMm = worn ?? vertex.value ?? 12;
    const refractedVertexMm = worn === undefined ? wornVertexMm : (vertex.value ?? wornVertexMm);
    const explained = explainAsWorn({ ordered, labAsWorn, pose, refractedVertexMm, wornVertexMm });
    return [{ eye, explained }];
  });
  return good({
    facts,
    eyes,
    differences: EYES.flatMap((eye) => orderDiffers(form, ours, eye)),
    notes: [...notes],
  });
}

/**
 * Keeps what the lab's form says: the as-worn powers and the position of wear that it was reckoned for. Its order is kept only
 * where none is on record; where it says another one, ours stands and the difference is on the page. Open cases are
 * weighed again.
 */
export async function keepLabForm(
  shell: Shell,
  shopId: string,
  jobId: string,
  typed: Readonly<Record<string, string>>,
  by: string,
): Promise<Checked<{ count: number }>> {
  const looked = await lookAtLabForm(shell.db, shopId, jobId, typed);
  if (!looked.ok) return looked;
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const ours = new Set((await factsOf(trx, shopId, jobId)).map(({ key, eye }) => `${key} ${eye}`));
    const rows = looked.value.facts
      .filter(
        ({ key, eye, source }) =>
          source !== 'order' || key.includes('_assumed_') || !ours.has(`${key} ${eye}`),
      )
      .map(({ key, eye, value, unit, source }) => ({
        jobId,
        key,
        eye,
        value,
        unit,
        how: 'typed from the lab’s form',
        by,
        source: key.includes('_assumed_') ? 'lab form' : source,
      }));
    if (rows.length === 0)
      return bad({
        code: 'lab-form-empty',
        what: 'There is nothing new on the form.',
        where: 'as_worn_R_sphere',
        mend: 'Type what the lab’s form says, at least the as-worn powers.',
      });
    await addFacts(trx, shopId, rows, now);
    const pair = await trx
      .selectFrom('pair')
      .select('pair_id')
      .where('shop_id', '=', shopId)
      .where('job_id', '=', jobId)
      .executeTakeFirst();
    const file = pair && (await openCaseOf(trx, shopId, pair.pair_id));
    if (file) {
      for (const { key, eye, value, how } of rows)
        await addCaseEvent(trx, shopId, file.case_id, 'fact', { key, eye, value, how }, by, now);
      await rankCase(trx, shopId, file, now);
    }
    return good({ count: rows.length });
  });
}

function cellsOf(typed: Readonly<Record<string, string>>): Map<string, Cell> {
  const cells = new Map<string, Cell>();
  for (const [name, written] of Object.entries(typed)) {
    const place = placeOf(name);
    const text = written.trim();
    if (!place || text === '') continue;
    const field = fieldName(place);
    cells.set(field, { text, field, column: place.quantity.label });
  }
  return cells;
}

function refractedVertex(text: string): Checked<number | null> {
  if (text.trim() === '') return good(null);
  const value = Number(text.trim().replace(',', '.'));
  if (value >= VERTEX.least && value <= VERTEX.most) return good(value);
  return bad({
    code: 'number-out-of-range',
    what: `A vertex distance of “${text.slice(0, 20)}” cannot be.`,
    where: 'refracted_vertex_mm',
    mend: `Allowed: ${VERTEX.least} to ${VERTEX.most} mm, or empty.`,
  });
}

type Facts = Readonly<Record<string, unknown>>;

const orderOf = (facts: Facts, eye: Eye): SpheroCyl | undefined =>
  lensOf(facts[`order_${eye}`]) ?? lensOf(facts[`rx_${eye}`]);

function poseOf(facts: Facts, eye: Eye, designIndex: number | null, notes: Set<string>) {
  const number = (key: string): number | undefined =>
    typeof facts[key] === 'number' ? (facts[key] as number) : undefined;
  const tilt = number('tilt_assumed_deg');
  const wrap = number('wrap_assumed_deg');
  const index = number('refractive_index') ?? designIndex ?? undefined;
  if (tilt === undefined) notes.add('The tilt is not known: none is reckoned with.');
  if (wrap === undefined) notes.add('The wrap is not known: none is reckoned with.');
  if (index === undefined) notes.add(`The index is not known: ${STANDARD_INDEX} is taken.`);
  return { eye, tiltDeg: tilt ?? 0, wrapDeg: wrap ?? 0, index: index ?? STANDARD_INDEX };
}

function orderDiffers(form: Facts, ours: Facts, eye: Eye): string[] {
  const [theirs, own] = [orderOf(form, eye), orderOf(ours, eye)];
  const add = [ofEye(form.order_add_D, eye), ofEye(ours.order_add_D, eye) ?? ofEye(ours.add_D, eye)] as const;
  return [
    ...(theirs && own && differenceLens(theirs, own).blurD > SAME_D
      ? [
          `${eye}: the lab’s form has the order ${lensWritten(theirs)}; ours is ${lensWritten(own)}. Ask the lab before anything leaves.`,
        ]
      : []),
    ...(add[0] !== undefined && add[1] !== undefined && Math.abs(add[0] - add[1]) > SAME_D
      ? [
          `${eye}: the lab’s form has the add ${add[0].toFixed(2)}; ours is ${add[1].toFixed(2)}. Ask the lab before anything leaves.`,
        ]
      : []),
  ];
}
