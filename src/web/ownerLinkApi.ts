import type { Hono } from 'hono';
import { ownerLink } from '../followup/signInLink.ts';
import { mayCall } from './apiDoor.ts';
import type { House, Web } from './web.ts';

/** The loopback door for `afterfit owner-link` while this server owns the data folder. */
export function ownerLinkApi(app: Hono<Web>, house: House): void {
  app.post('/api/owner-link', async (c) => {
    if (!(await mayCall(c, house))) return c.json({ error: 'the key is wrong' }, 403);
    const room = house.room();
    if (room?.kind !== 'own') return c.json({ error: 'no shop of one’s own is open' }, 409);
    const dropsFactor = c.req.query('second_factor_lost') === 'yes';
    const path = await ownerLink(room.shell, room.shopId, { onlyFirst: false, dropsFactor });
    return c.json({ link: `${house.pagesUrl ?? ''}${path}` });
  });
}
