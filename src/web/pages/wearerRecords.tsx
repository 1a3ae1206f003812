import type { Context, Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WearerRecordsPage } from '../../../dashboard/wearer-records/page.tsx';
import type { WearerRecordsView } from '../../../dashboard/wearer-records/view.ts';
import { eraseWearer } from '../../followup/eraseWearer.ts';
import { exportWearer, readableExport } from '../../followup/exportWearer.ts';
import { provePassword } from '../../followup/signInFactor.ts';
import { rowsOfWearer } from '../../store/wearerRecords.ts';
import { findWearer } from '../../store/wearers.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';

/** The owner's page for what is on record of one wearer: taken out whole, or erased. */
export function wearerRecordsRoutes(app: Hono<Web>): void {
  app.get('/wearers/:id/records', (c) => page(c));
  app.post('/wearers/:id/records.json', (c) => taken(c, 'json'));
  app.post('/wearers/:id/records.txt', (c) => taken(c, 'txt'));
  app.post('/wearers/:id/erase', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const done = await eraseWearer(room.shell, room.shopId, id, field(c, 'name'), await personName(room));
    if (done.ok)
      return back(c, '/wearers', { kind: 'done', text: 'Erased. Their pair still counts, without a name.' });
    if (done.problems.some((one) => one.code === 'no-wearer')) return notThere(c);
    const troubles = done.problems.map((one) => ({ field: one.where, text: `${one.what} ${one.mend}` }));
    return page(c, troubles, 400);
  });
}

async function page(c: Context<Web>, troubles: WearerRecordsView['troubles'] = [], status: 200 | 400 = 200) {
  const { shell: room, shopId } = c.get('room');
  const id = c.req.param('id') ?? '';
  const wearer = await findWearer(room.db, shopId, id);
  if (!wearer) return notThere(c);
  const { shell } = await loadShell(c, `Records of ${wearer.name}`, '/wearers');
  const kinds = [...(await rowsOfWearer(room.db, shopId, id))].map(([table, rows]) => ({
    words: table.replaceAll('_', ' '),
    count: rows.length,
  }));
  const asksPassword = c.get('session') !== undefined;
  const view: WearerRecordsView = { wearerId: id, name: wearer.name, kinds, asksPassword, troubles };
  return c.html(renderDocument(<WearerRecordsPage shell={shell} view={view} />), status);
}

/** Whoever takes all records of somebody out says their password first: an open screen is not enough. */
async function taken(c: Context<Web>, form: 'json' | 'txt') {
  const room = c.get('room');
  const id = c.req.param('id') ?? '';
  const session = c.get('session');
  if (session) {
    const current = String(c.get('form').get('current') ?? '');
    const proven = await provePassword(room.shell, room.shopId, session.person_id, current);
    if (!proven.ok) {
      const troubles = proven.problems.map((one) => ({ field: one.where, text: `${one.what} ${one.mend}` }));
      return page(c, troubles, 400);
    }
  }
  const all = await exportWearer(room.shell, room.shopId, id, await personName(room));
  if (!all) return notThere(c);
  c.header('content-disposition', `attachment; filename="records-${id.replace(/[^\w-]/g, '')}.${form}"`);
  c.header('cache-control', 'no-store');
  return form === 'json' ? c.json(all) : c.text(readableExport(all));
}

const notThere = (c: Context<Web>) =>
  trouble(c, 404, 'There is no such wearer.', 'Open it again from Wearers.');
