import type { RecordView } from '../../../dashboard/delivery-import/view.ts';
import type { LensOrderMeaning } from '../../intake/lensOrderFacts.ts';
import { quantityOf } from '../../intake/quantities.ts';
import { type RecordRead, readRecord } from '../../intake/record.ts';
import type { Problem } from '../../problems.ts';
import { powerWords } from './powerWords.ts';

export const MEANINGS = [
  { value: 'order', words: 'what was asked of the lab' },
  { value: 'as_worn', words: 'the lab’s as-worn powers' },
  { value: 'read', words: 'what the lensmeter read' },
] as const satisfies readonly { readonly value: LensOrderMeaning; readonly words: string }[];

/** What a prescription or lens-order records say, shown before anything is kept. */
export function recordView(
  given: { readonly name: string; readonly text: string },
  meaning: LensOrderMeaning,
  typed: { readonly jobNumber: string; readonly problems: readonly Problem[] } = {
    jobNumber: '',
    problems: [],
  },
): RecordView {
  const read = readRecord(given.text, meaning);
  const problems = [...(read.ok ? [] : read.problems), ...typed.problems];
  const record = read.ok ? read.value : undefined;
  return {
    fileName: given.name,
    what: record?.kind === 'lens order' ? 'lens-order records' : 'a prescription (FHIR)',
    lines: record ? lines(record.facts) : [],
    warnings: record?.warnings ?? [],
    jobNumber: typed.jobNumber || (record?.jobNumber ?? ''),
    meaning,
    meanings: record?.kind === 'lens order' ? MEANINGS : [],
    readable: read.ok,
    troubles: [...new Set(problems.map(({ what, mend }) => `${what} ${mend}`))],
    text: given.text,
  };
}

function lines(facts: RecordRead['facts']): RecordView['lines'] {
  const of = (key: string, eye: 'R' | 'L' | null): string => {
    const value = facts.find((fact) => fact.key === key && fact.eye === eye)?.value;
    if (value === undefined) return '';
    return Array.isArray(value)
      ? powerWords(value as unknown as readonly [number, number, number])
      : String(value);
  };
  return [...new Set(facts.map(({ key }) => key))].map((key) => ({
    name: quantityOf(key)?.label ?? key,
    right: of(key, 'R') || of(key, null),
    left: of(key, 'L') || of(key, null),
  }));
}
