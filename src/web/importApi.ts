import type { Hono } from 'hono';
import { importReport } from '../commands/import.ts';
import { type DateOrder, importJobs } from '../followup/importJobs.ts';
import { mayCall } from './apiDoor.ts';
import { type House, roomOfCaller, type Web } from './web.ts';

const ORDERS = ['dmy', 'mdy', 'ymd'];

/** The loopback door for `afterfit import` while this server owns the data folder; its key stands in the folder's lock. */
export function importApi(app: Hono<Web>, house: House): void {
  app.post('/api/import', async (c) => {
    if (!(await mayCall(c, house, 'import'))) {
      return c.json(
        {
          error: {
            code: 'key',
            what: 'The key is wrong.',
            where: 'x-afterfit-key',
            mend: 'Use the afterfit command.',
          },
        },
        403,
      );
    }
    const room = roomOfCaller(c, house);
    if (!room) {
      return c.json(
        {
          error: {
            code: 'no-shop',
            what: 'There is no shop yet.',
            where: 'server',
            mend: 'Open the page and choose first.',
          },
        },
        409,
      );
    }
    const asked = c.req.query('date_order');
    const dateOrder = ORDERS.includes(asked ?? '') ? (asked as DateOrder) : undefined;
    const bytes = new Uint8Array(await c.req.arrayBuffer());
    const done = await importJobs(room.shell, room.shopId, bytes, {
      take: c.req.query('take') !== 'false',
      by: 'import',
      personId: null,
      dateOrder,
    });
    return c.json(importReport(done));
  });
}
