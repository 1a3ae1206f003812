import { LABELS, type Label } from '../replies/types.ts';
import { type ActChoice, chooseAct } from './act.ts';
import { costOfNothing } from './benchOrder.ts';
import { saysAnything } from './complaint.ts';
import type { Contribution } from './contribution.ts';
import { dangerIn } from './danger.ts';
import { factBehind, findingWords } from './findings.ts';
import { type JobFacts, readJobFacts } from './jobFacts.ts';
import { nextQuestion } from './nextQuestion.ts';
import { type RankedCause, rankCauses } from './rank.ts';
import type { Evidence, WeighedCause, WeighInput, Weighing, WeighOptions } from './weighing.ts';

export type { WeighedCause, Weighing } from './weighing.ts';

/**
 * What is probably wrong with a pair, with every number for and against, the act of least expected cost and the one
 * question worth asking. Danger is not ranked: it goes to a person at once. Facts that are not known, not possible or
 * not of this list are told in `problems`, and the rest is weighed.
 */
export const weigh = (input: WeighInput, options: WeighOptions = {}): Weighing => {
  const { facts, problems: factProblems } = readJobFacts(input.job);
  const { labels, problems: labelProblems } = readLabels(input.reply_labels);
  const problems = [...labelProblems, ...factProblems];
  const told = problems.length > 0 ? { problems } : {};

  const danger = dangerIn(labels, facts);
  if (danger) return { ...danger, ...told };
  if (!saysAnything(labels) && Object.keys(facts).every((fact) => fact === 'day'))
    return { ...nothingTold, ...told };

  const ranking = rankCauses(labels, facts, options.startingWeights);
  const act: ActChoice = chooseAct(ranking, labels, facts, options.daysLeft, options.settings);
  const question = nextQuestion(act.id, labels, facts, options);
  return {
    causes: ranking.map((ranked) => weighedCause(ranked, facts)),
    act: { id: act.id, way: act.way, why: act.why },
    ...(question ? { question } : {}),
    costs: {
      ofNothing: costOfNothing(ranking, options.settings),
      ofBestAct: act.expectedCosts[0]?.expectedCost ?? 0,
    },
    ...told,
  };
};

const nothingTold: Weighing = {
  causes: [],
  act: {
    id: 'coach',
    way: 'by phone',
    why: 'No trouble was told and nothing is known of the job: nothing to put right.',
  },
};

const known: ReadonlySet<string> = new Set(LABELS);

const readLabels = (given: readonly string[]) => {
  const labels = given.filter((label): label is Label => known.has(label));
  const problems = given
    .filter((label) => !known.has(label))
    .map((label) => ({
      code: 'unknown-label',
      what: `"${label}" is not a label; it was left out`,
      where: 'reply_labels',
      mend: 'Use the labels that the sorter writes.',
    }));
  return { labels, problems };
};

const weighedCause = ({ cause, share, contributions }: RankedCause, facts: JobFacts): WeighedCause => ({
  id: cause.id,
  share,
  evidence: contributions.map((c) => evidenceOf(c, facts)),
});

/** A contribution as it is shown: the fact, its value, which way it speaks and how strongly. */
const evidenceOf = (c: Contribution, facts: JobFacts): Evidence => {
  const fact = c.finding === 'reply_labels' ? 'reply_labels' : factBehind(c.finding, facts);
  return {
    fact,
    value: fact === 'reply_labels' ? c.value : (facts[fact] ?? c.value),
    toward: c.timesAlone >= 1 ? 'for' : 'against',
    times: c.times,
    timesAlone: c.timesAlone,
    words: c.finding === 'reply_labels' ? `says: ${c.value}` : findingWords(c.finding, c.value),
    source: c.source,
  };
};
