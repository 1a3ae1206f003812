import { readFile } from 'node:fs/promises';
import type { BrowserContext } from 'playwright-core';
import { story } from './stories.tsx';

export const STORIES_AT = 'http://shop.test';

const FILES: Readonly<Record<string, { path: string; type: string }>> = {
  '/style.css': { path: '../../dashboard/style.css', type: 'text/css' },
  '/island.js': { path: '../../dashboard/island.js', type: 'text/javascript' },
  '/photo.js': { path: '../../dashboard/photo.js', type: 'text/javascript' },
};

/** Gives a browser every story under its name, with the stylesheet and the scripts as they are. */
export async function hostStories(context: BrowserContext): Promise<void> {
  await context.route(`${STORIES_AT}/**`, async (route) => {
    const path = new URL(route.request().url()).pathname;
    const reloads = route.request().headers().referer?.endsWith('-filling') ?? false;
    const file = reloads && path === '/island.js' ? undefined : FILES[path];
    if (file) {
      await route.fulfill({
        contentType: file.type,
        body: await readFile(new URL(file.path, import.meta.url)),
      });
    } else if (path === '/island.js') {
      await route.fulfill({ contentType: 'text/javascript', body: '' });
    } else if (path === '/version' || path.endsWith('/version')) {
      await route.fulfill({ contentType: 'text/plain', body: '41' });
    } else {
      await route.fulfill({ contentType: 'text/html; charset=utf-8', body: story(path.slice(1)) });
    }
  });
}
