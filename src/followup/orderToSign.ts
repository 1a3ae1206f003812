import { newId } from '../ids.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Trx } from '../store/database.ts';
import { findJob } from '../store/jobs.ts';
import {
  addToSign,
  bindAlone,
  bindJobs,
  jobsBound,
  orderSigning,
  type Settled,
  settle,
} from '../store/toSign.ts';
import { noSuchJob } from './handOver.ts';
import type { Shell } from './shell.ts';
import { type Acting, mustWait, NOT_LICENSED, signerOf } from './toSign.ts';

/** The one signature that the numbers of a form or a file wait for, where whoever brings them in may not sign. */
export type OneSignature = {
  readonly id: string;
  readonly of: 'form' | 'file';
  /** Null: a program, which has no licence. */
  readonly personId: string | null;
  readonly by: string;
};

export const oneSignature = (
  of: 'form' | 'file',
  who: { readonly personId: string | null; readonly name: string },
  now: Date,
): OneSignature => ({ id: newId(now), of, personId: who.personId, by: who.name });

/**
 * Jobs that came in with numbers wait to be signed, all of a file together. They are on record and go their way all the same: a
 * wearer is asked on the right day whether or not somebody has signed. True where they wait.
 */
export async function jobsToSign(
  trx: Trx,
  shopId: string,
  one: OneSignature,
  jobIds: readonly string[],
  now: Date,
): Promise<boolean> {
  if (jobIds.length === 0 || !(await mustWait(trx, shopId, one.personId, now))) return false;
  if ((await bindJobs(trx, shopId, one.id, jobIds)) === 0) return true;
  const jobId = one.of === 'form' ? jobIds[0]! : null;
  const what = { id: one.id, kind: 'order', jobId, caseId: null, detail: {}, by: one.by } as const;
  await addToSign(trx, shopId, what, now);
  return true;
}

/**
 * Signs the numbers of one job on its page, be they part of a file that waits or turned down before and mended since. Whoever may
 * not sign asks for the signature again where it was turned down.
 */
export async function signOrder(
  shell: Shell,
  shopId: string,
  jobId: string,
  acting: Acting,
): Promise<Checked<{ signed: boolean }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findJob(trx, shopId, jobId))) return bad(noSuchJob);
    const row = await orderSigning(trx, shopId, jobId, true);
    if (!row || row.settled === 'signed') return bad(SIGNED_ALREADY);
    const signer = await signerOf(trx, shopId, acting.personId, now);
    if (!signer && row.settled === null) return bad(NOT_LICENSED);
    const by: Settled | undefined = signer && { name: signer.name, licence: signer.licence_number };
    if (by && row.settled === null && row.job_id !== null)
      await settle(trx, shopId, row.to_sign_id, 'signed', by, now);
    else {
      const id = newId(now);
      const broughtBy = row.settled === null ? row.by_name : acting.name;
      const what = { id, kind: 'order', jobId, caseId: null, detail: {}, by: broughtBy } as const;
      await addToSign(trx, shopId, what, now);
      await bindAlone(trx, shopId, id, jobId);
      if (by) await settle(trx, shopId, id, 'signed', by, now);
      // With its last job signed one by one a file waits for nothing.
      if (by && row.settled === null && (await jobsBound(trx, shopId, row.to_sign_id)) === 0)
        await settle(trx, shopId, row.to_sign_id, 'signed', by, now);
    }
    const act = signer ? 'order signed' : 'order to be signed again';
    await addAudit(trx, shopId, { by: acting.name, act, subject: jobId, detail: {} }, now);
    return good({ signed: signer !== undefined });
  });
}

const SIGNED_ALREADY: Problem = {
  code: 'nothing-to-sign',
  what: 'The numbers of this job wait for no signature.',
  where: 'to-sign',
  mend: 'Nothing to do.',
};
