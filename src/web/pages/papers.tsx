import type { Context, Hono } from 'hono';
import { BenchSlipPage } from '../../../dashboard/bench-slip/page.tsx';
import { OrderNotePage } from '../../../dashboard/order-note/page.tsx';
import { PrescriberNotePage } from '../../../dashboard/prescriber-note/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { holdJob, releaseJob } from '../../followup/benchHold.ts';
import { keepUnsigned, type Signing, signDraft } from '../../followup/signDraft.ts';
import type { Checked, Problem } from '../../problems.ts';
import { findShop } from '../../store/shops.ts';
import type { PaperKind } from '../../store/tables.ts';
import { trouble } from '../trouble.tsx';
import { field, personName, type Web } from '../web.ts';
import { loadOrderNote, loadPrescriberNote, loadSlip } from './papersView.ts';

/** Sheets that are printed: the bench check of a pair, the order note of a remake, the note to the prescriber. */
export function papersRoutes(app: Hono<Web>): void {
  app.get('/jobs/:id/slip', (c) => slip(c));
  app.post('/jobs/:id/slip/hold', async (c) => {
    const { room, id, by } = await asked(c);
    return answer(c, slip, await holdJob(room.shell, room.shopId, id, field(c, 'why'), by));
  });
  app.post('/jobs/:id/slip/release', async (c) => {
    const { room, id, by } = await asked(c);
    const release = { personId: room.actor.personId, why: field(c, 'why') };
    return answer(c, slip, await releaseJob(room.shell, room.shopId, id, release, by));
  });

  paperRoutes(app, 'remake', orderNote);
  paperRoutes(app, 'prescriber', prescriberNote);
}

type Page = (c: Context<Web>, told?: string) => Response | Promise<Response>;

function paperRoutes(app: Hono<Web>, kind: PaperKind, page: Page): void {
  app.get(`/cases/:id/${kind}`, (c) => page(c));
  app.post(`/cases/:id/${kind}/sign`, async (c) => {
    const { room, id, by } = await asked(c);
    const seen = Number.parseInt(field(c, 'seen_version'), 10);
    const done = await signDraft(
      room.shell,
      room.shopId,
      id,
      kind,
      signingOf(c),
      by,
      Number.isNaN(seen) ? undefined : seen,
    );
    return answer(c, page, done);
  });
  app.post(`/cases/:id/${kind}/keep`, async (c) => {
    const { room, id, by } = await asked(c);
    return answer(c, page, await keepUnsigned(room.shell, room.shopId, id, kind, signingOf(c), by));
  });
}

async function asked(c: Context<Web>) {
  const room = c.get('room');
  return { room, id: c.req.param('id') ?? '', by: await personName(room) };
}

const signingOf = (c: Context<Web>): Signing => ({
  // Who signs is who is signed in, whatever a form says.
  personId: c.get('room').actor.personId,
  cause: field(c, 'cause'),
  question: field(c, 'question'),
  refractionChecked: field(c, 'refraction_checked') === 'yes',
  checkedByOther: field(c, 'checked_by_other') === 'yes',
});

/** On to the paper as it stands now, or the paper again with what is to be mended. */
function answer(c: Context<Web>, page: Page, done: Checked<unknown>): Response | Promise<Response> {
  if (done.ok) return c.redirect(c.req.path.replace(/\/(hold|release|sign|keep)$/, ''), 303);
  const gone = done.problems.find(({ code }) => code === 'no-job' || code === 'no-case');
  return gone ? trouble(c, 404, gone.what, gone.mend) : page(c, told(done.problems));
}

const told = (problems: readonly Problem[]): string =>
  problems.map(({ what, mend }) => `${what} ${mend}`).join(' ');

async function slip(c: Context<Web>, problem = ''): Promise<Response> {
  const { room, id } = await asked(c);
  const { db, clock } = room.shell;
  const shop = await findShop(db, room.shopId);
  const view = await loadSlip(db, shop, id, clock.now(), c.get('csrf'), problem);
  if (!view) return trouble(c, 404, 'There is no such job.', 'Open it again from Deliveries.');
  return c.html(
    renderDocument(<BenchSlipPage view={{ ...view, me: room.actor.personId }} />),
    problem === '' ? 200 : 400,
  );
}

/** What was asked for in the address, or, after a refusal, in the form. */
const draftAsked = (c: Context<Web>, problem: string) => {
  const cause = c.req.method === 'POST' ? field(c, 'cause') : c.req.query('cause');
  return {
    ...(cause ? { cause } : {}),
    afresh: problem !== '' || c.req.query('draft') === 'new',
    trouble: problem,
  };
};

async function orderNote(c: Context<Web>, problem = ''): Promise<Response> {
  const { room, id } = await asked(c);
  const { db, clock } = room.shell;
  const shop = await findShop(db, room.shopId);
  const view = await loadOrderNote(db, shop, id, clock.now(), draftAsked(c, problem));
  if (view === 'no case') return noCase(c);
  if (view === 'no cause')
    return trouble(
      c,
      409,
      'No cause is named that a remake could be drafted for.',
      'Note what was measured on the case first; the causes are then weighed.',
    );
  return c.html(
    renderDocument(<OrderNotePage csrf={c.get('csrf')} view={{ ...view, me: room.actor.personId }} />),
    problem === '' ? 200 : 400,
  );
}

async function prescriberNote(c: Context<Web>, problem = ''): Promise<Response> {
  const { room, id } = await asked(c);
  const { db, clock } = room.shell;
  const shop = await findShop(db, room.shopId);
  const question = c.req.method === 'POST' ? { question: field(c, 'question') } : {};
  const view = await loadPrescriberNote(db, shop, id, clock.now(), {
    ...draftAsked(c, problem),
    ...question,
  });
  if (view === 'no case' || view === 'no cause') return noCase(c);
  return c.html(
    renderDocument(<PrescriberNotePage csrf={c.get('csrf')} view={{ ...view, me: room.actor.personId }} />),
    problem === '' ? 200 : 400,
  );
}

const noCase = (c: Context<Web>): Response =>
  trouble(c, 404, 'There is no such case.', 'Open it again from the bench.') as Response;
