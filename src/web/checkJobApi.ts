import type { Hono } from 'hono';
import { checkJob, jobToCheck } from '../followup/checkJob.ts';
import type { Problem } from '../problems.ts';
import type { House, Web } from './web.ts';

/** The bench check for programs at this machine: one job as JSON in, its lines out. Keeps nothing. */
export function checkJobApi(app: Hono<Web>, house: House): void {
  app.post('/api/check-job', async (c) => {
    const refuse = (status: 400 | 403, error: Problem) => c.json({ error }, status);
    if (c.req.header('x-afterfit-key') !== house.key) {
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
    const read = jobToCheck.safeParse(given);
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
