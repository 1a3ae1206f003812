import type { Problem } from '../problems.ts';
import type { Db, Trx } from '../store/database.ts';
import { type HoldEvent, holdEvents } from '../store/papers.ts';
import { hasLicences } from '../store/toSign.ts';

export type Standing = {
  readonly held: boolean;
  /** Released by somebody without a licence: a licensed person has still to sign. */
  readonly toBeSigned: boolean;
  /** The newest thing that was done; undefined when it never was held. */
  readonly newest: HoldEvent | undefined;
};

/** How a pair stands at the bench: held back, released, or never held. */
export async function benchStanding(db: Db | Trx, shopId: string, jobId: string): Promise<Standing> {
  const newest = (await holdEvents(db, shopId, jobId)).at(-1);
  const toBeSigned = newest?.kind === 'released' && newest.licence_number === null;
  // A release by somebody without a licence waits for one who has it, where there is such a one.
  const waits = toBeSigned && (await hasLicences(db, shopId));
  return { held: newest?.kind === 'held' || waits, toBeSigned, newest };
}

/** Why a pair may not leave now; empty when it may. */
export async function heldBack(db: Db | Trx, shopId: string, jobId: string): Promise<readonly Problem[]> {
  const { held, toBeSigned, newest } = await benchStanding(db, shopId, jobId);
  if (!held || !newest) return [];
  if (toBeSigned)
    return [
      {
        code: 'held',
        what: `${newest.by_name} has released this pair, and a licensed person has still to sign that.`,
        where: 'job',
        mend: 'Let it be signed on its bench-check slip, or on the page To sign.',
      },
    ];
  return [
    {
      code: 'held',
      what: `This pair is held at the bench by ${newest.by_name}: ${newest.why}.`,
      where: 'job',
      mend: 'Mend it and check again, then release it on its bench-check slip.',
    },
  ];
}
