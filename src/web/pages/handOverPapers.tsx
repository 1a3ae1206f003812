import type { Context, Hono } from 'hono';
import { BoxCardPage } from '../../../dashboard/box-card/page.tsx';
import type { BoxCardView } from '../../../dashboard/box-card/view.ts';
import { HandOverSheetPage } from '../../../dashboard/hand-over-sheet/page.tsx';
import type { HandOverSheetView } from '../../../dashboard/hand-over-sheet/view.ts';
import type { JobView } from '../../../dashboard/job/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { consentWords } from '../../followup/consentWords.ts';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import { localDay } from '../../followup/planSlots.ts';
import type { Db } from '../../store/database.ts';
import { designOf, factsOf } from '../../store/jobs.ts';
import { type JobWhole, wholeJob } from '../../store/pages/deliveries.ts';
import { findShop, type Shop } from '../../store/shops.ts';
import { findWearer } from '../../store/wearers.ts';
import { shortDay } from '../format.ts';
import { trouble } from '../trouble.tsx';
import type { Web } from '../web.ts';
import { expectationsOf } from './expectationsOf.ts';
import { pairWords } from './views.ts';

/** Sheets that go with a pair: the hand-over sheet for the counter, the card for the parcel. */
export function handOverPapersRoutes(app: Hono<Web>): void {
  app.get('/jobs/:id/hand-over-sheet', async (c) => {
    const { db, shop, now } = await asked(c);
    const view = await loadHandOverSheet(db, shop, c.req.param('id'), now);
    return view ? c.html(renderDocument(<HandOverSheetPage view={view} />)) : noJob(c);
  });
  app.get('/jobs/:id/box-card', async (c) => {
    const { db, shop, now } = await asked(c);
    const view = await loadBoxCard(db, shop, c.req.param('id'), now);
    if (view === 'no number') {
      return trouble(
        c,
        409,
        'The card cannot be printed: the shop’s number is not set.',
        'Set the number that wearers may ring and text on the Shop page.',
      );
    }
    return view ? c.html(renderDocument(<BoxCardPage view={view} />)) : noJob(c);
  });
}

async function asked(c: Context<Web>) {
  const { shell, shopId } = c.get('room');
  return { db: shell.db, shop: await findShop(shell.db, shopId), now: shell.clock.now() };
}

const noJob = (c: Context<Web>) => trouble(c, 404, 'There is no such job.', 'Open it again from Deliveries.');

/** What can be printed of a job. */
export const jobPapers = (jobId: string, way: JobView['way']): JobView['papers'] => [
  { words: 'Hand-over sheet', href: `/jobs/${jobId}/hand-over-sheet` },
  ...(way === 'post' ? [{ words: 'Card for the parcel', href: `/jobs/${jobId}/box-card` }] : []),
  { words: 'Bench-check slip', href: `/jobs/${jobId}/slip` },
  { words: 'Measure at a distance', href: `/jobs/${jobId}/measure` },
  { words: 'Measure on a photograph', href: `/jobs/${jobId}/photo` },
];

/** What is looked at on the face: the name, the key of what was ordered or assumed. */
const MEASURES: readonly (readonly [name: string, key: string | null])[] = [
  ['Cross against pupil, mm (+ above)', null],
  ['Fitting height, mm', 'fitting_height_mm'],
  ['Monocular PD, mm', 'wearer_pd_mm'],
  ['Vertex distance, mm', 'vertex_mm'],
  ['Tilt, degrees', 'tilt_deg'],
  ['Wrap, degrees', 'wrap_deg'],
];

const TEACH_MULTIFOCAL = [
  'far: chin level, eyes straight ahead',
  'middle: eyes down a little, chin level',
  'near: eyes down, print in front, not to the side',
  'stairs: chin tucked, look through the top, hand on the rail',
  'driving: not before all is clear and sure; sit in the car first',
  'wear them from morning on; the old pair stays in the drawer',
];
const TEACH_LIGHT_REACTIVE = [
  'light-reactive: dark outside within a minute, clear again over several minutes',
  'behind a windscreen: most stay nearly clear; in great heat paler, in cold slower to clear',
];
const TEACH_ALL = ['cleaning: warm water, mild soap, a clean cloth; never dry'];

/** Common practice, no source: from this age on, new multifocals and falls are spoken of. */
const FALLS_AGE = 65;

async function loadHandOverSheet(
  db: Db,
  shop: Shop,
  jobId: string,
  now: Date,
): Promise<HandOverSheetView | undefined> {
  const job = await wholeJob(db, shop.shop_id, jobId, ASKED_AT_HAND_OVER);
  if (!job) return undefined;
  const design = await designOf(db, shop.shop_id, job.design_id);
  const facts: Record<string, unknown> = {
    ...(design?.corridor_mm ? { corridor_mm: design.corridor_mm } : {}),
    ...(design?.min_height_mm ? { design_min_height_mm: design.min_height_mm } : {}),
    ...gather(await factsOf(db, shop.shop_id, jobId)),
  };
  const today = localDay(now, shop.time_zone);
  const ageYears = job.birth_year === null ? undefined : Number(today.slice(0, 4)) - job.birth_year;
  const { multifocal, lightReactive } = kindOf(job, design);
  const expect = expectationsOf(facts, { firstMultifocal: job.first_multifocal, ageYears });
  return {
    shopName: shop.name,
    invented: shop.kind === 'invented',
    on: shortDay(today, 0),
    jobHref: `/jobs/${jobId}`,
    jobNumber: job.job_key,
    wearer: job.wearer,
    pair: pairWords(job.design, job.first_multifocal),
    measures: MEASURES.map(([name, key]) => ({ name, ...orderedOf(key, facts) })),
    expect: expect.map(({ words, number }) => `${words}: ${number}`),
    teach: [
      ...(multifocal ? TEACH_MULTIFOCAL : []),
      ...(lightReactive ? TEACH_LIGHT_REACTIVE : []),
      ...TEACH_ALL,
    ],
    consentWords: consentWords(shop),
    cautions: [
      ...(multifocal && job.first_multifocal === true && ageYears !== undefined && ageYears >= FALLS_AGE
        ? [
            `${FALLS_AGE} or older and new to multifocals: the floor looks nearer or softer through the lower part. Speak of steps and kerbs; offer a pair for walking outdoors.`,
          ]
        : []),
      ...(lightReactive
        ? ['Tinted lenses are not for driving at dusk or night unless they are clear enough by local rules.']
        : []),
    ],
  };
}

const kindOf = (
  job: Pick<JobWhole, 'first_multifocal'>,
  design: { kind: string; light_reactive: unknown } | undefined,
): { multifocal: boolean; lightReactive: boolean } => ({
  multifocal: design?.kind !== 'single vision' || job.first_multifocal === true,
  lightReactive: (design?.light_reactive ?? null) !== null,
});

function orderedOf(
  key: string | null,
  facts: Readonly<Record<string, unknown>>,
): { right: string; left: string } {
  if (key === null) return { right: '0', left: '0' };
  const value = facts[key];
  if (typeof value === 'number') return { right: String(value), left: String(value) };
  const { R, L } = (typeof value === 'object' && value !== null ? value : {}) as { R?: unknown; L?: unknown };
  const words = (one: unknown) => (typeof one === 'number' ? String(one) : '');
  return { right: words(R), left: words(L) };
}

async function loadBoxCard(
  db: Db,
  shop: Shop,
  jobId: string,
  now: Date,
): Promise<BoxCardView | 'no number' | undefined> {
  const job = await wholeJob(db, shop.shop_id, jobId, ASKED_AT_HAND_OVER);
  const wearer = job && (await findWearer(db, shop.shop_id, job.wearer_id));
  if (!job || !wearer) return undefined;
  const { phone } = shop.settings;
  if (!phone) return 'no number';
  const design = await designOf(db, shop.shop_id, job.design_id);
  const lang = wearer.locale === 'es' ? 'es' : 'en';
  return {
    lang,
    shopName: shop.name,
    invented: shop.kind === 'invented',
    on: shortDay(localDay(now, shop.time_zone), 0),
    jobHref: `/jobs/${jobId}`,
    multifocal: kindOf(job, design).multifocal,
    ...CARD[lang](phone, shop.name),
  };
}

type CardWords = Pick<BoxCardView, 'title' | 'zones' | 'hello' | 'agrees' | 'phone' | 'stop' | 'danger'>;

/** HELLO is consent, a check of the number and the day first worn in one; the card says what it agrees to. */
const CARD: Readonly<Record<'en' | 'es', (phone: string, shop: string) => CardWords>> = {
  en: (phone, shop) => ({
    title: 'Your new glasses',
    zones: { far: 'top: far away', middle: 'below: screen and table', near: 'bottom: reading' },
    hello: `Text HELLO to ${phone} when you put them on.`,
    agrees: `With it you agree that ${shop} may text you about your new glasses: about five short messages over 30 days. You need not; your glasses are yours either way. Your phone company may charge for texts.`,
    phone: `Or ring ${phone}.`,
    stop: 'Answer STOP at any time and it ends.',
    danger:
      'New flashes or specks, a curtain over your sight, sudden loss of sight, or a painful red eye: do not wait for us. See an eye doctor or go to an emergency department today.',
  }),
  es: (phone, shop) => ({
    title: 'Sus lentes nuevos',
    zones: { far: 'arriba: lejos', middle: 'debajo: pantalla y mesa', near: 'abajo: leer' },
    hello: `Envíe HOLA por mensaje al ${phone} cuando se los ponga.`,
    agrees: `Con ello acepta que ${shop} le escriba sobre sus lentes nuevos: unos cinco mensajes cortos en 30 días. No es obligatorio; los lentes son suyos de todos modos. Su compañía de teléfono puede cobrarle los mensajes.`,
    phone: `O llame al ${phone}.`,
    stop: 'Responda STOP en cualquier momento y se termina.',
    danger:
      'Destellos o manchas nuevas, una cortina en la vista, pérdida repentina de la vista o un ojo rojo que duele: no nos espere. Vaya hoy mismo a un oculista o a urgencias.',
  }),
};
