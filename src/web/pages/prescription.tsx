import type { Context, Hono } from 'hono';
import { PrescriptionPage } from '../../../dashboard/prescription/page.tsx';
import type { PrescriptionView } from '../../../dashboard/prescription/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { readJobFacts } from '../../causes/jobFacts.ts';
import { differenceOf, type EyeDifference, type NewPrescription } from '../../causes/newPrescription.ts';
import { jobFactsOf } from '../../followup/jobFactsOf.ts';
import { localDay } from '../../followup/planSlots.ts';
import { readPrescription } from '../../followup/readPrescription.ts';
import { keepUnsigned, type RemakePaper, signDraft } from '../../followup/signDraft.ts';
import type { Problem } from '../../problems.ts';
import { findCase } from '../../store/cases.ts';
import type { Db } from '../../store/database.ts';
import { findJob, findPair } from '../../store/jobs.ts';
import { licensedOn, papersOf, remakesBefore } from '../../store/papers.ts';
import { findWearer } from '../../store/wearers.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';
import { powerWords } from './powerWords.ts';

/** A new prescription for the wearer of a case: its difference shown, the job drafted when a licensed person signs. */
export function prescriptionRoutes(app: Hono<Web>): void {
  app.get('/cases/:id/prescription', async (c) => {
    const { shell, shopId } = c.get('room');
    const waits = await keptPrescription(shell.db, shopId, c.req.param('id'));
    return page(c, waits ? { prescription: waits } : {});
  });
  app.post('/cases/:id/prescription/keep', async (c) => {
    const read = readPrescription(typed(c));
    if (!read.ok) return page(c, { problems: read.problems });
    const room = c.get('room');
    const id = c.req.param('id');
    const signing = { cause: '', question: '', prescription: read.value };
    const done = await keepUnsigned(room.shell, room.shopId, id, 'remake', signing, personName(room));
    if (!done.ok) return page(c, { prescription: read.value, problems: done.problems });
    return back(c, `/cases/${id}`, {
      kind: 'done',
      text: 'Kept: it waits to be signed by a licensed person.',
    });
  });
  app.post('/cases/:id/prescription', async (c) => {
    const read = readPrescription(typed(c));
    return read.ok ? page(c, { prescription: read.value }) : page(c, { problems: read.problems });
  });
  app.post('/cases/:id/prescription/sign', async (c) => {
    const read = readPrescription(typed(c));
    if (!read.ok) return page(c, { problems: read.problems });
    const room = c.get('room');
    const id = c.req.param('id');
    const seen = Number.parseInt(field(c, 'seen_version'), 10);
    const done = await signDraft(
      room.shell,
      room.shopId,
      id,
      'remake',
      {
        // Who signs is who is signed in, whatever a form says.
        personId: room.actor.personId,
        cause: '',
        question: '',
        refractionChecked: true,
        checkedByOther: field(c, 'checked_by_other') === 'yes',
        prescription: read.value,
      },
      personName(room),
      Number.isNaN(seen) ? undefined : seen,
    );
    if (!done.ok) return page(c, { prescription: read.value, problems: done.problems });
    return back(c, `/cases/${id}/remake`);
  });
}

/** The prescription that was typed last and still waits to be signed. */
async function keptPrescription(
  db: Db,
  shopId: string,
  caseId: string,
): Promise<NewPrescription | undefined> {
  const newest = (await papersOf(db, shopId, caseId)).findLast(({ kind }) => kind === 'remake');
  return newest?.signed_at === null ? (newest.content as RemakePaper).prescription : undefined;
}

const written = ([sphere, cylinder, axis]: NewPrescription['R']): string =>
  cylinder === 0 ? String(sphere) : `${sphere} ${cylinder} x ${axis}`;

const valuesOf = ({ R, L, addD }: NewPrescription) => ({
  rx_R: written(R),
  rx_L: written(L),
  add_R: addD?.R === undefined ? '' : String(addD.R),
  add_L: addD?.L === undefined ? '' : String(addD.L),
});

const typed = (c: Context<Web>) => ({
  rx_R: field(c, 'rx_R'),
  rx_L: field(c, 'rx_L'),
  add_R: field(c, 'add_R'),
  add_L: field(c, 'add_L'),
});

type Shown = { readonly prescription?: NewPrescription; readonly problems?: readonly Problem[] };

async function page(c: Context<Web>, { prescription, problems = [] }: Shown = {}): Promise<Response> {
  const { shell, shop, now } = await loadShell(c, 'New prescription', '/bench');
  const room = c.get('room');
  const { db } = room.shell;
  const file = await findCase(db, room.shopId, c.req.param('id') ?? '');
  const wearer = file && (await findWearer(db, room.shopId, file.wearer_id));
  const pair = file && (await findPair(db, room.shopId, file.pair_id));
  const job = pair && (await findJob(db, room.shopId, pair.job_id));
  if (!file || !wearer || !pair || !job)
    return trouble(c, 404, 'There is no such case.', 'Open it again from the bench.') as Response;
  const today = localDay(now, shop.time_zone);
  const { facts } = readJobFacts(await jobFactsOf(db, room.shopId, pair.pair_id, today));
  const difference = prescription && differenceOf(prescription, facts);
  const view: PrescriptionView = {
    caseId: file.case_id,
    version: file.version,
    caseHref: `/cases/${file.case_id}`,
    jobNumber: job.job_key,
    jobHref: `/jobs/${job.job_id}`,
    wearer: wearer.name,
    difference: difference
      ? {
          eyes: difference.eyes.map(eyeWords),
          remarks: difference.remarks,
          changes: difference.changes.length > 0,
        }
      : null,
    second: (await remakesBefore(db, room.shopId, pair.pair_id)) > 0,
    signers: (await licensedOn(db, room.shopId, today)).map((one) => ({
      personId: one.person_id,
      words: `${one.name}, licence ${one.licence_number}`,
    })),
    me: room.actor.personId,
    values: c.req.method === 'POST' ? formValues(c) : prescription ? valuesOf(prescription) : {},
    troubles: problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` })),
  };
  return c.html(
    renderDocument(
      <PrescriptionPage shell={{ ...shell, title: `New prescription: ${wearer.name}` }} view={view} />,
    ),
    problems.length === 0 ? 200 : 400,
  );
}

function eyeWords(eye: EyeDifference): NonNullable<PrescriptionView['difference']>['eyes'][number] {
  const { addBeforeD: before, addAfterD: after } = eye;
  const add = (value: number) => `+${value.toFixed(2)}`;
  return {
    eye: eye.eye,
    before: eye.before ? powerWords(eye.before) : 'not on record',
    after: powerWords(eye.after),
    lens: eye.lens ? powerWords(eye.lens) : '',
    size: eye.sizeD === undefined ? '' : `${eye.sizeD.toFixed(2)} D`,
    add:
      after === undefined
        ? before === undefined
          ? ''
          : `${add(before)}, as before`
        : before === undefined || before === after
          ? add(after)
          : `${add(before)} to ${add(after)}`,
  };
}
