import type { Selectable } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type Session = Selectable<Tables['session']>;
/** A session with whose it is. */
export type PersonsSession = Session & {
  readonly name: string;
  readonly role: 'staff' | 'owner';
  readonly licence_number: string | null;
  readonly licensed_until: string | null;
};

export async function addSession(trx: Trx, session: Omit<Session, 'ended_at' | 'seen_at'>): Promise<void> {
  await trx
    .insertInto('session')
    .values({ ...session, seen_at: session.started_at })
    .execute();
}

/** The session behind a key, if it still holds: not ended, not over, seen since `idleSince`, its person still here. */
export async function openSession(
  db: Db,
  shopId: string,
  hash: string,
  now: Date,
  idleSince: Date,
): Promise<PersonsSession | undefined> {
  return db
    .selectFrom('session as s')
    .innerJoin('person as p', (join) =>
      join.onRef('p.shop_id', '=', 's.shop_id').onRef('p.person_id', '=', 's.person_id'),
    )
    .selectAll('s')
    .select(['p.name', 'p.role', 'p.licence_number', 'p.licensed_until'])
    .where('s.shop_id', '=', shopId)
    .where('s.session_hash', '=', hash)
    .where('s.ended_at', 'is', null)
    .where('s.ends_at', '>', now)
    .where('s.seen_at', '>', idleSince)
    .where('p.active', '=', true)
    .executeTakeFirst();
}

export async function seeSession(db: Db, shopId: string, hash: string, now: Date): Promise<void> {
  await db
    .updateTable('session')
    .set({ seen_at: now })
    .where('shop_id', '=', shopId)
    .where('session_hash', '=', hash)
    .execute();
}

/** Ends one session, or with `hash` undefined every session of a person but `except`. */
export async function endSessions(
  db: Db | Trx,
  shopId: string,
  personId: string,
  which: { readonly hash?: string; readonly except?: string },
  now: Date,
): Promise<void> {
  await db
    .updateTable('session')
    .set({ ended_at: now })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('ended_at', 'is', null)
    .$if(which.hash !== undefined, (query) => query.where('session_hash', '=', which.hash!))
    .$if(which.except !== undefined, (query) => query.where('session_hash', '<>', which.except!))
    .execute();
}

/** Sessions that hold, newest first; of one person, or of everybody. */
export async function openSessions(
  db: Db,
  shopId: string,
  personId: string | undefined,
  now: Date,
  idleSince: Date,
): Promise<Session[]> {
  return db
    .selectFrom('session')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('stage', '=', 'whole')
    .where('ended_at', 'is', null)
    .where('ends_at', '>', now)
    .where('seen_at', '>', idleSince)
    .$if(personId !== undefined, (query) => query.where('person_id', '=', personId!))
    .orderBy('started_at', 'desc')
    .execute();
}
