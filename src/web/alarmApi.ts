import type { Hono } from 'hono';
import { testAlarm } from '../followup/alarmTest.ts';
import { mayCall } from './apiDoor.ts';
import type { House, Web } from './web.ts';

/** The loopback door for `afterfit alarm-test` while this server owns the data folder. */
export function alarmApi(app: Hono<Web>, house: House): void {
  app.post('/api/alarm-test', async (c) => {
    const refuse = (status: 403 | 409, what: string, mend: string) =>
      c.json({ error: { code: 'alarm-test', what, where: 'server', mend } }, status);
    if (!(await mayCall(c, house, 'alarm-test'))) {
      return refuse(403, 'The key is wrong.', 'Use the afterfit command.');
    }
    const room = house.room();
    if (!room) return refuse(409, 'There is no shop yet.', 'Open the page and choose first.');
    return c.json(await testAlarm(room.shell, room.shopId));
  });
}
