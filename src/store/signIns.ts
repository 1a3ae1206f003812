import { type Selectable, sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { Person } from './shops.ts';
import type { Tables } from './tables.ts';

export type SignIn = Selectable<Tables['sign_in']>;
export type SignInLink = Selectable<Tables['sign_in_link']>;

/** Who here signs in with an address: an active person with a password. */
export async function accountOf(
  db: Db | Trx,
  shopId: string,
  email: string,
): Promise<(SignIn & { name: string }) | undefined> {
  return db
    .selectFrom('sign_in as s')
    .innerJoin('person as p', (join) =>
      join.onRef('p.shop_id', '=', 's.shop_id').onRef('p.person_id', '=', 's.person_id'),
    )
    .selectAll('s')
    .select('p.name')
    .where('s.shop_id', '=', shopId)
    .where('p.active', '=', true)
    .where(sql`lower(p.email)`, '=', email.toLowerCase())
    .executeTakeFirst();
}

export async function signInOf(db: Db | Trx, shopId: string, personId: string): Promise<SignIn | undefined> {
  return db
    .selectFrom('sign_in')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .executeTakeFirst();
}

/** Everybody's sign-in, by person: whether there is one, and whether with a second factor. */
export async function signInsOf(db: Db, shopId: string): Promise<ReadonlyMap<string, SignIn>> {
  const rows = await db.selectFrom('sign_in').selectAll().where('shop_id', '=', shopId).execute();
  return new Map(rows.map((row) => [row.person_id, row]));
}

export async function keepPassword(
  trx: Trx,
  shopId: string,
  personId: string,
  passwordHash: string,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('sign_in')
    .values({ shop_id: shopId, person_id: personId, password_hash: passwordHash, password_at: at })
    .onConflict((clash) =>
      clash.columns(['shop_id', 'person_id']).doUpdateSet({ password_hash: passwordHash, password_at: at }),
    )
    .execute();
}

/** A second factor is proposed (`since` null), proven, or taken away (`secret` null). */
export async function keepFactor(
  trx: Trx,
  shopId: string,
  personId: string,
  secret: string | null,
  since: Date | null,
  step: number,
): Promise<void> {
  await trx
    .updateTable('sign_in')
    .set({ factor_secret: secret, factor_since: since, factor_step: step })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
}

/** Takes the code of a half minute, unless it or a later one was taken before; false then. */
export async function takeStep(trx: Trx, shopId: string, personId: string, step: number): Promise<boolean> {
  const done = await trx
    .updateTable('sign_in')
    .set({ factor_step: step })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('factor_step', '<', step)
    .executeTakeFirst();
  return done.numUpdatedRows > 0n;
}

/** New recovery codes end all older ones. */
export async function keepRecoveryCodes(
  trx: Trx,
  shopId: string,
  personId: string,
  hashes: readonly string[],
  at: Date,
): Promise<void> {
  await trx
    .deleteFrom('recovery_code')
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
  if (hashes.length === 0) return;
  await trx
    .insertInto('recovery_code')
    .values(hashes.map((hash) => ({ shop_id: shopId, person_id: personId, code_hash: hash, made_at: at })))
    .execute();
}

export async function takeRecoveryCode(
  trx: Trx,
  shopId: string,
  personId: string,
  hash: string,
  at: Date,
): Promise<boolean> {
  const done = await trx
    .updateTable('recovery_code')
    .set({ used_at: at })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('code_hash', '=', hash)
    .where('used_at', 'is', null)
    .executeTakeFirst();
  return done.numUpdatedRows > 0n;
}

export async function recoveryCodesLeft(db: Db, shopId: string, personId: string): Promise<number> {
  const row = await db
    .selectFrom('recovery_code')
    .select(({ fn }) => fn.countAll<number>().as('left'))
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('used_at', 'is', null)
    .executeTakeFirstOrThrow();
  return Number(row.left);
}

/** A new link ends the older ones of the same person. */
export async function addLink(
  trx: Trx,
  shopId: string,
  link: { hash: string; personId: string; dropsFactor: boolean; by: string; expiresAt: Date },
  at: Date,
): Promise<void> {
  await endLinks(trx, shopId, link.personId, at);
  await trx
    .insertInto('sign_in_link')
    .values({
      shop_id: shopId,
      link_hash: link.hash,
      person_id: link.personId,
      drops_factor: link.dropsFactor,
      made_by: link.by,
      made_at: at,
      expires_at: link.expiresAt,
    })
    .execute();
}

export async function endLinks(trx: Trx, shopId: string, personId: string, at: Date): Promise<void> {
  await trx
    .updateTable('sign_in_link')
    .set({ used_at: at })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('used_at', 'is', null)
    .execute();
}

/** A link that can still be used, with whom it is for. */
export async function openLink(
  db: Db | Trx,
  shopId: string,
  hash: string,
  now: Date,
): Promise<{ link: SignInLink; person: Person } | undefined> {
  const link = await db
    .selectFrom('sign_in_link')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('link_hash', '=', hash)
    .where('used_at', 'is', null)
    .where('expires_at', '>', now)
    .executeTakeFirst();
  if (!link) return undefined;
  const person = await db
    .selectFrom('person')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('person_id', '=', link.person_id)
    .where('active', '=', true)
    .executeTakeFirst();
  return person && { link, person };
}

/** Uses a link up; false where somebody was quicker. */
export async function useLink(trx: Trx, shopId: string, hash: string, at: Date): Promise<boolean> {
  const done = await trx
    .updateTable('sign_in_link')
    .set({ used_at: at })
    .where('shop_id', '=', shopId)
    .where('link_hash', '=', hash)
    .where('used_at', 'is', null)
    .executeTakeFirst();
  return done.numUpdatedRows > 0n;
}

/**
 * Counts a try of a caller within a window of time before it is looked at, so that many at once cannot slip past; answers
 * how many there were with this one.
 */
export async function countTry(
  db: Db,
  shopId: string,
  caller: string,
  windowMs: number,
  now: Date,
): Promise<number> {
  const over = new Date(now.getTime() - windowMs);
  const found = await sql<{ count: number }>`
    insert into sign_in_try as t (shop_id, caller, count, since) values (${shopId}, ${caller}, 1, ${now})
    on conflict (shop_id, caller) do update set
      count = case when t.since <= ${over} then 1 else t.count + 1 end,
      since = case when t.since <= ${over} then ${now} else t.since end
    returning count`.execute(db);
  return found.rows[0]!.count;
}

/** What was done rightly counts for nothing. */
export async function forgiveTries(db: Db, shopId: string, callers: readonly string[]): Promise<void> {
  await db
    .deleteFrom('sign_in_try')
    .where('shop_id', '=', shopId)
    .where('caller', 'in', [...callers])
    .execute();
}

/** Whether some owner can come in from beyond this machine: with a password and a proven second factor. */
export async function hasGuardedOwner(db: Db, shopId: string): Promise<boolean> {
  const row = await db
    .selectFrom('sign_in as s')
    .innerJoin('person as p', (join) =>
      join.onRef('p.shop_id', '=', 's.shop_id').onRef('p.person_id', '=', 's.person_id'),
    )
    .select('p.person_id')
    .where('s.shop_id', '=', shopId)
    .where('p.active', '=', true)
    .where('p.role', '=', 'owner')
    .where('s.factor_since', 'is not', null)
    .executeTakeFirst();
  return row !== undefined;
}

/** The owner who has been here longest, and whether anybody with that role can sign in. */
export async function firstOwner(
  db: Db | Trx,
  shopId: string,
): Promise<{ personId: string; anySignIn: boolean } | undefined> {
  const rows = await db
    .selectFrom('person as p')
    .leftJoin('sign_in as s', (join) =>
      join.onRef('s.shop_id', '=', 'p.shop_id').onRef('s.person_id', '=', 'p.person_id'),
    )
    .select(['p.person_id', 's.password_at'])
    .where('p.shop_id', '=', shopId)
    .where('p.active', '=', true)
    .where('p.role', '=', 'owner')
    .orderBy('p.created_at')
    .execute();
  const first = rows[0];
  return first && { personId: first.person_id, anySignIn: rows.some((row) => row.password_at !== null) };
}
