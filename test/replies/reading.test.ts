import { describe, expect, test } from 'vitest';
import { labelMeanings } from '../../src/replies/labels.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import { stripQuoted } from '../../src/replies/stripQuoted.ts';
import { LABELS } from '../../src/replies/types.ts';

const labelsOf = (text: string) => sortReply({ text }).labels;
const wordsOf = (text: string, label: string) =>
  sortReply({ text })
    .spans.filter((span) => span.label === label)
    .map((span) => text.slice(span.start, span.end));

describe('the words that gave a label', () => {
  test('stand under the right words of the text', () => {
    expect(wordsOf('😀 Hello, the road signs are fuzzy. Thanks', 'distance-blur')[0]).toBe(
      'road signs are fuzzy',
    );
    expect(wordsOf('Tout va bien? the left lens is scratched', 'surface-flaw').join()).toContain('scratched');
  });

  test('every label has at least one span inside the text', () => {
    const text = 'They pinch my nose, the telly is fuzzy and I want a refund. Please ring me';
    const reading = sortReply({ text });
    for (const label of reading.labels) {
      const spans = reading.spans.filter((span) => span.label === label);
      expect(spans.length, label).toBeGreaterThan(0);
      for (const span of spans) {
        expect(span.start).toBeGreaterThanOrEqual(0);
        expect(span.end).toBeLessThanOrEqual(text.length);
        expect(span.end).toBeGreaterThan(span.start);
      }
    }
  });
});

describe('what is so now', () => {
  test('a trouble denied is no trouble', () => {
    expect(labelsOf('No headaches, no dizziness')).not.toContain('strain');
    expect(labelsOf('No headaches, no dizziness')).not.toContain('swim');
  });

  test('a trouble that is over supports settled', () => {
    expect(
      labelsOf("The headaches went, the wobble went, and now I'd notice if I DIDN'T have them on"),
    ).toEqual(['settled']);
  });

  test('fine except is the exception', () => {
    expect(labelsOf('All fine except the telly is blurry')).toEqual(['distance-blur']);
  });

  test('one trouble gone and another left is getting there and the one that is left', () => {
    expect(
      [
        ...labelsOf(
          'Headaches gone since you re-bent the sides. Still get a double line under my cursor though',
        ),
      ].sort(),
    ).toEqual(['doubling', 'getting-there']);
  });

  test("another person's trouble is not the wearer's", () => {
    expect(labelsOf('My husband gets terrible headaches with his, not me though')).toEqual([]);
  });

  test('a supposition is not a statement', () => {
    expect(labelsOf('If the arms ever hurt I know where you are')).toEqual([]);
  });

  test('the chin tells a high reading part from plain blur', () => {
    expect(labelsOf('telly not clear unless I drop my chin')).toEqual(['near-too-high']);
    expect(labelsOf('I have to tip my head right back to read my book')).toEqual(['near-too-low']);
  });

  test('things tell the distance', () => {
    expect(labelsOf("I can't see the hymn board")).toEqual(['distance-blur']);
    expect(labelsOf('the faders are fuzzy')).toEqual(['intermediate-blur']);
    expect(labelsOf("I can't read the label on the pill bottle")).toEqual(['near-blur']);
  });
});

describe('asks', () => {
  test('a question that wearers always put is named beside the wish for an answer', () => {
    expect(sortReply({ text: 'How do I clean them?' }).asks).toEqual(['cleaning']);
    expect(sortReply({ text: 'How long until I get used to these?' }).asks).toContain('how-long');
    expect(sortReply({ text: 'Is it ok to drive in them?' }).asks).toContain('driving');
    expect(sortReply({ text: 'Can I get a copy of the invoice for my insurance?' }).asks).toContain('papers');
    expect(sortReply({ text: 'Havent got them yet. When are they coming?' }).asks).toContain('order-status');
  });

  test('any other question goes to staff', () => {
    expect(sortReply({ text: 'What time do you shut on a Saturday?' }).asks).toEqual(['other']);
  });

  test('a statement asks nothing', () => {
    expect(sortReply({ text: 'I clean them with the cloth, all fine' }).asks).toEqual([]);
  });
});

describe('how much, which eye, where and when', () => {
  test('are told apart', () => {
    const { extent } = sortReply({
      text: 'Day 9. The road signs are blurry with my left eye and it is getting worse',
    });
    expect(extent.day).toBe(9);
    expect(extent.eye).toBe('L');
    expect(extent.trend).toBe('worse');
    expect(extent.distances).toEqual(['far']);
    expect(extent.tasks).toContain('road signs');
  });

  test('weeks count as days, and nothing is made up', () => {
    expect(sortReply({ text: '3 weeks and the screen is still fuzzy' }).extent.day).toBe(21);
    expect(sortReply({ text: 'all good' }).extent).toEqual({});
  });
});

describe('left over', () => {
  test('weighty words that no phrase accounts for are marked', () => {
    const text = 'My chest feels strange today';
    const { leftOver } = sortReply({ text });
    expect(leftOver.map((span) => text.slice(span.start, span.end))).toContain('chest');
  });

  test('nothing is left of a reply that was read whole', () => {
    expect(sortReply({ text: 'All good thanks' }).leftOver).toEqual([]);
  });
});

describe('labels', () => {
  test('each has a meaning and a short name of its own', () => {
    expect(Object.keys(labelMeanings).sort()).toEqual([...LABELS].sort());
    expect(new Set(Object.values(labelMeanings).map((one) => one.name)).size).toBe(LABELS.length);
  });
});

describe('email', () => {
  test('the quoted question and the signature are taken off', () => {
    const email =
      'The telly is blurry.\n\n-- \nJean\n\nOn Mon, 2 Mar 2026 at 10:00, The Shop <shop@example.com> wrote:\n> Are you dizzy?\n';
    expect(stripQuoted(email)).toBe('The telly is blurry.');
  });

  test('an answer that would vanish is kept whole', () => {
    expect(stripQuoted('> all fine')).toContain('all fine');
  });
});
