import type { JobView } from '../../../dashboard/job/view.ts';
import { jobToCome } from '../../followup/jobToCome.ts';
import { type Expectation, whatToExpect } from '../../optics/whatToExpect.ts';

/** What in this job foretells trouble, with its number, threshold and source. Without both powers nothing is foretold. */
export function expectationsOf(
  facts: Readonly<Record<string, unknown>>,
  known: { readonly firstMultifocal: boolean | null; readonly ageYears: number | undefined },
): JobView['expect'] {
  const job = jobToCome(facts, known);
  return job ? whatToExpect(job).map(expectation) : [];
}

function expectation(one: Expectation): JobView['expect'][number] {
  const eye = one.eye === 'both' ? '' : ` ${one.eye}`;
  const limit = `${one.when === 'below' ? 'under' : 'from'} ${figure(one.threshold, one.unit)}`;
  return {
    words: `${one.what.charAt(0).toUpperCase()}${one.what.slice(1)}${eye}. ${one.advice}`,
    number: `${figure(one.number, one.unit)} ${one.unit}, told ${limit}`,
    trace: {
      inputs: [
        {
          name: `${one.what}${eye}`,
          value: `${figure(one.number, one.unit)} ${one.unit}`,
          from: 'numbers of this job',
        },
      ],
      formula: `told ${one.when} ${figure(one.threshold, one.unit)} ${one.unit}`,
      source: one.source,
    },
  };
}

const figure = (value: number, unit: string): string =>
  unit === 'D' || unit === 'pd' ? value.toFixed(2) : String(Math.round(value * 10) / 10);
