import type { Context, Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WearerPage } from '../../../dashboard/wearer/page.tsx';
import type { WearerView } from '../../../dashboard/wearer/view.ts';
import { WearersPage } from '../../../dashboard/wearers/page.tsx';
import { changePreference } from '../../followup/changePreference.ts';
import { mendZone } from '../../followup/mendZone.ts';
import { stopByStaff } from '../../followup/stopByStaff.ts';
import type { Problem } from '../../problems.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { typedQuery } from './sought.ts';
import { loadWearer, loadWearers } from './wearersView.ts';

/** Everyone in their first weeks, and one wearer whole. */
export function wearersRoutes(app: Hono<Web>): void {
  app.get('/wearers', async (c) => {
    const room = c.get('room');
    const { shell, shop, now } = await loadShell(c, 'Wearers', '/wearers');
    const asked = {
      q: typedQuery(c.req.query('q')),
      show: c.req.query('show') === 'all' ? ('all' as const) : ('settling' as const),
      page: c.req.query('page'),
    };
    const view = await loadWearers(room.shell.db, shop, asked, now);
    return c.html(renderDocument(<WearersPage shell={shell} view={view} />));
  });

  app.get('/wearers/:id', (c) => page(c));

  app.post('/wearers/:id/zone', async (c) => {
    const { shell, shopId } = c.get('room');
    const id = c.req.param('id');
    const done = await mendZone(shell, shopId, id, field(c, 'time_zone'), await personName(c.get('room')));
    if (!done.ok) return refused(c, done.problems);
    const zones = done.value.zones.map((zone) => zone.replaceAll('_', ' ')).join(' or ');
    return back(c, `/wearers/${id}`, {
      kind: 'done',
      text: `Their clock is now ${zones}; what is planned moved with it.`,
    });
  });

  app.post('/wearers/:id/stop', async (c) => {
    const { shell, shopId } = c.get('room');
    const id = c.req.param('id');
    const by = await personName(c.get('room'));
    const done = await stopByStaff(shell, shopId, id, field(c, 'channel'), field(c, 'why'), by);
    if (!done.ok) return refused(c, done.problems, 'at the top');
    const what = done.value.channels
      .map((channel) => (channel === 'text' ? 'texts' : 'emails'))
      .join(' and ');
    return back(c, `/wearers/${id}`, { kind: 'done', text: `Stopped: no more ${what} to them.` });
  });

  app.post('/wearers/:id/prefers', async (c) => {
    const { shell, shopId } = c.get('room');
    const id = c.req.param('id');
    const done = await changePreference(shell, shopId, id, field(c, 'prefers'));
    if (!done.ok) return refused(c, done.problems, 'at the top');
    return back(c, `/wearers/${id}`, { kind: 'done', text: 'Noted how they like to be reached.' });
  });
}

async function page(c: Context<Web>, troubles: WearerView['troubles'] = [], status: 200 | 400 = 200) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Wearer', '/wearers');
  const view = await loadWearer(room.shell.db, shop, c.req.param('id') ?? '', now, troubles);
  if (!view) return trouble(c, 404, 'There is no such wearer.', 'Open it again from Wearers.');
  return c.html(renderDocument(<WearerPage shell={{ ...shell, title: view.name }} view={view} />), status);
}

/** Trouble is told at its field, or where there is none for it, at the top; a wearer who is not there has no page. */
function refused(
  c: Context<Web>,
  problems: readonly Problem[],
  where: 'at its field' | 'at the top' = 'at its field',
) {
  const gone = problems.find((one) => one.code === 'no-wearer');
  if (gone) return trouble(c, 404, gone.what, gone.mend);
  if (where === 'at the top') return back(c, `/wearers/${c.req.param('id')}`, problems);
  return page(
    c,
    problems.map((one) => ({ field: one.where, text: `${one.what} ${one.mend}` })),
    400,
  );
}
