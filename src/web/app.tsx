import { readFileSync } from 'node:fs';
import { type Context, Hono } from 'hono';
import { compress } from 'hono/compress';
import type { Log } from '../log.ts';
import { tellOfMachine } from '../tellOfMachine.ts';
import { alarmApi } from './alarmApi.ts';
import { backupApi } from './backupApi.ts';
import { hostOf } from './caller.ts';
import { carrierHooks } from './carrier.ts';
import { checkJobApi } from './checkJobApi.ts';
import { correctionsApi } from './correctionsApi.ts';
import { guards } from './guards.ts';
import { healthRoutes } from './health.ts';
import { importApi } from './importApi.ts';
import { ownerLinkApi } from './ownerLinkApi.ts';
import { benchRoutes } from './pages/bench.tsx';
import { caseRoutes } from './pages/case.tsx';
import { claimsRoutes } from './pages/claims.tsx';
import { deliveriesRoutes } from './pages/deliveries.tsx';
import { findRoutes } from './pages/find.tsx';
import { handOverPapersRoutes } from './pages/handOverPapers.tsx';
import { labFormRoutes } from './pages/labForm.tsx';
import { lensBookRoutes } from './pages/lensBook.tsx';
import { lensDesignsRoutes } from './pages/lensDesigns.tsx';
import { lettersRoutes } from './pages/letters.tsx';
import { logRoutes } from './pages/log.tsx';
import { measureRoutes } from './pages/measure.tsx';
import { mySignInRoutes } from './pages/mySignIn.tsx';
import { papersRoutes } from './pages/papers.tsx';
import { peopleRoutes } from './pages/people.tsx';
import { photoRoutes } from './pages/photo.tsx';
import { prescriptionRoutes } from './pages/prescription.tsx';
import { rehearsalRoutes } from './pages/rehearsal.tsx';
import { remakesRoutes } from './pages/remakes.tsx';
import { ringListRoutes } from './pages/ringList.tsx';
import { sentPicturesRoutes } from './pages/sentPictures.tsx';
import { shopRoutes } from './pages/shop.tsx';
import { toSignRoutes } from './pages/toSign.tsx';
import { trayRoutes } from './pages/tray.tsx';
import { wearerRecordsRoutes } from './pages/wearerRecords.tsx';
import { wearersRoutes } from './pages/wearers.tsx';
import { weightsRoutes } from './pages/weights.tsx';
import { welcomeRoutes } from './pages/welcome.tsx';
import { wordsRoutes } from './pages/words.tsx';
import { noteSeen } from './seen.ts';
import { onlySignedIn } from './sessions.ts';
import { signInRoutes } from './signIn.tsx';
import { trouble } from './trouble.tsx';
import { wearerPages } from './wearerPages.tsx';
import { checkForm, type House, type Web } from './web.ts';

/** All pages and routes over one house. No port, no server: tests ask it by `app.request(…)`. */
export function createApp(house: House, log: Log): Hono<Web> {
  const app = new Hono<Web>();
  app.use(compress());
  guards(app, house, () => house.room()?.shell.clock.now().getTime() ?? 0);
  healthRoutes(app, house, log);
  // Carrier, wearers and people on call come by the public name, so these stand before the names are looked at: they check a
  // signature each. The stylesheet is all that their pages need beside.
  carrierHooks(app, house);
  wearerPages(app, house);
  app.get('/style.css', (c) => asset(c, '../../dashboard/style.css', 'text/css; charset=utf-8'));
  // A page on another site must not reach the shop by a name that it points at this machine.
  app.use(async (c, next) => {
    if (!house.hosts.has(hostOf(c.req.header('host')))) {
      return trouble(
        c,
        403,
        'This address is not one of ours.',
        'Open the address that was printed at the start.',
      );
    }
    return next();
  });
  app.get('/island.js', (c) => asset(c, '../../dashboard/island.js', 'text/javascript; charset=utf-8'));
  alarmApi(app, house);
  importApi(app, house);
  backupApi(app, house);
  correctionsApi(app, house);
  checkJobApi(app, house);
  ownerLinkApi(app, house);
  app.use(onlySignedIn(house));
  app.use(noteSeen());
  app.use(checkForm(house));
  welcomeRoutes(app, house);
  signInRoutes(app, house);
  app.get('/', (c) => c.redirect('/bench', 302));
  benchRoutes(app);
  caseRoutes(app);
  trayRoutes(app);
  sentPicturesRoutes(app);
  ringListRoutes(app);
  findRoutes(app);
  wearersRoutes(app);
  wearerRecordsRoutes(app);
  deliveriesRoutes(app);
  lensDesignsRoutes(app);
  lettersRoutes(app);
  wordsRoutes(app);
  logRoutes(app);
  papersRoutes(app);
  measureRoutes(app);
  photoRoutes(app);
  prescriptionRoutes(app);
  weightsRoutes(app);
  lensBookRoutes(app);
  handOverPapersRoutes(app);
  labFormRoutes(app);
  remakesRoutes(app);
  claimsRoutes(app);
  shopRoutes(app);
  peopleRoutes(app, house);
  mySignInRoutes(app);
  toSignRoutes(app);
  rehearsalRoutes(app);
  app.notFound((c) => trouble(c, 404, 'There is no such page.', 'It may have moved; go on from the bench.'));
  app.onError((error, c) => {
    const told = tellOfMachine(error);
    if (told) {
      log.error({ why: told.what }, 'a page could not be given');
      return trouble(c, 503, told.what, told.mend);
    }
    const mark = crypto.randomUUID().slice(0, 8);
    log.error({ mark, path: c.req.path, error: error.stack ?? error.message }, 'a page failed');
    return trouble(
      c,
      500,
      'Something went wrong here, and nothing was changed.',
      'Try again. If it stays, tell whoever looks after the program the mark below.',
      mark,
    );
  });
  return app;
}

function asset(c: Context<Web>, path: string, type: string) {
  return c.body(readFileSync(new URL(path, import.meta.url), 'utf8'), 200, {
    'content-type': type,
    'cache-control': 'no-cache',
  });
}
