import type { JSX } from 'hono/jsx/jsx-runtime';
import { renderDocument } from '../../dashboard/shell/page.tsx';
import { benchStories } from './stories/bench.tsx';
import { bookStories } from './stories/books.tsx';
import { caseStories } from './stories/case.tsx';
import { causesStories } from './stories/causes.tsx';
import { labFormStories } from './stories/labForm.tsx';
import { otherStories } from './stories/others.tsx';
import { photoStories } from './stories/photo.tsx';
import { reviewStories } from './stories/review.tsx';
import { sheetStories } from './stories/sheets.tsx';
import { signInStories } from './stories/signIn.tsx';

/** Every page in every state worth looking at, with invented data: name and the page drawn. */
const STORIES: Readonly<Record<string, () => JSX.Element>> = {
  ...benchStories,
  ...caseStories,
  ...otherStories,
  ...bookStories,
  ...sheetStories,
  ...reviewStories,
  ...causesStories,
  ...signInStories,
  ...photoStories,
  ...labFormStories,
};

export const storyNames: readonly string[] = Object.keys(STORIES);

/** The whole document of one story. */
export function story(name: string): string {
  const draw = STORIES[name];
  if (draw === undefined) throw new Error(`no story is called ${name}`);
  return renderDocument(draw());
}
