import { randomUUID } from 'node:crypto';
import type { Context, Hono } from 'hono';
import { CallSheetPage } from '../../../dashboard/call-sheet/page.tsx';
import type { CallSheetView } from '../../../dashboard/call-sheet/view.ts';
import { RingListPage } from '../../../dashboard/ring-list/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { actOnCase } from '../../followup/actOnCase.ts';
import { noteRingAttempt } from '../../followup/ringAttempt.ts';
import { takeRung } from '../../followup/ringSaid.ts';
import type { Problem } from '../../problems.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { loadCallSheet, loadRingList } from './ringListView.ts';

/** Who to ring, and the call sheet of each; a call sheet opens for whoever rings in, too. */
export function ringListRoutes(app: Hono<Web>): void {
  app.get('/ring-list', async (c) => {
    const { shell, shop, now } = await loadShell(c, 'Ring list', '/ring-list');
    const view = await loadRingList(c.get('room').shell.db, shop, now);
    return c.html(renderDocument(<RingListPage shell={shell} view={view} />));
  });

  app.get('/ring-list/:id', (c) => callSheet(c));

  app.post('/ring-list/:id/attempt', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const tried = { what: field(c, 'what'), againAt: field(c, 'again_at'), note: field(c, 'note') };
    const done = await noteRingAttempt(room.shell, room.shopId, id, tried, await personName(room));
    if (!done.ok) return refused(c, done.problems);
    return back(c, '/ring-list', { kind: 'done', text: ATTEMPT_NOTED[done.value.what] });
  });

  app.post('/ring-list/:id/said', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const said = {
      answer: field(c, 'answer'),
      text: field(c, 'text'),
      onceKey: field(c, 'once') || randomUUID(),
    };
    const done = await takeRung(room.shell, room.shopId, id, said, await personName(room));
    if (!done.ok) return refused(c, done.problems, { values: { text: said.text, answer: said.answer } });
    void room.work();
    return back(c, `/ring-list/${id}`, {
      kind: 'done',
      text: 'Written down and read like any reply. What to ask next stands below; the ring list is done with them.',
    });
  });

  app.post('/ring-list/:id/answer', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const { db } = room.shell;
    const { shop, now } = await loadShell(c, 'Call', '/ring-list');
    const by = await personName(room);
    const sheet = await loadCallSheet(db, shop, id, by, now);
    if (!sheet?.caseId)
      return trouble(c, 404, 'There is no open case to ask about.', 'Open it again from the ring list.');
    const act = {
      kind: 'answered',
      questionId: field(c, 'question_id'),
      answer: field(c, 'answer'),
    } as const;
    const done = await actOnCase(room.shell, room.shopId, sheet.caseId, act, by);
    if (!done.ok) return refused(c, done.problems);
    return back(c, `/ring-list/${id}`, {
      kind: 'done',
      text: 'The answer is noted and the causes are weighed again.',
    });
  });
}

const ATTEMPT_NOTED = {
  spoke: 'Noted that you spoke.',
  'no answer': 'Noted: no answer.',
  'left message': 'Noted: name and number left, nothing else.',
  'wrong number': 'Noted: this number is not used again, neither for calls nor for texts.',
  'again at': 'Noted when to ring again.',
} as const;

async function callSheet(
  c: Context<Web>,
  typed?: Pick<CallSheetView, 'values'>,
  status: 200 | 400 = 200,
  troubles: CallSheetView['troubles'] = [],
) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Call', '/ring-list');
  const view = await loadCallSheet(
    room.shell.db,
    shop,
    c.req.param('id') ?? '',
    shell.person ?? 'the shop',
    now,
  );
  if (!view) return trouble(c, 404, 'There is no such wearer.', 'Open the sheet again from the ring list.');
  return c.html(
    renderDocument(
      <CallSheetPage
        shell={{ ...shell, title: `Call: ${view.wearer}` }}
        view={{ ...view, once: randomUUID(), values: typed?.values ?? {}, troubles }}
      />,
    ),
    status,
  );
}

/** Trouble is shown on the sheet, and nothing typed is lost; a wearer who is not there has no sheet. */
function refused(c: Context<Web>, problems: readonly Problem[], typed?: Pick<CallSheetView, 'values'>) {
  const gone = problems.find(({ code }) => code === 'no-wearer' || code === 'no-case');
  if (gone) return trouble(c, 404, gone.what, gone.mend);
  return callSheet(
    c,
    typed,
    400,
    problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` })),
  );
}
