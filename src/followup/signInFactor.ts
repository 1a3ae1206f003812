import { randomInt } from 'node:crypto';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { PersonsSession } from '../store/sessions.ts';
import { endSessions } from '../store/sessions.ts';
import { findShop } from '../store/shops.ts';
import {
  countTry,
  forgiveTries,
  keepFactor,
  keepPassword,
  keepRecoveryCodes,
  signInOf,
} from '../store/signIns.ts';
import type { FactorSeal } from './factorSeal.ts';
import { newFactorSecret, stepOfCode } from './oneTimeCode.ts';
import { allowPassword } from './passwordAllowed.ts';
import { hashPassword, isPassword } from './passwordHash.ts';
import { hashOf } from './secrets.ts';
import type { Shell } from './shell.ts';
import { type Caller, plainCode, type Started } from './signIn.ts';
import { startSession } from './signInSession.ts';

const CODES = 10;
const WINDOW_MS = 15 * 60_000;
const TRIES = 5;

/** The secret that a person is to put into their code app; kept as proposed until a code proves it. Null: they have one already. */
export async function proposeFactor(
  shell: Shell,
  shopId: string,
  personId: string,
  seal: FactorSeal,
): Promise<string | null> {
  return shell.db.transaction().execute(async (trx) => {
    const account = await signInOf(trx, shopId, personId);
    if (!account || account.factor_since !== null) return null;
    const proposed = account.factor_secret === null ? undefined : seal.open(account.factor_secret, personId);
    if (proposed !== undefined) return proposed;
    const secret = newFactorSecret();
    await keepFactor(trx, shopId, personId, seal.close(secret, personId), null, 0);
    return secret;
  });
}

/** A code of the app proves the second factor. Ten recovery codes are made, shown this once. */
export async function proveFactor(
  shell: Shell,
  shopId: string,
  session: PersonsSession,
  typed: string,
  caller: Caller,
  before: string,
  seal: FactorSeal,
): Promise<Checked<Started & { codes: readonly string[] }>> {
  const now = shell.clock.now();
  const personId = session.person_id;
  const held = await tooOften(shell, shopId, `proof ${personId}`, now);
  if (held) return bad(held);
  return shell.db.transaction().execute(async (trx) => {
    const account = await signInOf(trx, shopId, personId);
    const secret = account?.factor_secret ? seal.open(account.factor_secret, personId) : undefined;
    if (secret === undefined || account!.factor_since !== null) return bad(NOT_PROPOSED);
    const step = stepOfCode(secret, typed, now);
    if (step === undefined) return bad(NOT_RIGHT);
    await keepFactor(trx, shopId, personId, seal.close(secret, personId), now, step);
    const codes = newCodes();
    await keepRecoveryCodes(
      trx,
      shopId,
      personId,
      codes.map((code) => hashOf(plainCode(code))),
      now,
    );
    await endSessions(trx, shopId, personId, { except: session.session_hash }, now);
    const key = await startSession(trx, shopId, personId, 'whole', caller, before, now);
    await addAudit(
      trx,
      shopId,
      { by: session.name, act: 'set up a second factor', subject: personId, detail: {} },
      now,
    );
    return good({ key, stage: 'whole', codes });
  });
}

/** Whether somebody who is signed in is still the one at the screen: the present password, counted like every guess. */
export async function provePassword(
  shell: Shell,
  shopId: string,
  personId: string,
  typed: string,
): Promise<Checked<true>> {
  const held = await tooOften(shell, shopId, `own ${personId}`, shell.clock.now());
  if (held) return bad({ ...held, where: 'current' });
  const account = await signInOf(shell.db, shopId, personId);
  if (!(await isPassword(typed.slice(0, 1000), account?.password_hash))) return bad(NOT_PRESENT);
  await forgiveTries(shell.db, shopId, [`own ${personId}`]);
  return good(true);
}

export type OwnChange =
  | { readonly kind: 'password'; readonly password: string; readonly again: string }
  | { readonly kind: 'new codes' }
  | { readonly kind: 'no factor' };

/** A person changes their own sign-in, and says the present password first. Their other sessions end. */
export async function changeOwnSignIn(
  shell: Shell,
  shopId: string,
  session: PersonsSession,
  current: string,
  change: OwnChange,
  caller: Caller,
): Promise<Checked<{ codes: readonly string[] }>> {
  const now = shell.clock.now();
  const personId = session.person_id;
  const proven = await provePassword(shell, shopId, personId, current);
  if (!proven.ok) return proven;
  if (change.kind === 'no factor' && !caller.here) return bad(NEEDED_AWAY);
  const shop = await findShop(shell.db, shopId);
  const allowed =
    change.kind === 'password'
      ? await allowPassword(change.password, change.again, [session.name, shop.name])
      : undefined;
  if (allowed && !allowed.ok) return allowed;
  const passwordHash = allowed ? await hashPassword(allowed.value) : undefined;
  return shell.db.transaction().execute(async (trx) => {
    const codes = change.kind === 'new codes' ? newCodes() : [];
    if (passwordHash) await keepPassword(trx, shopId, personId, passwordHash, now);
    else
      await keepRecoveryCodes(
        trx,
        shopId,
        personId,
        codes.map((code) => hashOf(plainCode(code))),
        now,
      );
    if (change.kind === 'no factor') await keepFactor(trx, shopId, personId, null, null, 0);
    await endSessions(trx, shopId, personId, { except: session.session_hash }, now);
    await addAudit(
      trx,
      shopId,
      { by: session.name, act: CHANGED[change.kind], subject: personId, detail: {} },
      now,
    );
    return good({ codes });
  });
}

const CHANGED = {
  password: 'changed their password',
  'new codes': 'made new recovery codes',
  'no factor': 'took away their second factor',
} as const;

/**
 * Four groups of six letters and digits that are not mistaken for one another: 31^24, 118 bits each, so that a plain hash of one
 * tells nobody what it is (OWASP ASVS 4.0.3, 2.6.2: a salt is wanted below 112 bits).
 */
function newCodes(): string[] {
  const signs = 'abcdefghjkmnpqrstuvwxyz23456789';
  const group = () => Array.from({ length: 6 }, () => signs[randomInt(signs.length)]).join('');
  return Array.from({ length: CODES }, () => [group(), group(), group(), group()].join('-'));
}

async function tooOften(
  shell: Shell,
  shopId: string,
  caller: string,
  now: Date,
): Promise<Problem | undefined> {
  const count = await countTry(shell.db, shopId, caller, WINDOW_MS, now);
  return count > TRIES ? TOO_OFTEN : undefined;
}

const TOO_OFTEN: Problem = {
  code: 'too-often',
  what: 'There were too many tries.',
  where: 'code',
  mend: 'Wait a quarter of an hour, then try again.',
};
const NOT_PROPOSED: Problem = {
  code: 'factor',
  what: 'There is no second factor to prove.',
  where: 'code',
  mend: 'Open “My sign-in” again.',
};
const NOT_RIGHT: Problem = {
  code: 'factor-code',
  what: 'This code is not right.',
  where: 'code',
  mend: 'Put the secret into the app again, see that its clock is right, and type the newest code.',
};
const NOT_PRESENT: Problem = {
  code: 'password-present',
  what: 'This is not your present password.',
  where: 'current',
  mend: 'Write the one that you signed in with.',
};
const NEEDED_AWAY: Problem = {
  code: 'factor-needed',
  what: 'Beyond the shop’s own machine nobody signs in without a second factor.',
  where: 'current',
  mend: 'Take it away at the shop’s own machine.',
};
