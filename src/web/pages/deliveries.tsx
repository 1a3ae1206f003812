import type { Context, Hono } from 'hono';
import { DeliveriesPage } from '../../../dashboard/deliveries/page.tsx';
import { DeliveryFormPage } from '../../../dashboard/delivery-form/page.tsx';
import type { DeliveryFormView } from '../../../dashboard/delivery-form/view.ts';
import { DeliveryImportPage } from '../../../dashboard/delivery-import/page.tsx';
import type { DeliveryImportView } from '../../../dashboard/delivery-import/view.ts';
import { JobPage } from '../../../dashboard/job/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { addJobFact } from '../../followup/addJobFact.ts';
import { type HandedOver, handOver } from '../../followup/handOver.ts';
import { type DateOrder, importJobs } from '../../followup/importJobs.ts';
import { DAY_NAMES } from '../../followup/jobDay.ts';
import { oneSignature, signOrder } from '../../followup/orderToSign.ts';
import { localDay } from '../../followup/planSlots.ts';
import { setJobDate } from '../../followup/setJobDate.ts';
import { takeJobs } from '../../followup/takeJobs.ts';
import { takeRecord } from '../../followup/takeRecord.ts';
import { numbersToSign } from '../../followup/toSign.ts';
import { orderWarnings, warningWords } from '../../followup/warnAtOrder.ts';
import { decodeText } from '../../intake/decodeText.ts';
import { fullTemplateHeads, shortTemplateHeads } from '../../intake/quantities.ts';
import { readForm } from '../../intake/readForm.ts';
import { recordIn } from '../../intake/record.ts';
import type { Problem } from '../../problems.ts';
import { findShop } from '../../store/shops.ts';
import { jobsByKey } from '../../store/takeIn.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { loadDeliveries } from './deliveriesView.ts';
import { deliveryForm, troublesAtFields } from './deliveryForm.ts';
import { dryRunView, emptyImport, takenView } from './importView.ts';
import { loadJob, type TypedOnJob } from './jobView.ts';
import { MEANINGS, recordView } from './recordView.ts';
import { typedQuery } from './sought.ts';

/** Jobs in, by form or file; each with its days, bench check and hand-over. */
export function deliveriesRoutes(app: Hono<Web>): void {
  app.get('/deliveries', async (c) => {
    const { shell, shop, now } = await loadShell(c, 'Deliveries', '/deliveries');
    const asked = {
      q: typedQuery(c.req.query('q')),
      show: c.req.query('show') === 'all' ? ('all' as const) : ('open' as const),
      page: c.req.query('page'),
    };
    const view = await loadDeliveries(c.get('room').shell.db, shop, asked, now);
    return c.html(renderDocument(<DeliveriesPage shell={shell} view={view} />));
  });

  app.get('/deliveries/new', (c) => formPage(c, deliveryForm()));
  app.post('/deliveries', takeFromForm);

  app.get('/deliveries/import', (c) => importPage(c, emptyImport));
  app.post('/deliveries/import', importFile);
  app.get('/deliveries/template.csv', (c) => template(c, 'jobs.csv', shortTemplateHeads()));
  app.get('/deliveries/template-full.csv', (c) => template(c, 'jobs-full.csv', fullTemplateHeads()));

  app.get('/jobs/:id', (c) => jobPage(c));

  app.post('/jobs/:id/hand-over', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const done = await handOver(room.shell, room.shopId, id, readHandOver(c), await personName(room));
    if (!done.ok) return refusedOnJob(c, done.problems);
    void room.work();
    return back(c, `/jobs/${id}`, {
      kind: 'done',
      text: 'Noted. The check-ins are planned from the day first worn.',
    });
  });

  app.post('/jobs/:id/sign', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const done = await signOrder(room.shell, room.shopId, id, room.actor);
    if (!done.ok) return refusedOnJob(c, done.problems);
    const text = done.value.signed ? 'Signed.' : 'It waits on To sign again.';
    return back(c, `/jobs/${id}`, { kind: 'done', text });
  });

  app.post('/jobs/:id/date', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const by = await personName(room);
    const done = await setJobDate(room.shell, room.shopId, id, field(c, 'which'), field(c, 'on'), by);
    if (!done.ok) return refusedOnJob(c, done.problems);
    void room.work();
    const name = DAY_NAMES[`${done.value.which}_on` as keyof typeof DAY_NAMES];
    return back(c, `/jobs/${id}`, { kind: 'done', text: `Noted: ${name} ${done.value.on}.` });
  });

  app.post('/jobs/:id/facts', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const typed = {
      key: field(c, 'key'),
      value: field(c, 'value'),
      eye: field(c, 'eye'),
      how: field(c, 'how'),
    };
    const done = await addJobFact(room.shell, room.shopId, id, typed, await personName(room));
    if (!done.ok) return refusedOnJob(c, done.problems);
    const { key, value, eye } = typed;
    const what = { kind: 'numbers', jobId: id, detail: { key, value, eye } } as const;
    const waits = await numbersToSign(room.shell, room.shopId, room.actor, what);
    const text = `Noted. What follows from it is reckoned again.${waits ? ' It is to be signed by a licensed person.' : ''}`;
    return back(c, `/jobs/${id}`, { kind: 'done', text });
  });
}

async function formPage(c: Context<Web>, form: Omit<DeliveryFormView, 'warnings'>, status: 200 | 400 = 200) {
  const { shell, shop } = await loadShell(c, 'A job', '/deliveries');
  const view = { ...form, warnings: orderWarnings(shop.settings).map(warningWords) };
  return c.html(renderDocument(<DeliveryFormPage shell={shell} view={view} />), status);
}

async function importPage(c: Context<Web>, view: DeliveryImportView, status: 200 | 400 = 200) {
  const { shell } = await loadShell(c, 'Take in a file', '/deliveries');
  return c.html(renderDocument(<DeliveryImportPage shell={shell} view={view} />), status);
}

async function jobPage(c: Context<Web>, typed?: TypedOnJob, status: 200 | 400 = 200) {
  const { shell, shop, now } = await loadShell(c, 'Job', '/deliveries');
  const { shell: room, actor } = c.get('room');
  const view = await loadJob(room.db, shop, c.req.param('id') ?? '', now, typed, actor.personId);
  if (!view) return trouble(c, 404, 'There is no such job.', 'Open it again from Deliveries.');
  return c.html(
    renderDocument(<JobPage shell={{ ...shell, title: `Job ${view.jobNumber}` }} view={view} />),
    status,
  );
}

/** Fields of the job page that can show trouble beside them; other trouble is told at the top. */
const SHOWN_AT = new Set(['handed_over_on', 'first_worn_on', 'on', 'value', 'key']);

function refusedOnJob(c: Context<Web>, problems: readonly Problem[]) {
  const gone = problems.find(({ code }) => code === 'no-job');
  if (gone) return trouble(c, 404, gone.what, gone.mend);
  if (problems.some(({ where }) => !SHOWN_AT.has(where)))
    return back(c, `/jobs/${c.req.param('id')}`, problems);
  const troubles = problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` }));
  return jobPage(c, { values: typedValues(c), troubles }, 400);
}

function typedValues(c: Context<Web>): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of c.get('form').entries())
    if (typeof value === 'string' && name !== 'csrf') values[name] = value;
  return values;
}

/** The form of a job: read like a line of a file; what is wrong is told at its field, and nothing typed is lost. */
async function takeFromForm(c: Context<Web>) {
  const { shell, shopId } = c.get('room');
  const values = typedValues(c);
  const shop = await findShop(shell.db, shopId);
  // A shop that keeps no job numbers leaves the field empty: the job is then told apart by wearer, lens and day.
  const { job_number: number, ...others } = values;
  const fields = number === undefined || number.trim() === '' ? others : values;
  const reading = readForm(fields, {
    country: shop.country,
    invented: shop.kind === 'invented',
    today: localDay(shell.clock.now(), shop.time_zone),
    dateOrder: 'ymd',
  });
  if (!reading.ok) return formPage(c, deliveryForm(values, troublesAtFields(reading.problems)), 400);
  const { job, warnings } = reading.value;
  const { actor } = c.get('room');
  const signature = oneSignature('form', actor, shell.clock.now());
  const taken = await takeJobs(shell, shopId, [job], actor.name, undefined, signature);
  if (taken.different.length > 0) {
    const text = `Job ${job.jobNumber} is here already with other values. Open it from Deliveries, or give this one another number.`;
    return formPage(c, deliveryForm(values, [{ field: 'job_number', text }]), 400);
  }
  void c.get('room').work();
  if (taken.same > 0) {
    const [here] = await jobsByKey(shell.db, shopId, [job.jobNumber]);
    return back(c, `/jobs/${here!.job_id}`, {
      kind: 'done',
      text: 'This job is here already; nothing was changed.',
    });
  }
  return back(c, `/jobs/${taken.jobIds[0]}`, {
    kind: 'done',
    text: [
      'Taken in.',
      ...(taken.toSign ? ['Its numbers are to be signed by a licensed person.'] : []),
      ...silentWords(job.neverMessaged),
      ...warnings,
    ].join(' '),
  });
}

const silentWords = (why: 'no contact' | 'no consent' | undefined): string[] =>
  why === undefined
    ? []
    : [
        why === 'no contact'
          ? 'There is no number and no address: this wearer is never messaged.'
          : 'The wearer has not agreed to messages yet: ask at the hand-over.',
      ];

const ORDERS: readonly DateOrder[] = ['ymd', 'mdy', 'dmy'];

/** First only looked at, then, with the same text, taken in. */
async function importFile(c: Context<Web>) {
  const { shell, shopId } = c.get('room');
  const dateOrder = ORDERS.find((one) => one === field(c, 'date_order'));
  const { name: by, personId } = c.get('room').actor;
  if (field(c, 'step') === 'take') {
    const changeLines = new Set(c.get('form').getAll('change_line').map(Number));
    const text = String(c.get('form').get('checked_text') ?? '');
    const done = await importJobs(shell, shopId, text, { take: true, by, personId, dateOrder, changeLines });
    void c.get('room').work();
    return importPage(c, takenView(done));
  }
  if (field(c, 'step') === 'record') return keepRecord(c, by);
  const given = await fileGiven(c);
  if (given === undefined) {
    const unreadable = 'Nothing was given. Choose a file or paste the lines.';
    return importPage(c, { ...emptyImport, unreadable }, 400);
  }
  const text = typeof given.bytes === 'string' ? given.bytes : decodeText(given.bytes).text;
  if (recordIn(text))
    return importPage(c, { ...emptyImport, record: recordView({ name: given.name, text }, 'order') });
  const done = await importJobs(shell, shopId, given.bytes, { take: false, by, dateOrder });
  return importPage(c, dryRunView(done, { name: given.name, text, dateOrder: dateOrder ?? '' }));
}

/** A prescription or lens-order records go to the job whose number was said. */
async function keepRecord(c: Context<Web>, by: string) {
  const room = c.get('room');
  const text = String(c.get('form').get('record_text') ?? '');
  const meaning = MEANINGS.find(({ value }) => value === field(c, 'meaning'))?.value ?? 'order';
  const jobNumber = field(c, 'job_number');
  const done = await takeRecord(room.shell, room.shopId, { text, meaning, jobNumber }, by);
  if (!done.ok) {
    const typed = { jobNumber, problems: done.problems };
    const record = recordView({ name: field(c, 'file_name') || 'The file', text }, meaning, typed);
    return importPage(c, { ...emptyImport, record }, 400);
  }
  const { jobId, count } = done.value;
  const what = { kind: 'numbers', jobId, detail: { key: 'order', value: 'a file', eye: '' } } as const;
  const waits = count > 0 && (await numbersToSign(room.shell, room.shopId, room.actor, what));
  const kept =
    count === 0 ? 'All of it stands there already; nothing was changed.' : `${count} numbers are noted.`;
  const told = `${kept}${waits ? ' They are to be signed by a licensed person.' : ''}`;
  return back(c, `/jobs/${jobId}`, { kind: 'done', text: told });
}

async function fileGiven(c: Context<Web>): Promise<{ name: string; bytes: string | Uint8Array } | undefined> {
  const file = c.get('form').get('file');
  if (file instanceof File && file.size > 0)
    return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
  const pasted = c.get('form').get('pasted');
  return typeof pasted === 'string' && pasted.trim() !== ''
    ? { name: 'The pasted lines', bytes: pasted }
    : undefined;
}

/** Heads only: an example line would be taken in as a job by somebody in a hurry. */
function template(c: Context<Web>, name: string, heads: readonly string[]) {
  return c.body(`\ufeff${heads.join(',')}\r\n`, 200, {
    'content-type': 'text/csv; charset=utf-8',
    'content-disposition': `attachment; filename="${name}"`,
  });
}

function readHandOver(c: Context<Web>): HandedOver {
  const answer = (name: string): 'given' | 'refused' | undefined => {
    const said = field(c, name);
    return said === 'given' || said === 'refused' ? said : undefined;
  };
  const [text, email] = [answer('consent_text'), answer('consent_email')];
  const slip = field(c, 'slip_test');
  return {
    on: field(c, 'handed_over_on'),
    firstWornOn: field(c, 'first_worn_on'),
    consent: { ...(text ? { text } : {}), ...(email ? { email } : {}) },
    words: field(c, 'words').slice(0, 2000),
    askedBy: field(c, 'consent_by').slice(0, 100),
    ...(slip === 'holds' || slip === 'slides' ? { slips: slip === 'slides' } : {}),
  };
}
