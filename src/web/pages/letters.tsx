import type { Hono } from 'hono';
import { LettersPage } from '../../../dashboard/letters/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { loadShell, type Web } from '../web.ts';
import { lettersView } from './lettersView.ts';

/** Every message as it will arrive: nothing is sent that cannot be read here first. */
export function lettersRoutes(app: Hono<Web>): void {
  app.get('/letters', async (c) => {
    const { shell, shop } = await loadShell(c, 'Letters', '/letters');
    const asked = c.req.query('channel');
    const view = lettersView(shop, {
      locale: c.req.query('locale') === 'es' ? 'es' : 'en',
      channel: asked === 'text' || asked === 'email' ? asked : 'all',
    });
    return c.html(renderDocument(<LettersPage shell={shell} view={view} />));
  });
}
