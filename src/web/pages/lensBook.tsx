import type { Context, Hono } from 'hono';
import { LensBookPage } from '../../../dashboard/lens-book/page.tsx';
import type { LensBookView } from '../../../dashboard/lens-book/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { DESIGN_KINDS, keepDesign } from '../../followup/keepDesign.ts';
import { keepLab, keepLabTerm } from '../../followup/keepLab.ts';
import type { Problem } from '../../problems.ts';
import type { Db } from '../../store/database.ts';
import { type DesignRow, designsOf, type LightReactive, labsOf } from '../../store/lensBook.ts';
import type { LabTerm } from '../../store/tables.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

/** Lens designs with their data, and what each lab allows. */
export function lensBookRoutes(app: Hono<Web>): void {
  app.get('/lens-book', (c) => page(c));

  app.post('/lens-book/designs', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await keepDesign(shell, shopId, formValues(c), await personName(c.get('room')));
    if (!done.ok) return page(c, { form: 'design', problems: done.problems });
    const { name, wasThere } = done.value;
    return back(c, '/lens-book', {
      kind: 'done',
      text: wasThere
        ? `${name} is mended; it counts from the next weighing of causes.`
        : `${name} is in the book.`,
    });
  });

  app.post('/lens-book/labs', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await keepLab(shell, shopId, field(c, 'name'), await personName(c.get('room')));
    if (!done.ok) return page(c, { form: 'lab', problems: done.problems });
    return back(c, '/lens-book', {
      kind: 'done',
      text: `${done.value.name} is in the book. Add what it allows: the remake window counts from it.`,
    });
  });

  app.post('/lens-book/labs/:labId/terms', async (c) => {
    const { shell, shopId } = c.get('room');
    const labId = c.req.param('labId');
    const typed = {
      what: field(c, 'what'),
      days: field(c, 'days'),
      from: field(c, 'from'),
      times: field(c, 'times'),
    };
    const done = await keepLabTerm(shell, shopId, labId, typed, await personName(c.get('room')));
    if (!done.ok) {
      const gone = done.problems.find(({ code }) => code === 'no-lab');
      return gone ? trouble(c, 404, gone.what, gone.mend) : page(c, { form: labId, problems: done.problems });
    }
    return back(c, '/lens-book', {
      kind: 'done',
      text: `Kept. The deadlines of every pair from ${done.value.lab} count by it from now on.`,
    });
  });
}

type Refused = { readonly form: string; readonly problems: readonly Problem[] };

async function page(c: Context<Web>, refused?: Refused) {
  const room = c.get('room');
  const { shell } = await loadShell(c, 'Lens book', '/lens-book');
  const view: LensBookView = {
    ...(await loadBook(room.shell.db, room.shopId)),
    refused: refused?.form ?? null,
    values: refused ? formValues(c) : {},
    troubles: (refused?.problems ?? []).map(({ where, what, mend }) => ({
      field: where,
      text: `${what} ${mend}`,
    })),
  };
  return c.html(renderDocument(<LensBookPage shell={shell} view={view} />), refused ? 400 : 200);
}

const KIND_WORDS: Readonly<Record<string, string>> = { progressive: 'multifocal', room: 'room and screen' };

async function loadBook(db: Db, shopId: string): Promise<Pick<LensBookView, 'designs' | 'labs' | 'kinds'>> {
  const designs = await designsOf(db, shopId);
  const labs = await labsOf(db, shopId);
  return {
    designs: designs.map(designEntry),
    labs: labs.map((lab) => ({ labId: lab.lab_id, name: lab.name, terms: lab.terms.map(termWords) })),
    kinds: DESIGN_KINDS.map((kind) => ({ value: kind, words: KIND_WORDS[kind] ?? kind })),
  };
}

function designEntry(design: DesignRow): LensBookView['designs'][number] {
  const { corridor_mm: corridor, corridor_how: how } = design;
  return {
    designId: design.design_id,
    name: design.name,
    kind: KIND_WORDS[design.kind] ?? design.kind,
    corridor: corridor === null ? '' : `${corridor} mm${how ? `, ${how}` : ''}`,
    minimumHeight: design.min_height_mm === null ? '' : `${design.min_height_mm} mm`,
    index: design.refractive_index === null ? '' : String(design.refractive_index),
    abbe: design.abbe === null ? '' : String(design.abbe),
    lightReactive: tintWords(design.light_reactive as LightReactive | null),
    source: design.source ?? 'came with a job; nobody has said more',
    jobs: design.jobs,
  };
}

function tintWords(tint: LightReactive | null): string {
  if (tint === null) return '';
  const parts = [
    tint.grade ? `${tint.grade} grade` : '',
    tint.clearPercent === undefined ? '' : `${tint.clearPercent} % clear`,
    tint.darkPercent === undefined ? '' : `${tint.darkPercent} % dark`,
    tint.darkAfterS === undefined ? '' : `dark after ${tint.darkAfterS} s`,
    tint.clearHalfLifeS === undefined ? '' : `half cleared after ${tint.clearHalfLifeS} s`,
  ].filter((part) => part !== '');
  const at = tint.atTemperatureC === undefined ? '' : ` at ${tint.atTemperatureC} °C`;
  return `${parts.join(', ')}${at}`;
}

const START_WORDS: Readonly<Record<LabTerm['from'], string>> = {
  'lab invoiced': 'its invoice',
  ordered: 'the order',
  'handed over': 'the hand-over',
};

const termWords = ({ what, days, from, times }: LabTerm): string =>
  `${what}: ${days} days from ${START_WORDS[from]}, ${times === 1 ? 'once' : `${times} times`}`;
