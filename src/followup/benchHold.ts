import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { findJob } from '../store/jobs.ts';
import { addHoldEvent, licensedOn } from '../store/papers.ts';
import { findShop } from '../store/shops.ts';
import { benchStanding } from './benchStanding.ts';
import { noSuchJob } from './handOver.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

/** Holds a pair back before it leaves: until it is released it can neither be handed over nor posted. */
export async function holdJob(
  shell: Shell,
  shopId: string,
  jobId: string,
  why: string,
  by: string,
): Promise<Checked<null>> {
  const now = shell.clock.now();
  const reason = why.trim();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    if (!job) return bad(noSuchJob);
    if (job.handed_over_on !== null || job.posted_on !== null || job.arrived_on !== null)
      return refuse('left-already', 'The pair has left already.', 'Ring the wearer, or open a case.');
    const before = await benchStanding(trx, shopId, jobId);
    if (before.held && !before.toBeSigned)
      return refuse('held-already', 'The pair is held already.', 'Nothing to do.');
    if (reason === '') return refuse('why', 'It is not said why.', 'Write what is out.', 'why');
    const event = { jobId, kind: 'held' as const, why: reason, by, licenceNumber: null };
    await addHoldEvent(trx, shopId, event, now);
    await addAudit(
      trx,
      shopId,
      { by, act: 'held at the bench', subject: jobId, detail: { why: reason } },
      now,
    );
    return good(null);
  });
}

export type Release = {
  /** Who releases it, or signs a release afterwards; without a licence of theirs it is to be signed later. */
  readonly personId: string;
  readonly why: string;
};

/**
 * Lets a held pair go. A licensed person releases it with their licence; without one it is noted as to be signed, and may be
 * signed afterwards in the same way.
 */
export async function releaseJob(
  shell: Shell,
  shopId: string,
  jobId: string,
  { personId, why }: Release,
  by: string,
): Promise<Checked<{ toBeSigned: boolean }>> {
  const now = shell.clock.now();
  const reason = why.trim();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findJob(trx, shopId, jobId))) return bad(noSuchJob);
    const { held: back, toBeSigned } = await benchStanding(trx, shopId, jobId);
    const held = back && !toBeSigned;
    if (!held && !toBeSigned)
      return refuse('not-held', 'The pair is not held and nothing is to be signed.', 'Nothing to do.');
    if (held && reason === '')
      return refuse('why', 'It is not said why it may go.', 'Write what was mended or accepted.', 'why');
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const signer = (await licensedOn(trx, shopId, today)).find((one) => one.person_id === personId);
    if (!signer && !held)
      return refuse(
        'not-licensed',
        'You are not marked as licensed today.',
        'Let a licensed person sign, or mend the licence on the page People.',
      );
    const event = {
      jobId,
      kind: held ? ('released' as const) : ('signed' as const),
      why: reason === '' ? 'release signed' : reason,
      by: signer?.name ?? by,
      licenceNumber: signer?.licence_number ?? null,
    };
    await addHoldEvent(trx, shopId, event, now);
    await addAudit(
      trx,
      shopId,
      { by, act: `${event.kind} at the bench`, subject: jobId, detail: { why: event.why, signer: event.by } },
      now,
    );
    return good({ toBeSigned: event.licenceNumber === null });
  });
}

const refuse = (code: string, what: string, mend: string, where = 'job'): Checked<never> =>
  bad({ code, what, where, mend });
