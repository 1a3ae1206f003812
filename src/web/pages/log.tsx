import type { Hono } from 'hono';
import { LogPage } from '../../../dashboard/log/page.tsx';
import type { LogView } from '../../../dashboard/log/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { LOG_ABOUTS, type LogAbout, type LogRow, logRows } from '../../store/pages/log.ts';
import { shortTime } from '../format.ts';
import { loadShell, type Web } from '../web.ts';
import { ACT_WORDS } from './views.ts';

const LINES = 50;

const ABOUTS: Readonly<Record<LogAbout, string>> = {
  all: 'everything',
  sent: 'messages',
  unsure: 'our messages that may not have arrived',
  acts: 'what was done',
  settings: 'settings, people and sign-ins',
  seen: 'who looked at what',
};

/** Who did what, when; what was sent and how it stands. Nothing can be changed here. */
export function logRoutes(app: Hono<Web>): void {
  app.get('/log', async (c) => {
    const room = c.get('room');
    const { shell, shop, now } = await loadShell(c, 'Log', '/log');
    const about = LOG_ABOUTS.find((one) => one === c.req.query('about')) ?? 'all';
    const rows = await logRows(
      room.shell.db,
      room.shopId,
      about,
      placeOf(c.req.query('after') ?? ''),
      LINES + 1,
    );
    const shown = rows.slice(0, LINES);
    const last = shown.at(-1);
    const view: LogView = {
      about,
      abouts: LOG_ABOUTS.map((value) => ({ value, words: ABOUTS[value] })),
      lines: shown.map((row) => lineOf(row, now, shop.time_zone)),
      olderHref:
        rows.length > LINES && last
          ? `/log?about=${about}&after=${encodeURIComponent(`${last.at.toISOString()}_${last.id}`)}`
          : null,
    };
    return c.html(renderDocument(<LogPage shell={shell} view={view} />));
  });
}

/** A place in the log as an address carries it; undefined: the newest. */
function placeOf(text: string): { at: Date; id: string } | undefined {
  const found = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)_([\w-]{1,60})$/.exec(text);
  const at = new Date(found?.[1] ?? '');
  return found && !Number.isNaN(at.getTime()) ? { at, id: found[2]! } : undefined;
}

function lineOf(row: LogRow, now: Date, zone: string): LogView['lines'][number] {
  return {
    at: shortTime(row.at, now, zone),
    by: row.by_name,
    ...saidOf(row),
    subject: row.wearer ?? row.subject ?? 'the shop',
    href: row.case_id
      ? `/cases/${row.case_id}`
      : row.job_id
        ? `/jobs/${row.job_id}`
        : row.wearer_id
          ? `/wearers/${row.wearer_id}`
          : null,
  };
}

/** Only words of our own and figures: notes and wearers' words stay on the case. */
function saidOf({ kind, act, detail }: LogRow): { act: string; detail: string } {
  const said = (key: string) => (typeof detail[key] === 'string' ? detail[key] : '');
  if (kind === 'message') {
    const stands = act === 'unsure' ? 'may not have arrived' : act;
    return {
      act: `${said('channel')} ${said('purpose').replaceAll('-', ' ')}`,
      detail: [stands, said('why')].filter((one) => one !== '').join(': '),
    };
  }
  if (kind === 'audit') return { act, detail: settingsTold(detail) };
  if (act === 'act') {
    return {
      act: `chose ${(ACT_WORDS[said('act')] ?? said('act')).toLowerCase()}`,
      detail: [said('way'), said('state')].filter((one) => one !== '').join(', '),
    };
  }
  return { act: CASE_WORDS[act] ?? act, detail: act === 'closed' ? said('outcome') : said('state') };
}

const CASE_WORDS: Readonly<Record<string, string>> = {
  opened: 'opened the case',
  held: 'held the case',
  'I have it': 'said “I have it”',
  released: 'let the case go',
  note: 'noted on the case',
  fact: 'put a measurement on the case',
  answered: 'put down an answer',
  asked: 'asked a question',
  closed: 'closed the case',
  reopened: 'opened the case again',
  state: 'set the case',
  reply: 'answered',
};

/** The flat figures and choices of a change, in one line. */
const settingsTold = (detail: Readonly<Record<string, unknown>>): string =>
  Object.entries(detail)
    .filter(([, value]) => ['string', 'number', 'boolean'].includes(typeof value) && value !== '')
    .map(([key, value]) => `${key.replaceAll('_', ' ')} ${String(value).slice(0, 80)}`)
    .join(', ');
