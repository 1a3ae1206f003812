import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseAct } from '../../src/causes/act.ts';
import { QUESTIONS } from '../../src/causes/catalogue/questions.ts';
import { FACT_KEYS, type JobFactKey, readJobFacts } from '../../src/causes/jobFacts.ts';
import { entropyBits, nextQuestion } from '../../src/causes/nextQuestion.ts';
import { answerFacts } from '../../src/causes/questions.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import { scoreCauses, scoredWith } from '../../src/causes/scored.ts';
import { weigh } from '../../src/causes/weigh.ts';
import { LABELS } from '../../src/replies/types.ts';
import { plainNextQuestion } from './plainQuestion.ts';
import { drawWearer, randomFrom } from './simulatedShop.ts';

describe('the one question', () => {
  it('is asked of far blur whose cause is open: does dropping the chin make it clear', () => {
    const { question } = weigh({ reply_labels: ['distance-blur'], job: { day: 5 } });
    expect(question).toMatchObject({
      kind: 'choices',
      id: 'chin-down',
      answers: [{ key: 'a' }, { key: 'b' }],
    });
    expect(question?.gainBits).toBeGreaterThan(0);
  });
  it('is where, of a blur with no place told, and the answer is that blur', () => {
    const { question } = weigh({ reply_labels: ['unclear-blur'], job: { day: 5 } });
    expect(question?.id).toBe('blurred-where');
    const far = weigh({
      reply_labels: ['unclear-blur'],
      job: { day: 5, ...answerFacts('blurred-where', 'a') },
    });
    const said = weigh({ reply_labels: ['distance-blur'], job: { day: 5 } });
    expect(far.causes[0]?.id).toBe(said.causes[0]?.id);
  });
  it('is not asked where no answer would change the act', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 ** 31 }), (seed) => {
        const { labels, job } = drawWearer(randomFrom(seed));
        const { question, act } = weigh({ reply_labels: labels, job });
        if (!question) return;
        const after = question.answers.map(({ key }) => {
          const facts = readJobFacts({ ...job, ...answerFacts(question.id, key) }).facts;
          return chooseAct(rankCauses(labels, facts), labels, facts).id;
        });
        expect(after.some((id) => id !== act.id)).toBe(true);
      }),
      { numRuns: 50 },
    );
  });
  it('is not asked twice, nor about what is known', () => {
    expect(nextQuestion('adjust', ['distance-blur'], { day: 5 }, { asked: ['chin-down'] })?.id).not.toBe(
      'chin-down',
    );
    expect(nextQuestion('adjust', ['distance-blur'], { day: 5, chin_down_helps: true })?.id).not.toBe(
      'chin-down',
    );
  });
  it('is not asked in danger', () => {
    expect(weigh({ reply_labels: ['distance-blur', 'urgent-eye'], job: {} }).question).toBeUndefined();
  });
  it('moves the ranking the way of its answer when the answer comes back', () => {
    const share = (answer: string) =>
      weigh({
        reply_labels: ['distance-blur'],
        job: { day: 5, ...answerFacts('chin-down', answer) },
      }).causes.find(({ id }) => id === 'cross-too-high')?.share ?? Number.NaN;
    expect(share('a')).toBeGreaterThan(0.5);
    expect(share('b')).toBeLessThan(0.1);
  });
  it('measures gain in bits: four equal acts hold two, one sure act none', () => {
    // Shannon 1948: H = -sum p log2 p.
    expect(entropyBits([0.25, 0.25, 0.25, 0.25])).toBeCloseTo(2, 12);
    expect(entropyBits([1])).toBe(0);
    expect(entropyBits([0.9, 0.1])).toBeCloseTo(0.468996, 6);
  });
});

describe('an answer added to what was weighed', () => {
  it('gives the very numbers, findings and acts of the job weighed from the start', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 ** 31 }), fc.boolean(), (seed, known) => {
        const { labels, job, whole } = drawWearer(randomFrom(seed));
        const { facts } = readJobFacts(known ? whole : job);
        const scored = scoreCauses(labels, facts);
        for (const { answers } of QUESTIONS) {
          for (const { facts: told } of answers)
            expect(scoredWith(scored, told)).toEqual(scoreCauses(labels, { ...facts, ...told }));
        }
      }),
      { numRuns: 30 },
    );
  });
  it('so that the question and its gain are those of its definition', () => {
    let asked = 0;
    for (let seed = 1; seed <= 120; seed++) {
      const { labels, job } = drawWearer(randomFrom(seed));
      const { facts } = readJobFacts(job);
      const act = chooseAct(rankCauses(labels, facts), labels, facts).id;
      const quick = nextQuestion(act, labels, facts);
      const plain = plainNextQuestion(act, labels, facts);
      if (plain) asked += 1;
      expect(quick && { id: quick.id, gainBits: quick.gainBits }, `seed ${seed}`).toEqual(
        plain && { id: plain.id, gainBits: expect.closeTo(plain.gainBits, 12) },
      );
    }
    expect(asked).toBeGreaterThan(30);
  });
});

describe('the list of questions', () => {
  it('has tap answers a, b, c, each fact known, each label one of ours, each id once', () => {
    for (const { id, answers, after, text } of QUESTIONS) {
      expect(
        answers.map(({ key }) => key),
        id,
      ).toEqual(['a', 'b', 'c'].slice(0, answers.length));
      expect(
        after.every((label) => LABELS.includes(label)),
        id,
      ).toBe(true);
      expect(text.endsWith('?') || text.endsWith('.'), id).toBe(true);
      for (const { facts } of answers) {
        expect(
          Object.keys(facts).every((fact) => fact in FACT_KEYS),
          id,
        ).toBe(true);
        expect(readJobFacts(facts as Readonly<Record<JobFactKey, unknown>>).problems, id).toEqual([]);
      }
    }
    expect(new Set(QUESTIONS.map(({ id }) => id)).size).toBe(QUESTIONS.length);
  });
  it('fits a text message with its answers, in plain letters', () => {
    for (const { id, text, answers } of QUESTIONS) {
      const message = `${text} ${answers.map(({ key, words }) => `${key} ${words}`).join(', ')}`;
      expect(message.length, id).toBeLessThanOrEqual(140);
      expect(message, id).toMatch(/^[\x20-\x7e]+$/);
    }
  });
  it('says nothing for a question or an answer that does not exist', () => {
    expect(answerFacts('chin-down', 'z')).toEqual({});
    expect(answerFacts('no-such-question', 'a')).toEqual({});
  });
});
