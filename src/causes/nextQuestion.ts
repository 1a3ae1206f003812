import type { Label } from '../replies/types.ts';
import { actsOf, chooseAct, type DaysLeft } from './act.ts';
import type { ActSettings } from './catalogue/acts.ts';
import { CATALOGUE } from './catalogue/index.ts';
import { type CatalogueQuestion, QUESTIONS } from './catalogue/questions.ts';
import type { Act } from './catalogue/types.ts';
import type { JobFactKey, JobFacts } from './jobFacts.ts';
import { rankCauses, type StartingWeights, scoreCauses, sharesOf } from './rank.ts';

export type Question = {
  readonly kind: 'choices';
  readonly id: string;
  readonly text: string;
  readonly answers: readonly { readonly key: string; readonly words: string }[];
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
): Question | undefined => {
  const before = scoreCauses(labels, facts, options.startingWeights);
  const logOdds = before.map((scored) => scored.logOdds);
  const shares = sharesOf(logOdds);
  const open = openQuestions(labels, facts, options.asked ?? []);
  if (open.length === 0) return undefined;
  const bestActs = CATALOGUE.map((cause) => actsOf(cause, facts)[0] as Act);
  const now = entropyBits(actShares(shares, bestActs));

  const gains = open
    .map((question) => ({
      question,
      gain: now - expectedEntropy(question, logOdds, shares, bestActs, labels, facts, options),
    }))
    .filter(({ question, gain }) => gain > question.bother)
    .sort((a, b) => b.gain - b.question.bother - (a.gain - a.question.bother));
  const best = gains.find(({ question }) => changesTheAct(question, currentAct, labels, facts, options));
  if (!best) return undefined;
  const { id, text, answers } = best.question;
  return {
    kind: 'choices',
    id,
    text,
    answers: answers.map(({ key, words }) => ({ key, words })),
    gainBits: best.gain,
  };
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

const actShares = (shares: readonly number[], acts: readonly Act[]): readonly number[] => {
  const byAct = new Map<Act, number>();
  shares.forEach((share, i) => {
    const act = acts[i] as Act;
    byAct.set(act, (byAct.get(act) ?? 0) + share);
  });
  return [...byAct.values()];
};

const expectedEntropy = (
  question: CatalogueQuestion,
  before: readonly number[],
  shares: readonly number[],
  bestActs: readonly Act[],
  labels: readonly Label[],
  facts: JobFacts,
  { startingWeights }: QuestionOptions,
): number => {
  // How strongly each answer speaks for each cause, made into chances that sum to one over the answers.
  const speaks = question.answers.map((answer) =>
    scoreCauses(labels, { ...facts, ...answer.facts }, startingWeights).map(({ logOdds }, i) =>
      Math.exp(logOdds - (before[i] as number)),
    ),
  );
  const whole = shares.map((_, i) => speaks.reduce((sum, times) => sum + (times[i] as number), 0));
  return speaks.reduce((expected, times) => {
    const joint = shares.map((share, i) => (share * (times[i] as number)) / (whole[i] as number));
    const chance = joint.reduce((sum, value) => sum + value, 0);
    if (chance === 0) return expected;
    return (
      expected +
      chance *
        entropyBits(
          actShares(
            joint.map((value) => value / chance),
            bestActs,
          ),
        )
    );
  }, 0);
};

const changesTheAct = (
  question: CatalogueQuestion,
  currentAct: Act,
  labels: readonly Label[],
  facts: JobFacts,
  { daysLeft, settings, startingWeights }: QuestionOptions,
): boolean =>
  question.answers.some(({ facts: told }) => {
    const after = { ...facts, ...told };
    return (
      chooseAct(rankCauses(labels, after, startingWeights), labels, after, daysLeft, settings).id !==
      currentAct
    );
  });
