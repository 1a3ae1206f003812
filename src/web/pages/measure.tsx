import type { Context, Hono } from 'hono';
import { MeasureAtHomePage } from '../../../dashboard/measure/page.tsx';
import type { MeasureAtHomeView } from '../../../dashboard/measure/view.ts';
import { MeasureSheetPage } from '../../../dashboard/measure-sheet/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { MEASURE_FOR_US } from '../../../templates/measureForUs.ts';
import { askToMeasure } from '../../followup/askToMeasure.ts';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import { type KeptMeasures, keepMeasures, type Measured } from '../../followup/keepMeasures.ts';
import { linkTo } from '../../followup/letterLinks.ts';
import { localDay } from '../../followup/planSlots.ts';
import { numbersToSign } from '../../followup/toSign.ts';
import { USUAL_ERROR_MM, usualErrorOf } from '../../followup/usualErrors.ts';
import { localeOf } from '../../followup/words.ts';
import type { Problem } from '../../problems.ts';
import { factsOf } from '../../store/jobs.ts';
import { wholeJob } from '../../store/pages/deliveries.ts';
import { findShop } from '../../store/shops.ts';
import { contactsOf, findWearer } from '../../store/wearers.ts';
import { readable, shortDay } from '../format.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { workWhenItLeaves } from '../workWhenItLeaves.ts';
import { factRows } from './caseView.ts';
import { formValues } from './formValues.ts';

/** Measuring at a distance: the sheet, the asking, and what came back. */
export function measureRoutes(app: Hono<Web>): void {
  app.get('/jobs/:id/measure', (c) => page(c));
  app.get('/jobs/:id/measure-sheet', (c) => sheet(c));
  app.post('/jobs/:id/measure/send', async (c) => {
    const room = c.get('room');
    const channel = field(c, 'channel') === 'email' ? 'email' : 'text';
    const onceKey = `${jobId(c)}:${room.shell.clock.now().toISOString().slice(0, 16)}`;
    const by = await personName(room);
    const done = await askToMeasure(room.shell, room.shopId, jobId(c), { channel, onceKey }, by);
    if (!done.ok) return again(c, done.problems);
    void room.work();
    workWhenItLeaves(room);
    return back(c, `/jobs/${jobId(c)}/measure`, {
      kind: 'done',
      text: 'It leaves in ten seconds; until then it can be taken back, in the talk of the case.',
    });
  });
  app.post('/jobs/:id/measure/tape', (c) =>
    keep(c, { how: 'tape', pupilHeightMm: { R: field(c, 'right_mm'), L: field(c, 'left_mm') } }),
  );
  app.post('/jobs/:id/measure/photo', (c) =>
    keep(c, {
      how: 'photo',
      lensHeightMm: field(c, 'lens_height_mm'),
      lensHeightInPicture: field(c, 'lens_height_in_picture'),
      pupilHeightInPicture: {
        R: field(c, 'pupil_right_in_picture'),
        L: field(c, 'pupil_left_in_picture'),
      },
      bridgeToPupilInPicture: {
        R: field(c, 'bridge_right_in_picture'),
        L: field(c, 'bridge_left_in_picture'),
      },
      cameraCm: field(c, 'camera_cm'),
    }),
  );
}

const jobId = (c: Context<Web>): string => c.req.param('id') ?? '';

async function keep(c: Context<Web>, measured: Measured): Promise<Response> {
  const room = c.get('room');
  const done = await keepMeasures(room.shell, room.shopId, jobId(c), measured, await personName(room));
  if (!done.ok) return again(c, done.problems);
  const what = { kind: 'measures', jobId: jobId(c), detail: { how: measured.how } } as const;
  const waits = await numbersToSign(room.shell, room.shopId, room.actor, what);
  const signed = waits ? ' To be signed by a licensed person.' : '';
  return back(c, `/jobs/${jobId(c)}/measure`, { kind: 'done', text: `${keptWords(done.value)}${signed}` });
}

function keptWords({ crossAbovePupilMm: at, why }: KeptMeasures): string {
  if (at) return `Kept. The crosses sit ${place(at.R)} on the right and ${place(at.L)} on the left.`;
  return why === 'no fitting height'
    ? 'Kept. No fitting height is on record, so where the crosses sit cannot be told: add it on the page of the job.'
    : 'Kept. Where the crosses sit was measured on the face before: that number stands.';
}

const place = (mm: number): string =>
  mm === 0 ? 'on the pupil' : `${Math.abs(mm).toFixed(1)} mm ${mm > 0 ? 'above' : 'below'} the pupil`;

async function again(c: Context<Web>, problems: readonly Problem[]): Promise<Response> {
  const gone = problems.find(({ code }) => code === 'no-job');
  return gone ? trouble(c, 404, gone.what, gone.mend) : page(c, problems);
}

async function page(c: Context<Web>, problems: readonly Problem[] = []): Promise<Response> {
  const { shell } = await loadShell(c, 'Measure at a distance', '/deliveries');
  const room = c.get('room');
  const { db } = room.shell;
  const job = await wholeJob(db, room.shopId, jobId(c), ASKED_AT_HAND_OVER);
  const wearer = job && (await findWearer(db, room.shopId, job.wearer_id));
  if (!job || !wearer) return noJob(c);
  const rows = await factsOf(db, room.shopId, job.job_id);
  const facts = gather(rows);
  const link = linkTo(room.shell, room.shopId, 'measure') !== undefined;
  const contacts = await contactsOf(db, room.shopId, wearer.wearer_id);
  const locales = localeOf(wearer) === 'es' ? (['es', 'en'] as const) : (['en', 'es'] as const);
  const view: MeasureAtHomeView = {
    jobId: job.job_id,
    jobNumber: job.job_key,
    jobHref: `/jobs/${job.job_id}`,
    wearer: wearer.name,
    caseHref: job.case_id ? `/cases/${job.case_id}` : null,
    sheets: locales.map((lang) => ({
      words: lang === 'en' ? 'in English' : 'in Spanish',
      href: `/jobs/${job.job_id}/measure-sheet?lang=${lang}`,
    })),
    channels: (['email', 'text'] as const).map((channel) => {
      const contact = contacts.find((one) => one.channel === channel);
      return {
        value: channel,
        words: channel === 'email' ? 'Send it by email' : 'Send the link by text',
        cannot: cannotSend(channel, contact, link, job.case_id !== null),
      };
    }),
    sends: link
      ? 'A link to their own page, in their language, good for thirty days.'
      : 'The whole instructions, in their language; they answer with the numbers or the picture.',
    fittingHeight: heightWords(facts.fitting_height_mm),
    lensHeightMm: typeof facts.frame_b_mm === 'number' ? String(facts.frame_b_mm) : '',
    errors: {
      tape: `Usual error ${USUAL_ERROR_MM.wearer} mm.`,
      photo: `Usual error ${USUAL_ERROR_MM.photo} mm.`,
    },
    kept: factRows(rows.filter(({ key, source }) => usualErrorOf(key, source) !== undefined)).map(
      ({ name, right, left, from }) => ({
        name,
        right,
        left,
        from,
      }),
    ),
    values: c.req.method === 'POST' ? formValues(c) : {},
    troubles: problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` })),
  };
  return c.html(
    renderDocument(
      <MeasureAtHomePage shell={{ ...shell, title: `Measure at a distance: ${wearer.name}` }} view={view} />,
    ),
    problems.length === 0 ? 200 : 400,
  );
}

function cannotSend(
  channel: 'text' | 'email',
  contact: { consent: string; unusable_why: string | null } | undefined,
  link: boolean,
  hasCase: boolean,
): string | null {
  if (!hasCase) return 'only to a wearer who told of trouble; print the sheet';
  if (!contact) return 'no address on record';
  if (contact.consent !== 'given') return 'they have not agreed to it';
  if (contact.unusable_why !== null) return contact.unusable_why;
  return channel === 'text' && !link ? 'the shop has no public address for a link' : null;
}

const heightWords = (held: unknown): string => {
  const of = (eye: 'R' | 'L') =>
    typeof held === 'number' ? held : (held as { R?: number; L?: number } | undefined)?.[eye];
  const [R, L] = [of('R'), of('L')];
  return R === undefined || L === undefined
    ? 'No fitting height is on record: where the crosses sit cannot be told before it is added.'
    : `Ordered fitting height ${R.toFixed(1)} mm on the right, ${L.toFixed(1)} mm on the left.`;
};

async function sheet(c: Context<Web>): Promise<Response> {
  const room = c.get('room');
  const { db, clock } = room.shell;
  const shop = await findShop(db, room.shopId);
  const job = await wholeJob(db, room.shopId, jobId(c), ASKED_AT_HAND_OVER);
  if (!job) return noJob(c);
  const lang = c.req.query('lang') === 'es' ? 'es' : 'en';
  const today = localDay(clock.now(), shop.time_zone);
  const { ask: _ask, ...words } = MEASURE_FOR_US[lang];
  return c.html(
    renderDocument(
      <MeasureSheetPage
        view={{
          ...words,
          lang,
          shopName: shop.name,
          invented: shop.kind === 'invented',
          on: `${shortDay(today)} ${today.slice(0, 4)}`,
          backHref: `/jobs/${job.job_id}/measure`,
          wearer: job.wearer,
          jobNumber: job.job_key,
          phone: shop.settings.phone ? readable(shop.settings.phone) : '',
        }}
      />,
    ),
  );
}

const noJob = (c: Context<Web>): Response =>
  trouble(c, 404, 'There is no such job.', 'Open it again from Deliveries.') as Response;
