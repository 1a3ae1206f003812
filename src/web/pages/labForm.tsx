import type { Context, Hono } from 'hono';
import { LabFormPage } from '../../../dashboard/lab-form/page.tsx';
import type { LabFormRow, LabFormView, LookedEye } from '../../../dashboard/lab-form/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { keepLabForm, type LabFormLook, lookAtLabForm } from '../../followup/labForm.ts';
import { numbersToSign } from '../../followup/toSign.ts';
import { lensWritten } from '../../optics/rounding.ts';
import type { Problem } from '../../problems.ts';
import type { Db } from '../../store/database.ts';
import { wholeJob } from '../../store/pages/deliveries.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

const COLUMNS = ['Sphere', 'Cylinder', 'Axis', 'Add', 'Prism'] as const;

const row = (name: LabFormRow['name'], key: 'order' | 'as_worn', eye: 'R' | 'L'): LabFormRow => ({
  name,
  eye,
  fields: [
    `${key}_${eye}_sphere`,
    `${key}_${eye}_cylinder`,
    `${key}_${eye}_axis`,
    `${key}_add_D_${eye}`,
    `${key}_prism_${eye}`,
  ],
});

const ROWS: readonly LabFormRow[] = [
  row('Ordered', 'order', 'R'),
  row('Ordered', 'order', 'L'),
  row('As worn', 'as_worn', 'R'),
  row('As worn', 'as_worn', 'L'),
];

const POSITION = [
  { name: 'refracted_vertex_mm', label: 'Vertex distance at the refraction, mm' },
  { name: 'vertex_assumed_mm', label: 'Vertex distance as worn, mm' },
  { name: 'tilt_assumed_deg', label: 'Tilt, degrees' },
  { name: 'wrap_assumed_deg', label: 'Wrap, degrees' },
] as const;

/** The lab's paper form, typed in beside what it should say. */
export function labFormRoutes(app: Hono<Web>): void {
  app.get('/jobs/:id/lab-form', (c) => page(c, {}));

  app.post('/jobs/:id/lab-form', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const typed = formValues(c);
    if (field(c, 'step') !== 'keep') return page(c, typed);
    const done = await keepLabForm(room.shell, room.shopId, id, typed, await personName(room));
    if (!done.ok) return page(c, typed, done.problems);
    const what = {
      kind: 'numbers',
      jobId: id,
      detail: { key: 'as_worn', value: 'the lab’s form', eye: '' },
    } as const;
    const waits = await numbersToSign(room.shell, room.shopId, room.actor, what);
    const text = `${done.value.count} numbers of the lab’s form are noted.${waits ? ' They are to be signed by a licensed person.' : ''}`;
    return back(c, `/jobs/${id}`, { kind: 'done', text });
  });
}

async function page(
  c: Context<Web>,
  typed: Readonly<Record<string, string>>,
  refused: readonly Problem[] = [],
) {
  const { shell: roomShell, shopId } = c.get('room');
  const id = c.req.param('id') ?? '';
  const job = await wholeJob(roomShell.db, shopId, id, ASKED_AT_HAND_OVER);
  if (!job) return trouble(c, 404, 'There is no such job.', 'Open it again from Deliveries.');
  const { shell } = await loadShell(c, 'The lab’s form', '/deliveries');
  const looked = await lookAtLabForm(roomShell.db, shopId, id, typed);
  const problems = refused.length > 0 ? refused : looked.ok ? [] : looked.problems;
  const lab = await labOf(roomShell.db, shopId, id);
  const view: LabFormView = {
    jobId: id,
    jobNumber: job.job_key,
    wearer: job.wearer,
    lab,
    columns: COLUMNS,
    rows: ROWS,
    position: POSITION,
    ...lookedView(looked.ok ? looked.value : undefined),
    values: typed,
    troubles: problems.map(({ where, what, mend }) => ({ field: fieldAt(where), text: `${what} ${mend}` })),
  };
  return c.html(renderDocument(<LabFormPage shell={shell} view={view} />), problems.length > 0 ? 400 : 200);
}

async function labOf(db: Db, shopId: string, jobId: string): Promise<string> {
  const found = await db
    .selectFrom('job as j')
    .innerJoin('lab as l', (join) =>
      join.onRef('l.shop_id', '=', 'j.shop_id').onRef('l.lab_id', '=', 'j.lab_id'),
    )
    .select('l.name')
    .where('j.shop_id', '=', shopId)
    .where('j.job_id', '=', jobId)
    .executeTakeFirst();
  return found?.name ?? '';
}

const NAMES: ReadonlySet<string> = new Set([
  ...ROWS.flatMap(({ fields }) => fields),
  ...POSITION.map(({ name }) => name),
]);

/** Trouble with a whole power stands at its sphere. */
const fieldAt = (where: string): string => (NAMES.has(where) ? where : `${where}_sphere`);

const lookedView = (
  looked: LabFormLook | undefined,
): Pick<LabFormView, 'differences' | 'eyes' | 'notes'> => ({
  differences: looked?.differences ?? [],
  notes: looked?.notes ?? [],
  eyes: (looked?.eyes ?? []).map(eyeView),
});

function eyeView({ eye, explained }: LabFormLook['eyes'][number]): LookedEye {
  const { lines, leftOver, gotFromLab, gotIfUncompensated, verdict } = explained;
  const left = `${(leftOver?.blurD ?? 0).toFixed(2)} D`;
  return {
    eye,
    isExplained: verdict === 'explained',
    verdict:
      verdict === 'explained'
        ? `the lab’s powers are explained (${left} left over)`
        : `the lab’s powers are not explained: ${left} left over. Ask the lab what they were made for`,
    lines: lines.map(({ what, lens, change, why, source }) => ({
      what,
      power: lensWritten(lens),
      change: change === null ? '' : lensWritten(change),
      why,
      source,
    })),
    gets: `The wearer gets ${gotFromLab ? lensWritten(gotFromLab) : 'what is not known'} from the lab’s powers; made as ordered it would be ${lensWritten(gotIfUncompensated)}.`,
  };
}
