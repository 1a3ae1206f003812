import type { Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { AnswerPage } from '../../dashboard/for-wearers/answer/page.tsx';
import { FirstMultifocalsPage } from '../../dashboard/for-wearers/first-multifocals/page.tsx';
import { HaveItPage } from '../../dashboard/for-wearers/have-it/page.tsx';
import { LightReactivePage } from '../../dashboard/for-wearers/light-reactive/page.tsx';
import { MeasurePage } from '../../dashboard/for-wearers/measure/page.tsx';
import { NoLinkPage } from '../../dashboard/for-wearers/no-link/page.tsx';
import { StopPage } from '../../dashboard/for-wearers/stop/page.tsx';
import type { ForWearer } from '../../dashboard/for-wearers/view.ts';
import { COMMON } from '../../dashboard/for-wearers/words.ts';
import { renderDocument } from '../../dashboard/shell/page.tsx';
import { LINK_HEADERS } from '../channels/answerLink.ts';
import { openStopLink } from '../channels/emailUnsubscribe.ts';
import { HERE_PATH, LINK_PATH } from '../channels/linkPlaces.ts';
import { PICTURE_BYTES, type Picture, withoutLocation } from '../channels/pictures.ts';
import { linkPurposeOf, tokenHash } from '../channels/tokens.ts';
import { type OpenLink, openLink, STOP_WORDS, takeFromLink } from '../followup/fromLink.ts';
import { haveIt, openHaveLink } from '../followup/haveIt.ts';
import { takeMeasures } from '../followup/measuresFromLink.ts';
import type { Room } from '../house.ts';
import { findShop } from '../store/shops.ts';
import { contactsOf } from '../store/wearers.ts';
import { shortTime } from './format.ts';
import { throttle } from './throttle.ts';
import { wearerTint } from './wearerTint.ts';
import { aboutFor, cautionOnPage, languageOf, questionOf, thanksFor, tipsOf } from './wearerViews.ts';
import type { House, Web } from './web.ts';

const ASKS_A_MINUTE = 120;
const WRONG_A_MINUTE = 20;
const LARGEST_FORM = PICTURE_BYTES + 200_000;

type C = Context<Web>;

/**
 * The pages behind signed links: of wearers, and of who is on call. They stand before the host names are looked at and before
 * sign-in, because the token is the key. GET and HEAD change nothing, whoever follows the link; no cookie, no script.
 */
export function wearerPages(app: Hono<Web>, house: House): void {
  const nowMs = () => house.room()?.shell.clock.now().getTime() ?? 0;
  const mayAsk = throttle(ASKS_A_MINUTE, nowMs);
  const mayMiss = throttle(WRONG_A_MINUTE, nowMs);
  const caller = (c: C) => c.get('caller').address;
  const missing = (c: C) => noLink(c, null, mayMiss(caller(c)) ? 404 : 429);

  app.use(`${LINK_PATH}*`, async (c, next) => {
    for (const [name, value] of Object.entries(LINK_HEADERS)) c.header(name, value);
    if (!mayAsk(caller(c))) return noLink(c, null, 429);
    return next();
  });
  app.use(
    `${LINK_PATH}*`,
    bodyLimit({
      maxSize: LARGEST_FORM,
      onError: (c) => c.text('The picture is too large: 8 MB at most.', 413),
    }),
  );
  // Asked by the shop itself, to see whether the public address comes here.
  app.all(HERE_PATH, (c) => c.body(null, 204));
  app.all(`${LINK_PATH}:token/:page?`, async (c) => {
    const token = c.req.param('token');
    const room = await roomOfLink(house, token);
    if (!room) return missing(c);
    const page = c.req.param('page') ?? '';
    const asks = c.req.method === 'GET' || c.req.method === 'HEAD';
    if (!asks && c.req.method !== 'POST') return c.text('', 405, { allow: 'GET, HEAD, POST' });
    const open = await openLink(room.shell, room.shopId, token);
    if (!open) {
      const have = page === '' ? await openHaveLink(room.shell, room.shopId, token) : undefined;
      return have ? havePage(c, room, token, have, asks) : missing(c);
    }
    if (page !== '' && open.purpose !== 'tips') return missing(c);
    const form = asks ? new FormData() : await formOf(c);
    const lang = languageOf(c.req.query('lang') ?? String(form.get('lang') ?? ''), open.wearer);
    const about = await aboutFor(room, open, `${LINK_PATH}${token}`, lang);
    if (open.state === 'expired' && open.purpose !== 'stop') return noLink(c, about, 410);
    if (open.purpose === 'stop') return stopPage(c, room, open, about, form);
    if (open.purpose === 'measure') return measurePage(c, room, open, about, asks ? null : form);
    if (open.purpose === 'tips') return asks ? tipsPage(c, room, open, about, page) : c.text('', 405);
    return answerPage(c, room, open, about, asks ? null : form);
  });
}

/** The shop that a link belongs to. What none of ours has signed is not looked up. */
async function roomOfLink(house: House, token: string): Promise<Room | undefined> {
  const room = house.room();
  const key = room?.shell.links?.(room.shopId)?.key;
  if (!room?.ofSecret || key === undefined || linkPurposeOf(token, [key]) === undefined) return room;
  return room.ofSecret(tokenHash(token));
}

async function answerPage(
  c: C,
  room: Room,
  open: OpenLink,
  about: ForWearer,
  form: FormData | null,
): Promise<Response> {
  const question = questionOf(open.message.asked, about.lang);
  const words = COMMON[about.lang];
  const view = { about, question, answered: open.link.uses > 0, trouble: '', thanks: null, caution: [] };
  const show = (over: Partial<Parameters<typeof AnswerPage>[0]['view']>, status: 200 | 400 | 429 = 200) =>
    c.html(renderDocument(<AnswerPage view={{ ...view, ...over }} />), status);
  if (form === null) return show({});
  const said = await saidIn(form);
  const taken = await takeFromLink(room.shell, room.shopId, open, said);
  if (taken.tooOften) return show({ trouble: words.tooOften }, 429);
  if (taken.status === 400) {
    return show({ trouble: said.leftOut.length > 0 ? words.notPicture : words.noWords }, 400);
  }
  // Answered and sent on at once, without being waited for.
  void room.work();
  const caution = await cautionOnPage(room, taken.inboundId, about.lang);
  const partly = said.leftOut.length > 0 ? words.notPicture : '';
  return show({ thanks: `${thanksFor(said.words, question, about.lang)} ${partly}`.trim(), caution });
}

async function stopPage(
  c: C,
  room: Room,
  open: OpenLink,
  about: ForWearer,
  form: FormData,
): Promise<Response> {
  const fields = new URLSearchParams(
    [...form].map(([name, value]) => [name, typeof value === 'string' ? value : ''] as [string, string]),
  );
  const visit = openStopLink({
    method: c.req.method,
    link: 'good',
    contentType: 'application/x-www-form-urlencoded',
    body: fields.toString(),
  });
  if (visit.optOut) {
    const which = fields.get('stop') ?? 'all';
    const words = which === 'text' || which === 'email' ? STOP_WORDS[which] : STOP_WORDS.all;
    await takeFromLink(room.shell, room.shopId, open, { words, pictures: [], leftOut: [] });
  }
  const contacts = await contactsOf(room.shell.db, room.shopId, open.wearer.wearer_id);
  const going = (['text', 'email'] as const).filter((channel) =>
    contacts.some((one) => one.channel === channel && one.consent === 'given'),
  );
  return c.html(
    renderDocument(<StopPage view={{ about, channels: going, done: visit.shows === 'done' }} />),
    visit.status,
  );
}

/** Numbers go to the job as facts of the wearer; a photo goes to whoever measures it. */
async function measurePage(
  c: C,
  room: Room,
  open: OpenLink,
  about: ForWearer,
  form: FormData | null,
): Promise<Response> {
  const asked = form === null ? c.req.query('what') : form.get('what');
  const kind = asked === 'photo' ? 'photo' : 'marks';
  const words = COMMON[about.lang];
  const show = (trouble: string, thanks: string | null, status: 200 | 400 | 429 = 200) =>
    c.html(renderDocument(<MeasurePage view={{ about, kind, thanks, trouble }} />), status);
  if (form === null) return show('', null);
  if (kind === 'photo') {
    const said = await saidIn(form);
    if (said.pictures.length === 0) return show(words.notPicture, null, 400);
    const taken = await takeFromLink(room.shell, room.shopId, open, { ...said, words: '' });
    return taken.tooOften ? show(words.tooOften, null, 429) : show('', thanksFor('', null, about.lang));
  }
  const measured = await takeMeasures(room.shell, room.shopId, open, {
    R: String(form.get('right_mm') ?? ''),
    L: String(form.get('left_mm') ?? ''),
  });
  if (measured === 'too often') return show(words.tooOften, null, 429);
  return measured === 'kept' ? show('', thanksFor('', null, about.lang)) : show(words.notMeasure, null, 400);
}

async function tipsPage(c: C, room: Room, open: OpenLink, about: ForWearer, page: string): Promise<Response> {
  const first = about.pages[0];
  const asked = page === '' ? first : about.pages.find((one) => one === page);
  if (asked === undefined) return noLink(c, null, 404);
  if (asked === 'first-multifocals') return c.html(renderDocument(<FirstMultifocalsPage view={{ about }} />));
  const { lens } = await tipsOf(room, open);
  const heat = c.req.query('air');
  const air = heat === 'cold' || heat === 'hot' ? heat : 'mild';
  const view = { about, air, picture: wearerTint(lens, air, about.lang) } as const;
  return c.html(renderDocument(<LightReactivePage view={view} />));
}

async function havePage(
  c: C,
  room: Room,
  token: string,
  have: NonNullable<Awaited<ReturnType<typeof openHaveLink>>>,
  asks: boolean,
): Promise<Response> {
  if (have.state === 'expired') return noLink(c, null, 404);
  const { shell, shopId } = room;
  const over = asks ? have.over : await haveIt(shell, shopId, have);
  const shop = await findShop(shell.db, shopId);
  const view = {
    lang: shop.locale === 'es' ? 'es' : 'en',
    shopName: shop.name,
    invented: shop.kind === 'invented',
    base: `${LINK_PATH}${token}`,
    initial: have.alarm.initial,
    came: shortTime(have.alarm.raised_at, shell.clock.now(), shop.time_zone),
    person: have.person,
    over,
    caseHref:
      shell.pagesAt === undefined
        ? null
        : `${shell.pagesAt}${have.alarm.case_id === null ? '/tray' : `/cases/${have.alarm.case_id}`}`,
  } as const;
  return c.html(renderDocument(<HaveItPage view={view} />));
}

function noLink(c: C, about: ForWearer | null, status: 404 | 410 | 429): Response | Promise<Response> {
  const lang = about?.lang ?? (/^es\b/i.test(c.req.header('accept-language') ?? '') ? 'es' : 'en');
  if (status === 429) c.header('Retry-After', '60');
  return c.html(renderDocument(<NoLinkPage view={{ lang, about, tooOften: status === 429 }} />), status);
}

/** The fields of a form of either kind; what cannot be read is an empty one. */
const formOf = (c: C): Promise<FormData> => c.req.formData().catch(() => new FormData());

/** A tap, or words with a photo. What a camera writes beside a photo is taken out before anything is kept. */
async function saidIn(form: FormData) {
  const text = (name: string) => {
    const value = form.get(name);
    return typeof value === 'string' ? value.trim() : '';
  };
  const photo = form.get('photo');
  const pictures: Picture[] = [];
  const leftOut: string[] = [];
  if (photo instanceof File && photo.size > 0) {
    const clean = withoutLocation(new Uint8Array(await photo.arrayBuffer()));
    if (clean) pictures.push(clean);
    else leftOut.push('of a kind that is not kept, or too large');
  }
  return { words: text('answer') || text('text'), pictures, leftOut };
}
