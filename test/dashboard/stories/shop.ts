import type { Deadline, MarkedWords, Trace } from '../../../dashboard/pieces/view.ts';
import type { ShellView } from '../../../dashboard/shell/view.ts';

/** An invented shop on an invented day; every name, number and address is made up or reserved for tests. */
export function shell(title: string, here: string, more: Partial<ShellView> = {}): ShellView {
  return {
    title,
    here,
    shopName: 'Harbour Lane Spectacles',
    invented: true,
    clock: 'Thu 27 Aug 2026, 10:42',
    clockIso: '2026-08-27T10:42:00-06:00',
    side: [
      { href: '/bench', text: 'Bench', group: 1 },
      { href: '/tray', text: 'Tray', waiting: 3, group: 1 },
      { href: '/ring-list', text: 'Ring list', waiting: 2, group: 1 },
      { href: '/wearers', text: 'Wearers', group: 1 },
      { href: '/deliveries', text: 'Deliveries', group: 1 },
      { href: '/rehearsal', text: 'Rehearsal', group: 1 },
      { href: '/lens-designs', text: 'Lens designs', group: 2 },
      { href: '/lens-book', text: 'Lens book', group: 2 },
      { href: '/words', text: 'Words', group: 2 },
      { href: '/letters', text: 'Letters', group: 2 },
      { href: '/shop', text: 'Shop', group: 2 },
      { href: '/people', text: 'People', group: 2 },
      { href: '/log', text: 'Log', group: 2 },
    ],
    csrf: 'csrf-token',
    person: 'Ana Brook',
    notices: [],
    dangerCount: 0,
    version: '41',
    findable: true,
    ...more,
  };
}

/** Own words with marks given as the passage itself. */
export function words(
  text: string,
  marks: readonly (readonly [passage: string, means: string, kind?: 'label' | 'danger' | 'left over'])[] = [],
  lang: 'en' | 'es' = 'en',
): MarkedWords {
  return {
    text,
    lang,
    marks: marks.map(([passage, means, kind]) => {
      const start = text.indexOf(passage);
      if (start < 0) throw new Error(`“${passage}” is not in “${text}”`);
      return { start, end: start + passage.length, means, kind: kind ?? 'label' };
    }),
  };
}

export const trace: Trace = {
  inputs: [
    {
      name: 'cross on the worn lens, right',
      value: '17.9 mm above the rim',
      from: 'measured by Ana Brook, 26 Aug',
    },
    { name: 'pupil, right', value: '20.0 mm above the rim', from: 'measured by Ana Brook, 26 Aug' },
  ],
  formula: 'cross less pupil = 17.9 − 20.0 = −2.1 mm (below)',
  source: 'Limit of 1 mm: common practice, no source',
};

export const labWindow = (daysLeft: number, lastDay: string, atWorst = false): Deadline => ({
  name: 'the lab’s remake window',
  daysLeft,
  lastDay,
  counted: atWorst
    ? 'invoice day not known: 60 days from the order, 29 Jun'
    : '60 days from the lab’s invoice, 29 Jun',
  atWorst,
});

export const promise = (daysLeft: number, lastDay: string): Deadline => ({
  name: 'our promise',
  daysLeft,
  lastDay,
  counted: '30 days from hand-over, 18 Aug',
  atWorst: false,
});
