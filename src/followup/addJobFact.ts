import type { Cell } from '../intake/cells.ts';
import { factsFromCells } from '../intake/factsFromCells.ts';
import { quantityOf } from '../intake/quantities.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import { addFacts, findJob } from '../store/jobs.ts';
import { noSuchJob } from './handOver.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';

export type TypedFact = {
  readonly key: string;
  readonly value: string;
  /** R, L, or empty: both together, or a quantity that knows no eyes. */
  readonly eye: string;
  readonly how: string;
};

/**
 * Adds one number to a job, read and held to the range as in a file of jobs. Where the pair has an open case, its causes are
 * weighed again.
 */
export async function addJobFact(
  shell: Shell,
  shopId: string,
  jobId: string,
  typed: TypedFact,
  by: string,
): Promise<Checked<{ count: number }>> {
  const facts = readTyped(typed);
  if (!facts.ok) return facts;
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findJob(trx, shopId, jobId))) return bad(noSuchJob);
    const rows = facts.value.map((fact) => ({
      jobId,
      key: fact.key,
      eye: fact.eye,
      value: fact.value,
      unit: fact.unit,
      how: [fact.how, typed.how].filter((part) => part !== '').join('; ') || null,
      by,
      source: fact.source,
    }));
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

function readTyped({ key, value, eye }: TypedFact) {
  const quantity = quantityOf(key);
  if (!quantity || quantity.source === undefined) {
    return refuse('key', 'fact-unknown', `“${key}” is no number of a job.`, 'Choose one of the list.');
  }
  if (value === '') return refuse('value', 'value-missing', 'Nothing was written.', 'Write what was found.');
  const field = quantity.perEye && (eye === 'R' || eye === 'L') ? `${key}_${eye}` : key;
  const cell: Cell = { text: value, field, column: quantity.label };
  const { facts, problems } = factsFromCells(new Map([[field, cell]]), '');
  const told: readonly Problem[] = problems.map(({ code, what, mend }) => ({
    code,
    what,
    where: 'value',
    mend,
  }));
  if (told.length > 0) return bad(...told);
  return facts.length > 0
    ? good(facts)
    : refuse('value', 'value-missing', 'Nothing was written.', 'Write what was found.');
}

const refuse = (where: string, code: string, what: string, mend: string): Checked<never> =>
  bad({ code, what, where, mend });
