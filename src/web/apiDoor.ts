import { timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import type { ApiScope } from '../followup/apiTokens.ts';
import { hashOf } from '../followup/secrets.ts';
import { useToken } from '../store/tokens.ts';
import type { House, Web } from './web.ts';

/**
 * Whether a program may come in: a command at this machine with the key that stands in the data folder's lock, or anyone with a
 * token of the shop that has the scope. `scope` left out: only the command.
 */
export async function mayCall(c: Context<Web>, house: House, scope?: ApiScope): Promise<boolean> {
  const key = c.req.header('x-afterfit-key');
  if (key !== undefined) return c.get('caller').here && sameSecret(key, house.key);
  const token = /^Bearer ([\w-]{20,100})$/.exec(c.req.header('authorization') ?? '')?.[1];
  const room = house.room();
  if (token === undefined || scope === undefined || !room) return false;
  const hash = hashOf(token);
  const its = (await room.ofSecret?.(hash)) ?? room;
  c.set('shopOfCaller', its);
  const known = await useToken(its.shell.db, its.shopId, hash, its.shell.clock.now());
  return known?.scopes.includes(scope) ?? false;
}

const sameSecret = (one: string, other: string): boolean =>
  timingSafeEqual(Buffer.from(hashOf(one)), Buffer.from(hashOf(other)));
