import type { Hono } from 'hono';
import { corrections, MOST_CORRECTIONS } from '../store/pages/words.ts';
import { mayCall } from './apiDoor.ts';
import { type House, roomOfCaller, type Web } from './web.ts';

/** The loopback door for `afterfit lessons` while this server owns the data folder. */
export function correctionsApi(app: Hono<Web>, house: House): void {
  app.get('/api/corrections', async (c) => {
    const refuse = (status: 403 | 409, what: string, mend: string) =>
      c.json({ error: { code: 'corrections', what, where: 'server', mend } }, status);
    if (!(await mayCall(c, house, 'corrections'))) {
      return refuse(403, 'The key is wrong.', 'Use the afterfit command.');
    }
    const room = roomOfCaller(c, house);
    if (!room) return refuse(409, 'There is no shop yet.', 'Open the page and choose first.');
    return c.json(await corrections(room.shell.db, room.shopId, MOST_CORRECTIONS));
  });
}
