import type { LabelGroup } from '../../replies/labels.ts';

/** The groups in which labels stand on a page, danger first. */
export const LABEL_GROUPS: readonly { readonly group: LabelGroup; readonly name: string }[] = [
  { group: 'urgent', name: 'Danger' },
  { group: 'lens', name: 'Seeing' },
  { group: 'tint', name: 'Light-reactive' },
  { group: 'frame', name: 'Frame and finish' },
  { group: 'going', name: 'How it is going' },
  { group: 'wants', name: 'What they want' },
];
