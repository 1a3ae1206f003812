import { ADVICE, ASK_DAYS, ASKS, HEARD, type Letter, type Question } from './types.ts';

/** One of every message that there is, for the page that shows them and for the tests that read them. */
export function everyLetter(questions: readonly Question[], writtenByHand: string): readonly EveryLetter[] {
  const letters: readonly Letter[] = [
    ...(['counter', 'post'] as const).flatMap((way) =>
      [true, false].flatMap((firstMultifocal) =>
        [true, false].map(
          (lightReactive) => ({ purpose: 'tips', way, firstMultifocal, lightReactive }) as const,
        ),
      ),
    ),
    ...ASK_DAYS.map((day) => ({ purpose: 'check-in', day }) as const),
    { purpose: 'check-in', day: 3, again: true },
    { purpose: 'have-they-come' },
    ...HEARD.map((what) => ({ purpose: 'answer', pieces: [{ kind: 'heard', what }] }) as const),
    ...ADVICE.map((cause) => ({ purpose: 'answer', pieces: [{ kind: 'advice', cause }] }) as const),
    ...ASKS.map((ask) => ({ purpose: 'answer', pieces: [{ kind: 'kept', ask }] }) as const),
    ...questions.map((question) => ({ purpose: 'question', question }) as const),
    { purpose: 'asked-again' },
    ...questions.slice(0, 1).map((question) => ({ purpose: 'asked-again', question }) as const),
    { purpose: 'stop-done', channels: ['text'] },
    { purpose: 'stop-done', channels: ['email'] },
    { purpose: 'stop-done', channels: ['text', 'email'] },
    { purpose: 'resume-done' },
    { purpose: 'help' },
    { purpose: 'wrong-number' },
    ...(['eye', 'fall'] as const).flatMap((danger) =>
      (['open', 'closed'] as const).map((hours) => ({ purpose: 'caution', danger, hours }) as const),
    ),
    { purpose: 'staff', words: writtenByHand },
    { purpose: 'correction', words: writtenByHand },
  ];
  return letters.flatMap((letter) =>
    MAY_BE_FIRST.has(letter.purpose)
      ? [
          { letter, first: true },
          { letter, first: false },
        ]
      : [{ letter, first: false }],
  );
}

export type EveryLetter = { readonly letter: Letter; readonly first: boolean };

const MAY_BE_FIRST: ReadonlySet<Letter['purpose']> = new Set(['check-in', 'have-they-come']);
