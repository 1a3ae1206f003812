import type { Problem } from '../problems.ts';
import type { Db, Trx } from '../store/database.ts';
import { type HoldEvent, holdEvents } from '../store/papers.ts';

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
  return {
    held: newest?.kind === 'held',
    toBeSigned: newest?.kind === 'released' && newest.licence_number === null,
    newest,
  };
}

/** Why a pair may not leave now; empty when it may. */
export async function heldBack(db: Db | Trx, shopId: string, jobId: string): Promise<readonly Problem[]> {
  const { held, newest } = await benchStanding(db, shopId, jobId);
  if (!held || !newest) return [];
  return [
    {
      code: 'held',
      what: `This pair is held at the bench by ${newest.by_name}: ${newest.why}.`,
      where: 'job',
      mend: 'Mend it and check again, then release it on its bench-check slip.',
    },
  ];
}
