import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { endSessions, type PersonsSession } from '../store/sessions.ts';
import {
  accountOf,
  countTry,
  forgiveTries,
  keepFactor,
  signInOf,
  takeRecoveryCode,
  takeStep,
} from '../store/signIns.ts';
import { type FactorSeal, isOpenSecret } from './factorSeal.ts';
import { stepOfCode } from './oneTimeCode.ts';
import { isPassword } from './passwordHash.ts';
import { hashOf } from './secrets.ts';
import type { Shell } from './shell.ts';
import { type From, type Stage, startSession } from './signInSession.ts';

const WINDOW_MS = 15 * 60_000;
const TRIES_OF_ACCOUNT = 5;
const TRIES_OF_ADDRESS = 30;

/** Where somebody signs in from, as it was seen at the line. */
export type Caller = From & {
  /** At this machine itself, with no proxy between. */
  readonly here: boolean;
};

export type Started = { readonly key: string; readonly stage: Stage };

/**
 * The first step: address and password. Whether there is such an account is told neither by words nor by time. Tries are counted
 * for the account and for where they come from; the shop's own machine is counted apart, so that a stranger who guesses
 * cannot lock the shop out.
 */
export async function signIn(
  shell: Shell,
  shopId: string,
  typed: { readonly email: string; readonly password: string },
  caller: Caller,
  before: string | undefined,
): Promise<Checked<Started>> {
  const now = shell.clock.now();
  const email = typed.email.trim().toLowerCase().slice(0, 254);
  const callers = [`account ${caller.here ? 'here' : 'away'} ${hashOf(email)}`, `from ${caller.address}`];
  const held = await heldBack(shell, shopId, callers, now);
  if (held) return bad(held);
  const account = await accountOf(shell.db, shopId, email);
  const right = await isPassword(typed.password.slice(0, 1000), account?.password_hash);
  if (!account || !right) return bad(WRONG);
  if (!caller.here && account.factor_since === null) return bad(ONLY_HERE);
  await forgiveTries(shell.db, shopId, callers);
  const stage = account.factor_since === null ? 'whole' : 'code';
  return shell.db.transaction().execute(async (trx) => {
    const key = await startSession(trx, shopId, account.person_id, stage, caller, before, now);
    if (stage === 'whole') await addAudit(trx, shopId, cameIn(account.name, account.person_id), now);
    return good({ key, stage });
  });
}

/**
 * The second step: the code of the app, or a recovery code, each taken once. A secret that lay as it is is closed at its first
 * good code. One that was closed under a key that is not here any more (records put back elsewhere) says so.
 */
export async function giveCode(
  shell: Shell,
  shopId: string,
  session: PersonsSession,
  typed: string,
  caller: Caller,
  before: string,
  seal: FactorSeal,
): Promise<Checked<Started>> {
  const now = shell.clock.now();
  const personId = session.person_id;
  const callers = [`code ${personId}`];
  const held = await heldBack(shell, shopId, callers, now);
  if (held) {
    await endSessions(shell.db, shopId, personId, { hash: session.session_hash }, now);
    return bad(held);
  }
  const account = await signInOf(shell.db, shopId, personId);
  const kept = account?.factor_secret;
  const secret = kept ? seal.open(kept, personId) : undefined;
  const done = await shell.db.transaction().execute(async (trx) => {
    const step = secret === undefined ? undefined : stepOfCode(secret, typed, now);
    const byCode = step !== undefined && (await takeStep(trx, shopId, personId, step));
    if (byCode && isOpenSecret(kept!))
      await keepFactor(trx, shopId, personId, seal.close(secret!, personId), account!.factor_since, step);
    const byRecovery =
      !byCode && (await takeRecoveryCode(trx, shopId, personId, hashOf(plainCode(typed)), now));
    if (!byCode && !byRecovery) return undefined;
    const how = byRecovery ? { by: 'a recovery code' } : {};
    await addAudit(trx, shopId, { ...cameIn(session.name, personId), detail: how }, now);
    return startSession(trx, shopId, personId, 'whole', caller, before, now);
  });
  if (done === undefined) return bad(kept && secret === undefined ? NO_KEY : WRONG_CODE);
  await forgiveTries(shell.db, shopId, callers);
  return good({ key: done, stage: 'whole' });
}

/** Letters and digits only: people write the codes down with spaces and dashes. */
export const plainCode = (typed: string): string => typed.toLowerCase().replace(/[^a-z0-9]/g, '');

async function heldBack(
  shell: Shell,
  shopId: string,
  callers: readonly string[],
  now: Date,
): Promise<Problem | undefined> {
  let held = false;
  for (const caller of callers) {
    const count = await countTry(shell.db, shopId, caller, WINDOW_MS, now);
    const most = caller.startsWith('from ') ? TRIES_OF_ADDRESS : TRIES_OF_ACCOUNT;
    held ||= count > most;
    // Once for each time that it begins, so that a flood does not fill the log.
    if (count === most + 1)
      await shell.db.transaction().execute((trx) =>
        addAudit(
          trx,
          shopId,
          {
            by: 'Afterfit',
            act: 'sign-in held back',
            subject: shopId,
            detail: { after: most, which: caller.split(' ')[0] },
          },
          now,
        ),
      );
  }
  return held ? TOO_OFTEN : undefined;
}

const cameIn = (name: string, personId: string) => ({
  by: name,
  act: 'signed in',
  subject: personId,
  detail: {},
});

const WRONG: Problem = {
  code: 'sign-in',
  what: 'Address and password do not go together.',
  where: 'password',
  mend: 'Try again. If it is forgotten, the owner makes you a new link on the page People.',
};
const WRONG_CODE: Problem = {
  code: 'sign-in-code',
  what: 'This code is not right, or it was used already.',
  where: 'code',
  mend: 'Wait for the next code of the app, or use one of your recovery codes.',
};
const NO_KEY: Problem = {
  code: 'sign-in-code',
  what: 'The key under which secrets of second factors are kept is not here, so codes of the app cannot be checked.',
  where: 'code',
  mend: 'Use a recovery code, put the key back (keys.secret or AFTERFIT_FACTOR_KEY), or come in by a new link that takes the second factor away: an owner makes it on People, the owner’s own comes from “afterfit owner-link --second-factor-lost”.',
};
const TOO_OFTEN: Problem = {
  code: 'too-often',
  what: 'There were too many tries.',
  where: 'password',
  mend: 'Wait a quarter of an hour, then try again.',
};
const ONLY_HERE: Problem = {
  code: 'only-here',
  what: 'Without a second factor this sign-in works only at the shop’s own machine.',
  where: 'password',
  mend: 'Set one up there on “My sign-in”, or let the owner make you a new link.',
};
