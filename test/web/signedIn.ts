import type { Clock } from '../../src/clock.ts';
import { startSession } from '../../src/followup/signInSession.ts';
import type { Db } from '../../src/store/database.ts';
import { formTokenOf, maskedToken } from '../../src/web/sessionCookie.ts';

/** What a browser holds of somebody who is signed in: the cookie, and the token that its forms carry. */
export type SignedIn = { readonly cookie: string; readonly csrf: string };

/**
 * Signs a person of the shop in without a password: its owner, or whom `personId` names. A sign-in ends after two hours of the
 * clock without a request, so a test that moves its clock on signs in anew.
 */
export async function signedIn(db: Db, shopId: string, clock: Clock, personId?: string): Promise<SignedIn> {
  const id =
    personId ??
    (
      await db
        .selectFrom('person')
        .select('person_id')
        .where('shop_id', '=', shopId)
        .where('role', '=', 'owner')
        .orderBy('created_at')
        .executeTakeFirstOrThrow()
    ).person_id;
  const from = { address: '127.0.0.1', about: 'a test' };
  const key = await db
    .transaction()
    .execute((trx) => startSession(trx, shopId, id, 'whole', from, undefined, clock.now()));
  return { cookie: `afterfit_session=${key}`, csrf: maskedToken(formTokenOf(key)) };
}
