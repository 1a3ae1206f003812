import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { addCaseEvent, findCase } from '../store/cases.ts';
import type { Db, Trx } from '../store/database.ts';
import { type LicensedPerson, licensedOn } from '../store/papers.ts';
import { findShop } from '../store/shops.ts';
import { OUTCOMES } from '../store/tables.ts';
import { addToSign, closureWaits, hasLicences, lockToSign, settle, type ToSign } from '../store/toSign.ts';
import { actOnCase, type CaseAct } from './actOnCase.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

/** Who does something: the person at the screen. */
export type Acting = { readonly personId: string; readonly name: string };

/**
 * Whether what a person does must wait for a licensed one. Where nobody is marked as licensed at all nothing waits, since nobody
 * could ever sign (the pages say so); a licence that ran out does not open that door.
 */
export async function mustWait(
  db: Db | Trx,
  shopId: string,
  personId: string | null,
  now: Date,
): Promise<boolean> {
  if (personId !== null && (await signerOf(db, shopId, personId, now))) return false;
  return hasLicences(db, shopId);
}

/** The person as one who may sign today; undefined where their licence does not hold. */
export async function signerOf(
  db: Db | Trx,
  shopId: string,
  personId: string,
  now: Date,
): Promise<LicensedPerson | undefined> {
  const today = localDay(now, (await findShop(db, shopId)).time_zone);
  return (await licensedOn(db, shopId, today)).find((one) => one.person_id === personId);
}

/** Numbers that somebody without a licence put down: on record at once, and to be signed. True where they wait. */
export async function numbersToSign(
  shell: Shell,
  shopId: string,
  acting: Acting,
  what: {
    readonly kind: 'measures' | 'numbers';
    readonly jobId?: string;
    readonly caseId?: string;
    readonly detail: Readonly<Record<string, unknown>>;
  },
): Promise<boolean> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await mustWait(trx, shopId, acting.personId, now))) return false;
    const { kind, jobId = null, caseId = null, detail } = what;
    await addToSign(trx, shopId, { kind, jobId, caseId, detail, by: acting.name }, now);
    return true;
  });
}

type Closing = Extract<CaseAct, { kind: 'close' }>;

/**
 * Closes a case. One with a danger sign that somebody without a licence closes stays open until a licensed person has signed
 * the closure.
 */
export async function closeCase(
  shell: Shell,
  shopId: string,
  caseId: string,
  act: Closing,
  acting: Acting,
  seenVersion: number | undefined,
): Promise<Checked<{ waits: boolean }>> {
  const now = shell.clock.now();
  const waits = await shell.db.transaction().execute(async (trx): Promise<Checked<boolean>> => {
    const file = await findCase(trx, shopId, caseId);
    if (!file?.danger || file.closed_at !== null) return good(false);
    if (!(await mustWait(trx, shopId, acting.personId, now))) return good(false);
    if (seenVersion !== undefined && seenVersion !== file.version) return good(false);
    if (!OUTCOMES.includes(act.outcome)) return good(false);
    if (await closureWaits(trx, shopId, caseId)) return bad(WAITS_ALREADY);
    const what = { kind: 'urgent closure', jobId: null, caseId, detail: act, by: acting.name } as const;
    await addToSign(trx, shopId, what, now);
    const text = `Closure as “${act.outcome}” asked for: to be signed by a licensed person`;
    await addCaseEvent(trx, shopId, caseId, 'note', { text }, acting.name, now);
    return good(true);
  });
  if (!waits.ok) return waits;
  if (waits.value) return good({ waits: true });
  const done = await actOnCase(shell, shopId, caseId, act, acting.name, seenVersion);
  return done.ok ? good({ waits: false }) : done;
}

/** A licensed person signs what waits, or turns it down. A closure that is signed closes the case. */
export async function settleToSign(
  shell: Shell,
  shopId: string,
  id: string,
  how: 'signed' | 'turned down',
  acting: Acting,
): Promise<Checked<ToSign>> {
  const now = shell.clock.now();
  const signed = await shell.db.transaction().execute(async (trx): Promise<Checked<ToSign>> => {
    const signer = await signerOf(trx, shopId, acting.personId, now);
    if (!signer) return bad(NOT_LICENSED);
    const row = await lockToSign(trx, shopId, id);
    if (!row) return bad(GONE);
    const by = { name: signer.name, licence: signer.licence_number };
    await settle(trx, shopId, id, how, by, now);
    const subject = row.job_id ?? row.case_id ?? shopId;
    await addAudit(trx, shopId, { by: signer.name, act: `${row.kind} ${how}`, subject, detail: {} }, now);
    if (row.case_id !== null) {
      const text = `${KIND_WORDS[row.kind]} of ${row.by_name} ${how} by ${signer.name}, licence ${signer.licence_number}`;
      await addCaseEvent(trx, shopId, row.case_id, 'note', { text }, signer.name, now);
    }
    return good(row);
  });
  if (!signed.ok || how === 'turned down' || signed.value.kind !== 'urgent closure') return signed;
  const { case_id, detail } = signed.value;
  const closed = await actOnCase(shell, shopId, case_id!, detail as Closing, acting.name);
  return closed.ok ? signed : closed;
}

export const KIND_WORDS: Readonly<Record<ToSign['kind'], string>> = {
  measures: 'Measurement',
  numbers: 'Number of the prescription or order',
  'urgent closure': 'Closure',
  order: 'Numbers of a new job',
};

const WAITS_ALREADY: Problem = {
  code: 'waits-already',
  what: 'A closure of this case waits to be signed already.',
  where: 'outcome',
  mend: 'A licensed person finds it on the page To sign.',
};
export const NOT_LICENSED: Problem = {
  code: 'not-licensed',
  what: 'You are not marked as licensed today.',
  where: 'person',
  mend: 'Let a licensed person sign, or mend the licence on the page People.',
};
const GONE: Problem = {
  code: 'nothing-to-sign',
  what: 'This was signed or turned down already.',
  where: 'to-sign',
  mend: 'Nothing to do.',
};
