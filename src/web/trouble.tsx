import type { Context } from 'hono';
import { renderDocument } from '../../dashboard/shell/page.tsx';
import { TroublePage } from '../../dashboard/trouble/page.tsx';
import { sideOf, type Web } from './web.ts';

/** The page that says what is wrong and how to go on. Never a wearer's words or a prescription. */
export function trouble(
  c: Context<Web>,
  status: 400 | 401 | 403 | 404 | 409 | 413 | 429 | 500 | 503,
  what: string,
  mend: string,
  logMark: string | null = null,
) {
  const view = {
    status,
    what,
    mend,
    problems: [],
    logMark,
    side: sideOf(c.get('room'), { tray: 0, cases: 0, danger: 0, toSign: 0, version: '' }),
  };
  return c.html(renderDocument(<TroublePage view={view} />), status);
}
