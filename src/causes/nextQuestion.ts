import type { Label } from '../replies/types.ts';
import { type DaysLeft, leastCostAct } from './act.ts';
import type { ActSettings } from './catalogue/acts.ts';
import { type CatalogueQuestion, QUESTIONS } from './catalogue/questions.ts';
import type { Act } from './catalogue/types.ts';
import type { JobFactKey, JobFacts } from './jobFacts.ts';
import { rankingOf, sharesOf } from './rank.ts';
import { type Scored, type StartingWeights, scoreCauses, scoredWith } from './scored.ts';

export type Question = {
  readonly kind: 'choices';
  readonly id: string;
  readonly text: string;
  /** Each answer with the act that would follow it. */
  readonly answers: readonly { readonly key: string; readonly words: string; readonly leadsTo: Act }[];
  /** What it is expected to tell about the act, in bits. */
  readonly gainBits: number;
};

export type QuestionOptions = {
  readonly daysLeft?: DaysLeft | undefined;
  readonly settings?: ActSettings | undefined;
  readonly startingWeights?: StartingWeights | undefined;
  /** Questions that were put already. */
  readonly asked?: readonly string[] | undefined;
};

/**
 * The question with the greatest expected gain about the act, less its bother: H(act) - sum over answers of
 * P(answer) x H(act after it), in bits, where H is the entropy of which act is best. None when no answer would change
 * the act, or when the best gain is not worth the bother. How likely a cause gives an answer comes from the same rules
 * that weigh the answer afterwards.
 */
export const nextQuestion = (
  currentAct: Act,
  labels: readonly Label[],
  facts: JobFacts,
  options: QuestionOptions = {},
): Question | undefined =>
  nextQuestionOf(currentAct, scoreCauses(labels, facts, options.startingWeights), options);

/** The same of a job that is scored already: each answer is added to it, not weighed from the start. */
export const nextQuestionOf = (
  currentAct: Act,
  scored: Scored,
  options: QuestionOptions = {},
): Question | undefined => {
  const open = openQuestions(scored.labels, scored.facts, options.asked ?? []);
  if (open.length === 0) return undefined;
  const shares = sharesOf(scored.logOdds);
  const acts = actSlots(scored.acts);
  const now = entropyBits(actShares(shares, acts));

  const gains = open
    .map((question) => {
      const after = question.answers.map((answer) => scoredWith(scored, answer.facts));
      return { question, after, gain: now - expectedEntropy(after, scored.logOdds, shares, acts) };
    })
    .filter(({ question, gain }) => gain > question.bother)
    .sort((a, b) => b.gain - b.question.bother - (a.gain - a.question.bother));
  for (const { question, after, gain } of gains) {
    const led = after.map((one) => actAfter(one, options));
    if (led.every((act) => act === currentAct)) continue;
    const { id, text, answers } = question;
    return {
      kind: 'choices',
      id,
      text,
      answers: answers.map(({ key, words }, place) => ({ key, words, leadsTo: led[place] as Act })),
      gainBits: gain,
    };
  }
  return undefined;
};

/** Entropy in bits, H = -sum p log2 p, of shares that sum to one. */
export const entropyBits = (shares: Iterable<number>): number => {
  let bits = 0;
  for (const share of shares) if (share > 0) bits -= share * Math.log2(share);
  return bits;
};

const openQuestions = (
  labels: readonly Label[],
  facts: JobFacts,
  asked: readonly string[],
): readonly CatalogueQuestion[] =>
  QUESTIONS.filter(
    ({ id, after, answers }) =>
      !asked.includes(id) &&
      after.some((label) => labels.includes(label)) &&
      answers.every((answer) =>
        (Object.keys(answer.facts) as JobFactKey[]).every((fact) => facts[fact] === undefined),
      ),
  );

/** Of each cause, which of the acts that are best for any cause is best for it. */
const actSlots = (acts: readonly (readonly Act[])[]): readonly number[] => {
  const slots = new Map<Act | undefined, number>();
  return acts.map(([best]) => {
    const slot = slots.get(best) ?? slots.size;
    slots.set(best, slot);
    return slot;
  });
};

const actShares = (shares: ArrayLike<number>, slots: readonly number[]): readonly number[] => {
  const byAct: number[] = [];
  for (let i = 0; i < shares.length; i += 1) {
    const slot = slots[i] as number;
    byAct[slot] = (byAct[slot] ?? 0) + (shares[i] as number);
  }
  return byAct;
};

const expectedEntropy = (
  after: readonly Scored[],
  before: readonly number[],
  shares: readonly number[],
  slots: readonly number[],
): number => {
  // How strongly each answer speaks for each cause, made into chances that sum to one over the answers.
  const whole = new Float64Array(shares.length);
  const speaks = after.map(({ logOdds }) => {
    const times = new Float64Array(shares.length);
    for (let i = 0; i < times.length; i += 1) {
      times[i] = timesOver(logOdds[i] as number, before[i] as number);
      whole[i] = (whole[i] as number) + (times[i] as number);
    }
    return times;
  });
  let expected = 0;
  for (const times of speaks) {
    let chance = 0;
    for (let i = 0; i < times.length; i += 1) {
      times[i] = ((shares[i] as number) * (times[i] as number)) / (whole[i] as number);
      chance += times[i] as number;
    }
    if (chance === 0) continue;
    for (let i = 0; i < times.length; i += 1) times[i] = (times[i] as number) / chance;
    expected += chance * entropyBits(actShares(times, slots));
  }
  return expected;
};

const timesOver = (odds: number, before: number): number => (odds === before ? 1 : Math.exp(odds - before));

const actAfter = (scored: Scored, { daysLeft, settings }: QuestionOptions): Act =>
  leastCostAct(rankingOf(scored), scored.labels, scored.facts, daysLeft, settings).id;
