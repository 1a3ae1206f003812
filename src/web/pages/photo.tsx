import { readFileSync } from 'node:fs';
import type { Context, Hono } from 'hono';
import { PhotoMarksPage, PhotosPage } from '../../../dashboard/photo/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { keepMarks, signMarks, takePhoto } from '../../followup/measureOnPhoto.ts';
import { EAR_MARKS, PHOTO_MARKS, PHOTO_SIZES, type TypedMarks } from '../../followup/photoMarks.ts';
import type { Problem } from '../../problems.ts';
import { facePictureBytes } from '../../store/facePictures.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { loadPhotoMarks, loadPhotos } from './photoView.ts';

/** Measuring on a photograph of the wearer in the frame: hand it in, mark it, sign what it says. */
export function photoRoutes(app: Hono<Web>): void {
  app.get('/jobs/:id/photo', (c) => photos(c));
  app.post('/jobs/:id/photo', async (c) => {
    const room = c.get('room');
    const given = c.get('form').get('picture');
    const sent = field(c, 'sent_picture');
    const bytes = given instanceof File ? new Uint8Array(await given.arrayBuffer()) : new Uint8Array();
    const source = sent === '' ? { bytes } : { sentPictureId: sent };
    const done = await takePhoto(room.shell, room.shopId, jobId(c), source, await personName(room));
    return done.ok ? back(c, marksAt(c, done.value.pictureId)) : photos(c, done.problems);
  });
  app.get('/jobs/:id/photo/:picture', (c) => marks(c));
  app.post('/jobs/:id/photo/:picture/marks', async (c) => {
    const room = c.get('room');
    const by = await personName(room);
    const done = await keepMarks(room.shell, room.shopId, jobId(c), pictureId(c), typedMarks(c), by);
    return done.ok ? back(c, marksAt(c, pictureId(c))) : marks(c, done.problems);
  });
  app.post('/jobs/:id/photo/:picture/sign', async (c) => {
    const room = c.get('room');
    const done = await signMarks(
      room.shell,
      room.shopId,
      jobId(c),
      pictureId(c),
      field(c, 'measure_id'),
      field(c, 'person_id'),
    );
    if (!done.ok) return back(c, marksAt(c, pictureId(c)), done.problems);
    return back(c, marksAt(c, pictureId(c)), {
      kind: 'done',
      text: 'Signed and kept as numbers of the job.',
    });
  });
  app.get('/face-pictures/:picture', async (c) => {
    const room = c.get('room');
    const picture = await facePictureBytes(room.shell.db, room.shopId, pictureId(c));
    if (!picture) return trouble(c, 404, 'This photograph is not kept any more.', 'Take another one.');
    return c.body(new Uint8Array(picture.bytes), 200, {
      'content-type': picture.contentType,
      'content-disposition': 'inline',
      'cache-control': 'private, no-store',
      'content-security-policy': "default-src 'none'; sandbox",
      'x-content-type-options': 'nosniff',
    });
  });
  app.get('/photo.js', (c) =>
    c.body(readFileSync(new URL('../../../dashboard/photo.js', import.meta.url), 'utf8'), 200, {
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'no-cache',
    }),
  );
}

const jobId = (c: Context<Web>): string => c.req.param('id') ?? '';
const pictureId = (c: Context<Web>): string => c.req.param('picture') ?? '';
const marksAt = (c: Context<Web>, picture: string): string => `/jobs/${jobId(c)}/photo/${picture}`;

const FIELDS = [
  ...[...PHOTO_MARKS, ...EAR_MARKS, ...PHOTO_SIZES].map(([name]) => name),
  'level_deg',
  'quarter',
  'stood_as_usual',
] as const;

const typedMarks = (c: Context<Web>): TypedMarks =>
  Object.fromEntries(FIELDS.map((name) => [name, field(c, name)]));

async function photos(c: Context<Web>, problems: readonly Problem[] = []): Promise<Response> {
  const { shell, shop } = await loadShell(c, 'Measure on a photograph', '/deliveries');
  const view = await loadPhotos(c.get('room').shell.db, shop, jobId(c), problems);
  if (!view) return noJob(c);
  const title = `Measure on a photograph: ${view.wearer}`;
  return c.html(
    renderDocument(<PhotosPage shell={{ ...shell, title }} view={view} />),
    problems.length === 0 ? 200 : 400,
  );
}

async function marks(c: Context<Web>, problems: readonly Problem[] = []): Promise<Response> {
  const { shell, shop, now } = await loadShell(c, 'Measure on a photograph', '/deliveries');
  const typed = problems.length === 0 ? undefined : typedMarks(c);
  const view = await loadPhotoMarks(c.get('room').shell.db, shop, jobId(c), pictureId(c), now, {
    quarter: c.req.query('quarter'),
    typed,
    problems,
  });
  if (!view) return noJob(c);
  const title = `Measure on a photograph: ${view.wearer}`;
  return c.html(
    renderDocument(<PhotoMarksPage shell={{ ...shell, title }} view={view} />),
    problems.length === 0 ? 200 : 400,
  );
}

const noJob = (c: Context<Web>): Response =>
  trouble(
    c,
    404,
    'There is no such photograph.',
    'Open it again from the job; after its days it is removed.',
  ) as Response;
