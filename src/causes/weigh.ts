import { LABELS, type Label } from '../replies/types.ts';
import { type ActChoice, chooseAct } from './act.ts';
import { costOfNothing } from './benchOrder.ts';
import { saysAnything } from './complaint.ts';
import type { Contribution } from './contribution.ts';
import { dangerIn } from './danger.ts';
import { type FindingId, type FindingValue, factBehind, findingWords } from './findings.ts';
import { type JobFacts, readJobFacts } from './jobFacts.ts';
import { nextQuestionOf } from './nextQuestion.ts';
import { type RankedCause, rankingOf } from './rank.ts';
import { scoreCauses } from './scored.ts';
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
  if (!saysAnything(labels) && Object.keys(facts).every((fact) => fact === 'day' || fact === 'limits_by'))
    return { ...nothingTold, ...told };

  const scored = scoreCauses(labels, facts, options.startingWeights);
  const ranking = rankingOf(scored);
  const act: ActChoice = chooseAct(ranking, labels, facts, options.daysLeft, options.settings);
  const next = act.expectedCosts.find((one) => one.act !== act.id);
  const shown = shownOnce(facts);
  const question = nextQuestionOf(act.id, scored, options);
  return {
    causes: ranking.map((ranked) => weighedCause(ranked, shown)),
    act: { id: act.id, way: act.way, why: act.why },
    ...(question ? { question } : {}),
    costs: {
      ofNothing: costOfNothing(ranking, options.settings),
      ofBestAct: act.expectedCosts[0]?.expectedCost ?? 0,
      ...(next ? { nextBest: { act: next.act, way: next.way, cost: next.expectedCost } } : {}),
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

const weighedCause = (
  { cause, share, contributions }: RankedCause,
  shown: (c: Contribution) => Shown,
): WeighedCause => {
  const evidence: Evidence[] = [];
  for (const c of contributions) {
    const { fact, value, words } = shown(c);
    evidence.push({
      fact,
      value,
      toward: c.timesAlone >= 1 ? 'for' : 'against',
      times: c.times,
      timesAlone: c.timesAlone,
      words,
      source: c.source,
    });
  }
  return { id: cause.id, share, evidence };
};

type Shown = Pick<Evidence, 'fact' | 'value' | 'words'>;

/** A finding as it is shown: the fact, its value, and both in words. Many causes rest on one: it is put in words once. */
const shownOnce = (facts: JobFacts): ((c: Contribution) => Shown) => {
  const labels = new Map<FindingValue, Shown>();
  const findings = new Map<FindingId, Shown>();
  return ({ finding, value }) => {
    const before = finding === 'reply_labels' ? labels.get(value) : findings.get(finding);
    if (before) return before;
    if (finding === 'reply_labels') {
      const shown = said(value);
      labels.set(value, shown);
      return shown;
    }
    const shown = measured(finding, value, facts);
    findings.set(finding, shown);
    return shown;
  };
};

const said = (value: FindingValue): Shown => ({ fact: 'reply_labels', value, words: `says: ${value}` });
const measured = (finding: FindingId, value: FindingValue, facts: JobFacts): Shown => {
  const fact = factBehind(finding, facts);
  return { fact, value: facts[fact] ?? value, words: findingWords(finding, value) };
};
