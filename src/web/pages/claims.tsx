import type { Context, Hono } from 'hono';
import { ClaimsPage } from '../../../dashboard/claims/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { noteClaim } from '../../followup/claimOnLab.ts';
import type { Problem } from '../../problems.ts';
import { findCase } from '../../store/cases.ts';
import { findPair } from '../../store/jobs.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { loadClaims } from './claimsView.ts';
import { formValues } from './formValues.ts';

/** Claims on labs: the list, and the next step of each, noted here or on its case. */
export function claimsRoutes(app: Hono<Web>): void {
  app.get('/claims', (c) => page(c));

  app.post('/claims/:jobId', async (c) => {
    const jobId = c.req.param('jobId');
    const done = await note(c, jobId);
    if (done.ok) return back(c, '/claims', { kind: 'done', text: NOTED[done.value.step] });
    const gone = done.problems.find(({ code }) => code === 'no-job');
    return gone ? trouble(c, 404, gone.what, gone.mend) : page(c, { jobId, problems: done.problems });
  });

  app.post('/cases/:id/claim', async (c) => {
    const { shell, shopId } = c.get('room');
    const id = c.req.param('id');
    const file = await findCase(shell.db, shopId, id);
    const pair = file && (await findPair(shell.db, shopId, file.pair_id));
    if (!pair) return trouble(c, 404, 'There is no such case.', 'Open it again from the bench.');
    const done = await note(c, pair.job_id);
    return back(c, `/cases/${id}`, done.ok ? { kind: 'done', text: NOTED[done.value.step] } : done.problems);
  });
}

const NOTED = {
  asked: 'Noted what was asked of the lab. The bench reminds when the lenses have to go back.',
  sent: 'Noted: the lenses are on their way back.',
  promised: 'Noted what the lab has promised. The bench asks after it in a month.',
  credited: 'Noted: credited. The claim is at its end.',
} as const;

async function note(c: Context<Web>, jobId: string) {
  const room = c.get('room');
  const noted = {
    what: field(c, 'what'),
    amount: field(c, 'amount'),
    sendBackBy: field(c, 'send_back_by'),
    reason: field(c, 'reason'),
  };
  return noteClaim(room.shell, room.shopId, jobId, noted, await personName(room));
}

async function page(
  c: Context<Web>,
  refused?: { readonly jobId: string; readonly problems: readonly Problem[] },
) {
  const { shell, shop, now } = await loadShell(c, 'Claims on labs', '/lens-book');
  const view = {
    lines: await loadClaims(c.get('room').shell.db, shop, now),
    refused: refused?.jobId ?? null,
    values: refused ? formValues(c) : {},
    troubles: (refused?.problems ?? []).map(({ where, what, mend }) => ({
      field: where,
      text: `${what} ${mend}`,
    })),
  };
  return c.html(renderDocument(<ClaimsPage shell={shell} view={view} />), refused ? 400 : 200);
}
