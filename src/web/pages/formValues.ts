import type { Context } from 'hono';
import type { Web } from '../web.ts';

/** What was typed into a form, by field, to be read or to fill the form with again. */
export function formValues(c: Context<Web>): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of c.get('form').entries())
    if (typeof value === 'string' && name !== 'csrf') values[name] = value;
  return values;
}
