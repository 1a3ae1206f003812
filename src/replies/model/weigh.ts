import type { Evidence, Reason } from '../sorter.ts';
import { LABELS, type Label } from '../types.ts';
import { balance } from './balance.generated.ts';
import type { Opinion } from './secondReader.ts';

/**
 * The chance of each label, in the order of `LABELS`, from what the rules found and what the words say to the second
 * reader. One logistic regression for all labels, with few weights that have names (`balance.generated.ts`), fitted by
 * `npm run train:replies` on replies by other hands that neither the rules nor that reader's words were made from.
 */
export function weigh(evidence: Evidence, ruled: readonly Reason[], opinion: Opinion): Float64Array {
  const chances = new Float64Array(LABELS.length);
  const grounds = groundsOf(evidence, ruled, opinion);
  for (let i = 0; i < LABELS.length; i += 1) {
    let sum = balance.bias;
    for (const [name, amount] of grounds(i)) sum += (balance.weights[name] ?? 0) * amount;
    chances[i] = 1 / (1 + Math.exp(-sum));
  }
  return chances;
}

type Ground = readonly [name: string, amount: number];

/** Names of the grounds that each label has of its own. */
const NAMES = LABELS.map((label) => ({
  label: `label ${label}`,
  opinion: `opinion ${label}`,
  other: `other ${label}`,
  nothing: `nothing ${label}`,
  rule: `rule ${label}`,
}));

const LOGIT_MIDDLE = 3;
const LOGIT_SCALE = 4;
const NOTHING_MIDDLE = 2;
const LABEL_SHARE = 0.3;
const LABEL_OPINION_SHARE = 0.1;
const MANY_WORDS = 30;
const LONG_PHRASE = 5;
const MANY_PHRASES = 4;

const QUESTION_WORDS = new Set(
  'what when where who how why which can could do does did is are will would should shall may any have has am was'.split(
    ' ',
  ),
);

/** What speaks for and against a label, by name. */
export function groundsOf(
  evidence: Evidence,
  ruled: readonly Reason[],
  opinion: Opinion,
): (at: number) => readonly Ground[] {
  const given = new Map<Label, number>();
  const phrasesFor = new Map<Label, Set<string>>();
  for (const reason of ruled) {
    given.set(reason.label, Math.max(given.get(reason.label) ?? 0, reason.used.length));
    const phrases = phrasesFor.get(reason.label) ?? new Set();
    phrasesFor.set(reason.label, phrases.add(reason.phrase));
  }
  const doubts = new Map<Label, Set<string>>();
  const fired = new Set<Label>();
  for (const reason of evidence.reasons) {
    if (reason.holds) fired.add(reason.label);
    else {
      const row = doubts.get(reason.label) ?? new Set();
      for (const doubt of reason.doubts) row.add(doubt);
      doubts.set(reason.label, row);
    }
  }
  const bySentence = LABELS.map((_, i) => chanceOf(opinion.ofBestSentence[i]!));
  let bestBySentence = 0;
  let secondBySentence = 0;
  for (const chance of bySentence)
    if (chance > bestBySentence) {
      secondBySentence = bestBySentence;
      bestBySentence = chance;
    } else if (chance > secondBySentence) secondBySentence = chance;
  let best = 0;
  for (let i = 0; i < LABELS.length; i += 1) best = Math.max(best, chanceOf(opinion.logits[i]!));
  const asks = evidence.asking.some((one) => one);
  const asksAtTheEnd = evidence.asking.at(-1) === true;
  const openings = evidence.board.tokens.filter(
    (token, i, all) => evidence.asking[i] && all[i - 1]?.sentence !== token.sentence,
  );
  const nothing = (opinion.nothing + NOTHING_MIDDLE) / LOGIT_SCALE;
  const words = Math.min(evidence.board.tokens.length, MANY_WORDS) / MANY_WORDS;
  return (at) => {
    const label = LABELS[at]!;
    const ruledHere = given.get(label);
    const others = given.size - (ruledHere === undefined ? 0 : 1) > 0;
    const logit = (opinion.logits[at]! + LOGIT_MIDDLE) / LOGIT_SCALE;
    const chance = chanceOf(opinion.logits[at]!);
    const bestOther = bySentence[at]! >= bestBySentence ? secondBySentence : bestBySentence;
    const names = NAMES[at]!;
    const grounds: Ground[] = [
      ['opinion', logit],
      ['opinion of the best sentence', (opinion.ofBestSentence[at]! + LOGIT_MIDDLE) / LOGIT_SCALE],
      ['sentence above the whole', bySentence[at]! - chance],
      [names.other, LABEL_SHARE * bestOther],
      ['behind the best', best - chance],
      ['length', words],
      ['nothing', nothing],
      [names.nothing, LABEL_OPINION_SHARE * nothing],
      [names.label, LABEL_SHARE],
      [names.opinion, LABEL_OPINION_SHARE * logit * LOGIT_SCALE],
    ];
    if (chance >= best) grounds.push(['best', 1], ['nothing and best', nothing]);
    if (label === 'wants-contact') {
      if (asks) grounds.push(['asks', 1]);
      if (asksAtTheEnd) grounds.push(['asks at the end', 1]);
      if (openings.some((token) => QUESTION_WORDS.has(token.word)))
        grounds.push(['asks with its first word', 1]);
      if (evidence.asks.length > 0) grounds.push(['asks what wearers ask', 1]);
    }
    if (ruledHere !== undefined)
      grounds.push(
        ['rule', 1],
        [names.rule, LABEL_SHARE],
        ['rule and opinion', logit],
        ['nothing and rule', nothing],
        ['length of the phrase', Math.min(ruledHere, LONG_PHRASE) / LONG_PHRASE],
        ['phrases', Math.min(phrasesFor.get(label)!.size, MANY_PHRASES) / MANY_PHRASES],
      );
    else if (fired.has(label)) grounds.push(['rule gave way', 1]);
    for (const doubt of doubts.get(label) ?? []) grounds.push([doubt, 1]);
    if (evidence.takenAway.has(label)) grounds.push(['other sense', 1]);
    if (given.size === 0) {
      grounds.push(['no rule', 1]);
      if (chance >= best) grounds.push(['best and no rule', 1]);
    }
    if (others) grounds.push(['rule for another', 1], ['opinion beside a rule for another', logit]);
    return grounds;
  };
}

function chanceOf(logit: number): number {
  return 1 / (1 + Math.exp(-logit));
}
