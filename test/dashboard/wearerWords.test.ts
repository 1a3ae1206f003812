import { expect, test } from 'vitest';
import { countWords, fleschKincaidGrade, spanishEase } from '../../templates/readingGrade.ts';
import { story, storyNames } from './stories.tsx';

/* The wearer's pages are read on a telephone, in a hurry, by anybody: as easy as the letters are. */

const OURS = storyNames.filter((name) => story(name).includes('class="for-wearer"'));

/** What a page says, a sentence to a line, without pictures and tables. */
function said(html: string): string {
  return html
    .replace(/<(head|svg|table|style)[\s\S]*?<\/\1>/g, ' ')
    .replace(/<\/(p|li|h1|h2|button|label|a|summary|figcaption|dt|dd)>/g, '\n')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&#39;', "'")
    .replaceAll('&quot;', '"')
    .replaceAll('&amp;', '&');
}

test.each(OURS.filter((name) => !name.endsWith('-es')))('%s reads at grade 7 or lower', (name) => {
  const counted = countWords(said(story(name)), 'en');
  expect(counted.words, name).toBeGreaterThan(15);
  expect(fleschKincaidGrade(counted), name).toBeLessThanOrEqual(7);
});

test.each(OURS.filter((name) => name.endsWith('-es')))('%s is fairly easy to read in Spanish', (name) => {
  const counted = countWords(said(story(name)), 'es');
  expect(spanishEase(counted), name).toBeGreaterThanOrEqual(65);
});

test('a number of help near them can be tapped, in the caution and in the foot', () => {
  const page = story('wearer-danger');
  expect(page.match(/<a href="tel:\+13035550199">/g)).toHaveLength(2);
  expect(page).toContain('<a class="button" href="tel:+13035550100">');
});
