import type { Hono } from 'hono';
import { LettersPage } from '../../../dashboard/letters/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { trouble } from '../trouble.tsx';
import { loadShell, type Web } from '../web.ts';
import { lettersView } from './lettersView.ts';
import { wearerPageShown } from './wearerPageShown.tsx';

/** Every message as it will arrive: nothing is sent that cannot be read here first. */
export function lettersRoutes(app: Hono<Web>): void {
  app.get('/letters', async (c) => {
    const { shell, shop } = await loadShell(c, 'Letters', '/letters');
    const asked = c.req.query('channel');
    const view = lettersView(shop, {
      locale: c.req.query('locale') === 'es' ? 'es' : 'en',
      channel: asked === 'text' || asked === 'email' ? asked : 'all',
      linksAt: c.get('room').shell.links?.(shop.shop_id)?.base,
    });
    return c.html(renderDocument(<LettersPage shell={shell} view={view} />));
  });
  app.get('/letters/pages/:page', async (c) => {
    const { shop, now } = await loadShell(c, 'Letters', '/letters');
    const page = wearerPageShown(shop, now, {
      page: c.req.param('page'),
      lang: c.req.query('lang') === 'es' ? 'es' : 'en',
      air: c.req.query('air'),
      what: c.req.query('what'),
    });
    if (!page) return trouble(c, 404, 'There is no such page.', 'Go back to Letters.');
    return c.html(renderDocument(page));
  });
}
