import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { addToken, endToken } from '../store/tokens.ts';
import { hashOf, newSecret } from './secrets.ts';
import type { Shell } from './shell.ts';

/** What a program may be let to, and nothing beside it. */
export const API_SCOPES = ['import', 'check-job', 'corrections', 'alarm-test'] as const;
export type ApiScope = (typeof API_SCOPES)[number];

/** Makes a token for a program. It is told this once; what is kept is its hash. */
export async function makeToken(
  shell: Shell,
  shopId: string,
  typed: { readonly name: string; readonly scopes: readonly string[] },
  by: string,
): Promise<Checked<{ token: string; name: string }>> {
  const name = typed.name.trim().slice(0, 60);
  const scopes = API_SCOPES.filter((scope) => typed.scopes.includes(scope));
  if (name === '')
    return bad({
      code: 'token-name',
      what: 'The token has no name.',
      where: 'token_name',
      mend: 'Write which program it is for.',
    });
  if (scopes.length === 0)
    return bad({
      code: 'token-scopes',
      what: 'The token would open nothing.',
      where: 'scopes',
      mend: 'Tick what the program may do.',
    });
  const now = shell.clock.now();
  const token = `af_${newSecret()}`;
  await shell.db.transaction().execute(async (trx) => {
    await addToken(trx, shopId, { hash: hashOf(token), name, scopes, by }, now);
    await addAudit(
      trx,
      shopId,
      { by, act: 'token made', subject: name, detail: { scopes: scopes.join(' ') } },
      now,
    );
  });
  return good({ token, name });
}

/** From here on the token opens nothing. */
export async function revokeToken(
  shell: Shell,
  shopId: string,
  tokenId: string,
  by: string,
): Promise<Checked<{ name: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const name = await endToken(trx, shopId, tokenId, now);
    if (name === undefined)
      return bad({
        code: 'no-token',
        what: 'There is no such token.',
        where: 'token',
        mend: 'Open People again.',
      });
    await addAudit(trx, shopId, { by, act: 'token revoked', subject: name, detail: {} }, now);
    return good({ name });
  });
}
