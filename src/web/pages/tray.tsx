import type { Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { TrayPage } from '../../../dashboard/tray/page.tsx';
import type { TrayItem, TrayView } from '../../../dashboard/tray/view.ts';
import { correctLabels, doneWithTray, linkFromTray } from '../../followup/settleTray.ts';
import { labelMeanings } from '../../replies/labels.ts';
import { LABELS } from '../../replies/types.ts';
import type { Db } from '../../store/database.ts';
import {
  type Candidate,
  type TrayRow,
  trayItems,
  wearersAtAddress,
  wearersLike,
} from '../../store/pages/tray.ts';
import type { Shop } from '../../store/shops.ts';
import { readable, shortDay, shortTime } from '../format.ts';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { LABEL_GROUPS } from './labelGroups.ts';
import { sentPictures } from './sentPictures.tsx';
import { channelWords, markedWords } from './views.ts';

const ITEMS = 50;

/** Every message that is not wholly accounted for, until a person has looked. */
export function trayRoutes(app: Hono<Web>): void {
  app.get('/tray', async (c) => {
    const room = c.get('room');
    const { shell, shop, now } = await loadShell(c, 'Tray', '/tray');
    const rows = await trayItems(room.shell.db, room.shopId, ITEMS);
    const find = {
      inboundId: c.req.query('for') ?? '',
      words: (c.req.query('find') ?? '').trim().slice(0, 80),
    };
    const items: TrayItem[] = [];
    const ids = rows.map((row) => row.inbound_id);
    const pictures = await sentPictures(room.shell.db, room.shopId, ids);
    for (const row of rows) {
      const own = pictures.get(row.inbound_id) ?? [];
      items.push(await trayItem(room.shell.db, shop, row, find, now, own));
    }
    const view: TrayView = {
      items,
      labelGroups: LABEL_GROUPS.map(({ group, name }) => ({
        name,
        labels: LABELS.filter((label) => labelMeanings[label].group === group).map((id) => ({
          id,
          means: labelMeanings[id].name,
        })),
      })),
    };
    return c.html(renderDocument(<TrayPage shell={shell} view={view} />));
  });

  app.post('/tray/:id/link', async (c) => {
    const room = c.get('room');
    const done = await linkFromTray(room.shell, room.shopId, c.req.param('id'), field(c, 'wearer_id'));
    void room.work();
    return back(c, '/tray', done.ok ? { kind: 'done', text: 'Linked, and read as theirs.' } : done.problems);
  });
  app.post('/tray/:id/labels', async (c) => {
    const room = c.get('room');
    const labels = c.get('form').getAll('labels').map(String);
    const by = await personName(room);
    const done = await correctLabels(
      room.shell,
      room.shopId,
      c.req.param('id'),
      labels,
      field(c, 'reason') || null,
      by,
    );
    void room.work();
    return back(
      c,
      '/tray',
      done.ok ? { kind: 'done', text: 'Corrected. What follows from it is done.' } : done.problems,
    );
  });
  app.post('/tray/:id/done', async (c) => {
    const room = c.get('room');
    const done = await doneWithTray(room.shell, room.shopId, c.req.param('id'));
    return back(
      c,
      '/tray',
      done.ok ? { kind: 'done', text: 'Settled: nothing more follows from it.' } : done.problems,
    );
  });
}

async function trayItem(
  db: Db,
  shop: Shop,
  row: TrayRow,
  find: { inboundId: string; words: string },
  now: Date,
  pictures: TrayItem['pictures'],
): Promise<TrayItem> {
  const wanted = find.inboundId === row.inbound_id ? find.words : '';
  const candidates =
    row.wearer_id !== null
      ? []
      : wanted !== ''
        ? await wearersLike(db, shop.shop_id, wanted)
        : await wearersAtAddress(db, shop.shop_id, row.channel, row.from_address);
  return {
    inboundId: row.inbound_id,
    from: row.wearer ?? readable(row.from_address),
    channel: channelWords(row.channel),
    came: shortTime(row.received_at, now, shop.time_zone),
    words: markedWords(row.body, row.spans, row.left_over),
    why: whyWords(row),
    danger: row.urgent === true,
    wearer:
      row.wearer_id === null
        ? null
        : {
            name: row.wearer ?? '',
            href: `/wearers/${row.wearer_id}`,
            caseHref: row.case_id ? `/cases/${row.case_id}` : null,
          },
    candidates: candidates.map(candidateView),
    find: wanted,
    labels: row.labels ?? [],
    pictures,
  };
}

const candidateView = (one: Candidate) => ({
  wearerId: one.wearer_id,
  name: one.name,
  detail: one.job_key
    ? `job ${one.job_key}, first worn ${one.first_worn_on ? shortDay(one.first_worn_on) : 'not yet'}`
    : 'no pair yet',
});

function whyWords(row: TrayRow): string {
  switch (row.tray_why) {
    case 'no label':
      return 'Nothing in it was read as one of the known answers.';
    case 'weighty words left over': {
      const words = (row.left_over ?? [])
        .map(({ start, end }) => `“${row.body.slice(start, end)}”`)
        .join(', ');
      return `These words weigh, and nothing accounts for them: ${words}.`;
    }
    case 'unknown sender':
      return 'Nobody on record has this number or address.';
    case 'two wearers possible':
      return 'Two wearers share this number and both may have written it.';
    case 'no pair under 60 days':
      return 'Nobody at this number has new glasses of the last 60 days.';
    case 'picture or voice only':
      return 'It holds no words: a picture or a voice message.';
    default:
      return row.tray_why === null ? '' : `It ${row.tray_why}.`;
  }
}
