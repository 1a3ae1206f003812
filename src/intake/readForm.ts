import type { Cell } from './cells.ts';
import { fieldName, placeOf } from './heads.ts';
import { type IntakeOptions, type JobReading, jobFromCells } from './jobFromCells.ts';

/**
 * One job from the fields of an HTML form, named as quantities.ts names them: key, _R or _L for one eye, and _sphere,
 * _cylinder, _axis for a part of a power. Fields of other names (buttons, tokens) are left aside. Problems name the
 * field by its label. A form that asks for a job number needs it.
 */
export function readForm(fields: Readonly<Record<string, string>>, options: IntakeOptions): JobReading {
  const cells = new Map<string, Cell>();
  for (const [name, text] of Object.entries(fields)) {
    const place = placeOf(name);
    if (!place) continue;
    const label = [place.quantity.label, place.eye, place.part]
      .filter((word) => word !== undefined)
      .join(' ');
    const field = fieldName(place);
    cells.set(field, { text, field, column: `field “${label}”` });
  }
  return jobFromCells(cells, options, 'form', cells.has('job_number'));
}
