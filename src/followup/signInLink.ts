import { readEmail, reservedEmail } from '../intake/emailAddress.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Trx } from '../store/database.ts';
import { changePersonName } from '../store/people.ts';
import { endSessions } from '../store/sessions.ts';
import { findShop, type Person, people, type Shop } from '../store/shops.ts';
import {
  addLink,
  endLinks,
  firstOwner,
  keepFactor,
  keepPassword,
  keepRecoveryCodes,
  openLink,
  signInOf,
  useLink,
} from '../store/signIns.ts';
import { noSuchPerson } from './keepPerson.ts';
import { allowPassword } from './passwordAllowed.ts';
import { hashPassword } from './passwordHash.ts';
import { hashOf, newSecret } from './secrets.ts';
import type { Shell } from './shell.ts';
import type { Caller, Started } from './signIn.ts';
import { startSession } from './signInSession.ts';

const DAY = 86_400_000;
const LINK_MS = 3 * DAY;
/** The owner's own is printed in a terminal and used at once. */
const OWNER_LINK_MS = DAY;

export const SIGN_IN_LINK_PATH = '/sign-in/link/';

/**
 * A link by which a person sets a password of their own: an invitation, or a new one where it was forgotten. It works once and
 * for three days; only its hash is kept, so it is shown this once.
 */
export async function makeLink(
  shell: Shell,
  shopId: string,
  personId: string,
  dropsFactor: boolean,
  by: string,
): Promise<Checked<{ path: string; name: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const person = (await people(trx, shopId)).find((one) => one.person_id === personId && one.active);
    if (!person) return bad(noSuchPerson);
    const path = await putLink(trx, shopId, personId, dropsFactor, by, LINK_MS, now);
    return good({ path, name: person.name });
  });
}

/**
 * The owner's own link, for whoever sits at the machine: at the first start, and by command when it was forgotten. Undefined where
 * `onlyFirst` is asked for and an owner can sign in already.
 */
export async function ownerLink(
  shell: Shell,
  shopId: string,
  asked: { readonly onlyFirst: boolean; readonly dropsFactor: boolean },
): Promise<string | undefined> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const owner = await firstOwner(trx, shopId);
    if (!owner || (asked.onlyFirst && owner.anySignIn)) return undefined;
    return putLink(trx, shopId, owner.personId, asked.dropsFactor, 'the terminal', OWNER_LINK_MS, now);
  });
}

async function putLink(
  trx: Trx,
  shopId: string,
  personId: string,
  dropsFactor: boolean,
  by: string,
  lastsMs: number,
  now: Date,
): Promise<string> {
  const secret = newSecret();
  const link = {
    hash: hashOf(secret),
    personId,
    dropsFactor,
    by,
    expiresAt: new Date(now.getTime() + lastsMs),
  };
  await addLink(trx, shopId, link, now);
  await addAudit(
    trx,
    shopId,
    { by, act: 'sign-in link made', subject: personId, detail: { dropsFactor } },
    now,
  );
  return `${SIGN_IN_LINK_PATH}${secret}`;
}

/** Whom a link is for, if it can still be used. Looking at it changes nothing. */
export async function lookAtLink(shell: Shell, shopId: string, secret: string): Promise<Person | undefined> {
  return (await openLink(shell.db, shopId, hashOf(secret), shell.clock.now()))?.person;
}

export type Joining = {
  readonly name: string;
  readonly email: string;
  readonly password: string;
  readonly again: string;
};

/**
 * Uses a link: the person gives an address and a password, and is in. Older sessions of theirs end. From beyond this machine the
 * second factor comes next and nothing before it.
 */
export async function joinByLink(
  shell: Shell,
  shopId: string,
  secret: string,
  typed: Joining,
  caller: Caller,
  before: string | undefined,
): Promise<Checked<Started>> {
  const now = shell.clock.now();
  const found = await openLink(shell.db, shopId, hashOf(secret), now);
  if (!found) return bad(NO_LINK);
  const shop = await findShop(shell.db, shopId);
  const read = readJoining(typed, shop);
  if (!read.ok) return read;
  const { name, email } = read.value;
  const allowed = await allowPassword(typed.password, typed.again, [name, email, shop.name]);
  if (!allowed.ok) return allowed;
  const passwordHash = await hashPassword(allowed.value);
  return shell.db.transaction().execute(async (trx) => {
    const { person_id: personId } = found.person;
    const others = (await people(trx, shopId)).filter((one) => one.active && one.person_id !== personId);
    if (others.some((one) => one.email?.toLowerCase() === email.toLowerCase())) return bad(TAKEN);
    if (!(await useLink(trx, shopId, hashOf(secret), now))) return bad(NO_LINK);
    await endLinks(trx, shopId, personId, now);
    await changePersonName(trx, shopId, personId, name, email);
    await keepPassword(trx, shopId, personId, passwordHash, now);
    if (found.link.drops_factor) {
      await keepFactor(trx, shopId, personId, null, null, 0);
      await keepRecoveryCodes(trx, shopId, personId, [], now);
    }
    await endSessions(trx, shopId, personId, {}, now);
    const hasFactor = (await signInOf(trx, shopId, personId))?.factor_since != null;
    const stage = hasFactor ? 'code' : caller.here ? 'whole' : 'set-up';
    const key = await startSession(trx, shopId, personId, stage, caller, before, now);
    await addAudit(trx, shopId, { by: name, act: 'set a password', subject: personId, detail: {} }, now);
    return good({ key, stage });
  });
}

function readJoining(typed: Joining, shop: Shop): Checked<{ name: string; email: string }> {
  const name = typed.name.trim().replace(/\s+/g, ' ');
  const problems: Problem[] = [];
  if (name === '' || name.length > 80)
    problems.push({
      code: 'person-name',
      what: 'The name is missing or too long.',
      where: 'name',
      mend: 'Write 1 to 80 letters.',
    });
  const email = readEmail(typed.email.trim());
  if (!email.ok) problems.push(...email.problems);
  else if (shop.kind === 'invented' && !reservedEmail(email.value))
    problems.push({
      code: 'person-email',
      what: 'In the invented shop nobody is real.',
      where: 'email',
      mend: 'Give an address at example.com.',
    });
  if (problems.length > 0 || !email.ok) return bad(...problems);
  return good({ name, email: email.value });
}

const NO_LINK: Problem = {
  code: 'no-link',
  what: 'This link was used already, or its time is over.',
  where: 'link',
  mend: 'Ask the owner for a new one; the owner’s own comes from the command “afterfit owner-link”.',
};
const TAKEN: Problem = {
  code: 'email-taken',
  what: 'Somebody else here has this address.',
  where: 'email',
  mend: 'Give one of your own: it is what you sign in with.',
};
