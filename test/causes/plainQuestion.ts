import { chooseAct } from '../../src/causes/act.ts';
import { QUESTIONS } from '../../src/causes/catalogue/questions.ts';
import type { Act } from '../../src/causes/catalogue/types.ts';
import type { JobFactKey, JobFacts } from '../../src/causes/jobFacts.ts';
import { entropyBits } from '../../src/causes/nextQuestion.ts';
import { rankCauses, sharesOf } from '../../src/causes/rank.ts';
import { scoreCauses } from '../../src/causes/scored.ts';
import type { Label } from '../../src/replies/types.ts';

/** The next question by its definition, each answer weighed from the start: slow, and what the quick way must agree with. */
export const plainNextQuestion = (
  currentAct: Act,
  labels: readonly Label[],
  facts: JobFacts,
): { readonly id: string; readonly gainBits: number } | undefined => {
  const before = scoreCauses(labels, facts);
  const shares = sharesOf(before.logOdds);
  const entropyOfActs = (of: readonly number[]): number => {
    const byAct = new Map<Act | undefined, number>();
    of.forEach((share, i) => {
      const act = before.acts[i]?.[0];
      byAct.set(act, (byAct.get(act) ?? 0) + share);
    });
    return entropyBits(byAct.values());
  };
  const worth = QUESTIONS.filter(
    ({ after, answers }) =>
      after.some((label) => labels.includes(label)) &&
      answers.every((answer) =>
        (Object.keys(answer.facts) as JobFactKey[]).every((fact) => !(fact in facts)),
      ),
  ).map((question) => {
    const speaks = question.answers.map((answer) =>
      scoreCauses(labels, { ...facts, ...answer.facts }).logOdds.map((odds, i) =>
        Math.exp(odds - (before.logOdds[i] as number)),
      ),
    );
    let expected = 0;
    for (const times of speaks) {
      const joint = shares.map(
        (share, i) =>
          (share * (times[i] as number)) / speaks.reduce((sum, one) => sum + (one[i] as number), 0),
      );
      const chance = joint.reduce((sum, one) => sum + one, 0);
      if (chance > 0) expected += chance * entropyOfActs(joint.map((one) => one / chance));
    }
    const changes = question.answers.some(({ facts: told }) => {
      const then = { ...facts, ...told };
      return chooseAct(rankCauses(labels, then), labels, then).id !== currentAct;
    });
    return { question, changes, gainBits: entropyOfActs(shares) - expected };
  });
  const best = worth
    .filter(({ question, changes, gainBits }) => changes && gainBits > question.bother)
    .sort((a, b) => b.gainBits - b.question.bother - (a.gainBits - a.question.bother))[0];
  return best && { id: best.question.id, gainBits: best.gainBits };
};
