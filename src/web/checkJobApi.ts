import type { Hono } from 'hono';
import { checkJob, jobToCheck } from '../followup/checkJob.ts';
import { standardOfShop } from '../followup/toleranceStandard.ts';
import type { Problem } from '../problems.ts';
import { findShop } from '../store/shops.ts';
import { mayCall } from './apiDoor.ts';
import { type House, roomOfCaller, type Web } from './web.ts';

/** The bench check for programs at this machine: one job as JSON in, its lines out; the shop's standard where none is named. Keeps nothing. */
export function checkJobApi(app: Hono<Web>, house: House): void {
  app.post('/api/check-job', async (c) => {
    const refuse = (status: 400 | 403, error: Problem) => c.json({ error }, status);
    if (!(await mayCall(c, house, 'check-job'))) {
      return refuse(403, {
        code: 'key',
        what: 'The key is wrong.',
        where: 'x-afterfit-key',
        mend: 'It stands in the lock of the data folder while the server runs.',
      });
    }
    let given: unknown;
    try {
      given = JSON.parse(await c.req.text());
    } catch {
      return refuse(400, {
        code: 'not-json',
        what: 'The body is not JSON.',
        where: 'body',
        mend: 'Send one JSON object.',
      });
    }
    const room = roomOfCaller(c, house);
    const usual = room ? { standard: standardOfShop(await findShop(room.shell.db, room.shopId)) } : {};
    const read = jobToCheck.safeParse(isRecord(given) ? { ...usual, ...given } : given);
    if (!read.success) {
      const issue = read.error.issues[0]!;
      return refuse(400, {
        code: 'not-allowed',
        what: issue.message,
        where: issue.path.length > 0 ? issue.path.join('.') : 'body',
        mend: 'Compare it with “afterfit check-job --schema”.',
      });
    }
    return c.json(checkJob(read.data));
  });
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
