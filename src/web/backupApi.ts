import type { Hono } from 'hono';
import { noteBackupTried } from '../followup/noteBackupTried.ts';
import { mayCall } from './apiDoor.ts';
import type { House, Web } from './web.ts';

/** The loopback doors for `afterfit backup` while this server owns the data folder; their key stands in the folder's lock. */
export function backupApi(app: Hono<Web>, house: House): void {
  app.post('/api/copy', async (c) => {
    const room = house.room();
    if (!(await mayCall(c, house))) return c.json({ error: 'the key is wrong' }, 403);
    if (!room?.copyNow) return c.json({ error: 'there is no embedded database' }, 409);
    return c.json({ copy: await room.copyNow() });
  });
  app.post('/api/backup-tried', async (c) => {
    const room = house.room();
    if (!(await mayCall(c, house))) return c.json({ error: 'the key is wrong' }, 403);
    if (!room) return c.json({ error: 'there is no shop yet' }, 409);
    const said = (await c.req.json().catch(() => undefined)) as { rows?: unknown } | null | undefined;
    const rows = said?.rows;
    if (typeof rows !== 'number' || !Number.isInteger(rows) || rows < 0)
      return c.json({ error: 'rows is no count' }, 400);
    await noteBackupTried(room.shell, room.shopId, { rows });
    return c.body(null, 204);
  });
}
