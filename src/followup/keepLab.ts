import { figureIn } from '../intake/figures.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { addLab, keepLabTerms, lockLab } from '../store/lensBook.ts';
import type { LabTerm } from '../store/tables.ts';
import type { Shell } from './shell.ts';

export const TERM_REASONS = [
  'settling',
  'made wrong',
  'prescription change',
  'coating',
] as const satisfies readonly LabTerm['what'][];
export const TERM_STARTS = [
  'lab invoiced',
  'ordered',
  'handed over',
] as const satisfies readonly LabTerm['from'][];

const MOST_DAYS = 1095;
const MOST_TIMES = 9;

/** A lab in the book, by its name as jobs write it. */
export async function keepLab(
  shell: Shell,
  shopId: string,
  typedName: string,
  by: string,
): Promise<Checked<{ name: string }>> {
  const name = typedName.trim().replace(/\s+/g, ' ').slice(0, 100);
  const now = shell.clock.now();
  if (name === '')
    return bad({ code: 'lab-name', what: 'The lab has no name.', where: 'name', mend: 'Write its name.' });
  return shell.db.transaction().execute(async (trx) => {
    if (!(await addLab(trx, shopId, name, now))) {
      return bad({
        code: 'lab-there',
        what: `${name} is in the book already.`,
        where: 'name',
        mend: 'Add what it allows beside its name.',
      });
    }
    await addAudit(trx, shopId, { by, act: 'lab added', subject: name, detail: {} }, now);
    return good({ name });
  });
}

/**
 * What a lab allows for one reason: so many days from a named start, so many times. A second line for the same reason takes
 * the place of the first; 0 days take it out.
 */
export async function keepLabTerm(
  shell: Shell,
  shopId: string,
  labId: string,
  typed: { readonly what: string; readonly days: string; readonly from: string; readonly times: string },
  by: string,
): Promise<Checked<{ lab: string; terms: readonly LabTerm[] }>> {
  const now = shell.clock.now();
  const problems: Problem[] = [];
  const what = TERM_REASONS.find((one) => one === typed.what);
  const from = TERM_STARTS.find((one) => one === typed.from);
  const days = figureIn(typed.days);
  const times = typed.times.trim() === '' ? 1 : figureIn(typed.times);
  const refuse = (where: string, said: string, mend: string) =>
    problems.push({ code: `term-${where}`, what: said, where, mend });
  if (!what) refuse('what', `“${typed.what}” is no reason.`, 'Choose one of the list.');
  if (!from) refuse('from', `“${typed.from}” is no day to count from.`, 'Choose one of the list.');
  if (days === undefined || !Number.isInteger(days) || days < 0 || days > MOST_DAYS)
    refuse(
      'days',
      `“${typed.days}” is no number of days.`,
      `Write whole days, 1 to ${MOST_DAYS}; 0 takes the line out.`,
    );
  if (times === undefined || !Number.isInteger(times) || times < 1 || times > MOST_TIMES)
    refuse(
      'times',
      `“${typed.times}” is no number of times.`,
      `Write 1 to ${MOST_TIMES}, or leave it empty for once.`,
    );
  if (problems.length > 0) return bad(...problems);
  return shell.db.transaction().execute(async (trx) => {
    const lab = await lockLab(trx, shopId, labId);
    if (!lab) {
      return bad({
        code: 'no-lab',
        what: 'There is no such lab.',
        where: 'lab',
        mend: 'Open the lens book again.',
      });
    }
    const others = lab.terms.filter((term) => term.what !== what);
    const terms = days === 0 ? others : [...others, { what: what!, days: days!, from: from!, times: times! }];
    await keepLabTerms(trx, shopId, labId, terms);
    await addAudit(trx, shopId, { by, act: 'lab terms kept', subject: lab.name, detail: { terms } }, now);
    return good({ lab: lab.name, terms });
  });
}
