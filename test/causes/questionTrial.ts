import { actsOf, chooseAct } from '../../src/causes/act.ts';
import { causeById } from '../../src/causes/catalogue/index.ts';
import { QUESTIONS } from '../../src/causes/catalogue/questions.ts';
import type { Act, Cause } from '../../src/causes/catalogue/types.ts';
import { type JobFacts, readJobFacts } from '../../src/causes/jobFacts.ts';
import { nextQuestion } from '../../src/causes/nextQuestion.ts';
import { answerFacts } from '../../src/causes/questions.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import type { Wearer } from './simulatedShop.ts';

/** How the questions to a simulated wearer went: how many were put, and whether the act came out right. */
export type Trial = { readonly put: number; readonly right: boolean };
const QUESTIONS_A_CASE = 5;

type Chooser = (act: Act, wearer: Wearer, facts: JobFacts, asked: readonly string[]) => string | undefined;

/** Asks by expected gain about the act. */
export const byGain: Chooser = (act, { labels }, facts, asked) =>
  nextQuestion(act, labels, facts, { asked })?.id;

/** Asks in the fixed order of the list, whatever the numbers say. */
export const inFixedOrder: Chooser = (_act, { labels }, _facts, asked) =>
  QUESTIONS.find(({ id, after }) => !asked.includes(id) && after.some((label) => labels.includes(label)))?.id;

/** Puts questions until the act is right, none is left, or five were put. */
export const tryQuestions = (wearer: Wearer, choose: Chooser): Trial => {
  let facts = readJobFacts(wearer.job).facts;
  const unanswerable = QUESTIONS.filter(({ id }) => answerOf(id, wearer) === undefined).map(({ id }) => id);
  const asked = [...unanswerable];
  for (let put = 0; ; put++) {
    const act = chooseAct(rankCauses(wearer.labels, facts), wearer.labels, facts).id;
    if (rightActs(wearer, facts).has(act)) return { put, right: true };
    const question = put < QUESTIONS_A_CASE ? choose(act, wearer, facts, asked) : undefined;
    if (!question) return { put, right: false };
    asked.push(question);
    facts = { ...facts, ...answerFacts(question, answerOf(question, wearer) as string) };
  }
};

/** Acts that can cure what the wearer has. */
const rightActs = ({ causes }: Wearer, facts: JobFacts): ReadonlySet<Act> =>
  new Set(causes.flatMap((id) => actsOf(causeById(id) as Cause, facts)));

/** The tap answer that fits what is so; none where the simulated shop does not know. */
const answerOf = (questionId: string, { whole }: Wearer): string | undefined => {
  const answers = QUESTIONS.find(({ id }) => id === questionId)?.answers ?? [];
  return answers.find(({ facts }) => Object.entries(facts).every(([fact, value]) => fits(whole[fact], value)))
    ?.key;
};

const fits = (so: unknown, told: unknown): boolean =>
  typeof so === 'number' && typeof told === 'number' ? Math.abs(so - told) <= 1.5 : so === told;
