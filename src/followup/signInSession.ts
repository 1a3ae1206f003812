import type { Db, Trx } from '../store/database.ts';
import { addSession, openSession, type PersonsSession, seeSession } from '../store/sessions.ts';
import type { Tables } from '../store/tables.ts';
import { hashOf, newSecret } from './secrets.ts';

const HOUR = 3_600_000;
/** Longest time without a sign of the person, and longest at all: a shop's day. */
export const IDLE_MS = 2 * HOUR;
export const LONGEST_MS = 12 * HOUR;
/** Between password and code, or until the second factor is set up. */
const HALF_WAY_MS = 15 * 60_000;
/** A sign of life is noted no oftener. */
const NOTED_EACH_MS = 60_000;

export type Stage = Tables['session']['stage'];
export type From = { readonly address: string; readonly about: string };

/** Begins a session under a new key, and ends the one that went before: a key never outlives a change of rights. */
export async function startSession(
  trx: Trx,
  shopId: string,
  personId: string,
  stage: Stage,
  from: From,
  before: string | undefined,
  now: Date,
): Promise<string> {
  if (before !== undefined)
    await trx
      .updateTable('session')
      .set({ ended_at: now })
      .where('shop_id', '=', shopId)
      .where('session_hash', '=', hashOf(before))
      .where('ended_at', 'is', null)
      .execute();
  const key = newSecret();
  await addSession(trx, {
    shop_id: shopId,
    session_hash: hashOf(key),
    person_id: personId,
    stage,
    about: from.about.slice(0, 80),
    address: from.address.slice(0, 60),
    started_at: now,
    ends_at: new Date(now.getTime() + (stage === 'whole' ? LONGEST_MS : HALF_WAY_MS)),
  });
  return key;
}

/** The session of a key that holds now. `asksByItself`: the page asks again and again without the person, which is no sign of life. */
export async function sessionOf(
  db: Db,
  shopId: string,
  key: string,
  now: Date,
  asksByItself: boolean,
): Promise<PersonsSession | undefined> {
  const hash = hashOf(key);
  const session = await openSession(db, shopId, hash, now, idleSince(now));
  if (session && !asksByItself && now.getTime() - session.seen_at.getTime() > NOTED_EACH_MS)
    await seeSession(db, shopId, hash, now);
  return session;
}

export const idleSince = (now: Date): Date => new Date(now.getTime() - IDLE_MS);
