import type { Opinion } from './model/secondReader.ts';
import { weigh } from './model/weigh.ts';
import type { Doubt } from './scope.ts';
import type { Evidence, Reason } from './sorter.ts';
import { LABELS, type Label } from './types.ts';

const BLURS: readonly Label[] = ['distance-blur', 'intermediate-blur', 'near-blur'];
const PLACED: readonly Label[] = [
  ...BLURS,
  'near-too-low',
  'near-too-high',
  'narrow-field',
  'one-eye-off',
  'doubling',
  'urgent-eye',
  'glare',
];
/** A blur that is only a part of what a longer phrase of one of these says is not told twice. */
const NARROWER: ReadonlySet<Label> = new Set<Label>([
  ...BLURS,
  'near-too-low',
  'near-too-high',
  'narrow-field',
  'one-eye-off',
]);
const TROUBLES: readonly Label[] = [
  ...PLACED,
  'swim',
  'depth-misjudged',
  'size-or-shape',
  'strain',
  'colour-fringes',
  'unclear-blur',
  'clear-in-car',
  'weak-outdoors',
  'slow-to-darken',
  'slow-to-clear',
  'tinted-indoors',
  'mismatched-tint',
  'slipping',
  'pressure',
  'crooked',
  'surface-flaw',
  'broken',
  'wrong-item',
  'not-wearing',
  'not-arrived',
  'wants-money-back',
  'fall-or-injury',
];
const MENDABLE: ReadonlySet<Label> = new Set<Label>([
  ...BLURS,
  'near-too-low',
  'near-too-high',
  'narrow-field',
  'one-eye-off',
  'doubling',
  'glare',
  'swim',
  'depth-misjudged',
  'size-or-shape',
  'strain',
  'colour-fringes',
  'unclear-blur',
  'pressure',
  'slipping',
]);
const STRONG_PRAISE = new Set([
  'love',
  'loving',
  'best',
  'wonderful',
  'brilliant',
  'super',
  'perfect',
  'fantastic',
  'amazing',
  'happy',
  'delighted',
  'chuffed',
  'great',
  'excellent',
  'marvellous',
  'lovely',
  'superb',
  'thrilled',
  'pleased',
  'fabulous',
  'grand',
  'powerful',
  'gorgeous',
]);

/** Why each label that stands does; and the chance that a stop was meant, by the words alone (0 to 1). */
export type Settled = { readonly reasons: readonly Reason[]; readonly stopChance: number };

/** The phrase of a reason that no phrase of the lexicon gave. */
export const SECOND_READER = 'second reader';

/**
 * Which labels stand: those that the phrases give by the rules by which labels give way to each other, weighed against
 * what the second reader makes of the words. A danger sign or a stop that a phrase gave is never taken away.
 */
export function settle(evidence: Evidence): Settled {
  const ruled = ruledBy(evidence);
  const { opinion } = evidence;
  if (opinion === undefined || opinion.known < LEAST_KNOWN || opinion.words < FEWEST_WORDS)
    return { reasons: ruled, stopChance: 0 };
  const chances = weigh(evidence, ruled, opinion);
  const stands = standing(chances, ruled, evidence);
  const kept = ruled.filter((reason) => stands.has(reason.label));
  const given = new Set(kept.map((reason) => reason.label));
  for (const label of stands) {
    if (given.has(label)) continue;
    // A blur whose place is told is not told again without its place.
    if (label === 'unclear-blur' && BLURS.some((blur) => stands.has(blur))) continue;
    const used = usedFor(evidence, opinion, label);
    if (used.length === 0 || (label === 'settled' && !enoughForPraise(opinion))) continue;
    kept.push({
      label,
      phrase: SECOND_READER,
      start: used[0]!,
      end: used.at(-1)!,
      used,
      doubts: new Set<Doubt>(),
      holds: true,
    });
  }
  return { reasons: kept, stopChance: chances[LABELS.indexOf('stop')]! };
}

function enoughForPraise(opinion: Opinion): boolean {
  return opinion.known >= KNOWN_FOR_PRAISE && opinion.words >= FEWEST_WORDS_OF_PRAISE;
}

/** What the phrases alone give. */
export function ruledBy(evidence: Evidence): readonly Reason[] {
  return settleReasons(
    evidence,
    evidence.reasons.filter((reason) => reason.holds),
  );
}

/** Of fewer words that it has seen before, as a share, the second reader says nothing; nor of one word alone. */
const LEAST_KNOWN = 0.34;
const FEWEST_WORDS = 2;
/** Praise must not be made out of noise: it closes a case. */
const KNOWN_FOR_PRAISE = 0.7;
const FEWEST_WORDS_OF_PRAISE = 5;
const LIKELY = 0.42;
/** Where nothing is likely, the best stands from here, and what is nearly as good. */
const LEAST_CHANCE = 0.34;
const NEAR_THE_BEST = 0.7;
const SAFETY: ReadonlySet<Label> = new Set<Label>(['urgent-eye', 'fall-or-injury', 'stop']);
/** A danger sign is raised sooner than anything else, a stop later. */
const LIKELY_FOR: Partial<Record<Label, number>> = { 'urgent-eye': 0.35, 'fall-or-injury': 0.35, stop: 0.62 };
/** A label that two phrases or more gave stands from here. */
const LIKELY_FOR_TWO_PHRASES = 0.15;
/** Where the rules saw the words and took them in another sense, it must be surer. */
const SURE = 0.7;
/** A stop that the rules saw and took in another sense ("I don't want to stop getting these") the reader never raises. */
const NEVER = 1;

function standing(chances: Float64Array, ruled: readonly Reason[], evidence: Evidence): ReadonlySet<Label> {
  const given = new Set(ruled.map((reason) => reason.label));
  const stands = new Set<Label>([...given].filter((label) => SAFETY.has(label)));
  const doubted = new Set<Label>([
    ...evidence.takenAway,
    ...evidence.reasons.filter((reason) => !reason.holds).map((reason) => reason.label),
  ]);
  const twice = new Set<Label>(
    [...given].filter(
      (label) => new Set(ruled.filter((one) => one.label === label).map((one) => one.phrase)).size > 1,
    ),
  );
  const inDoubt = (label: Label) => doubted.has(label) && !given.has(label);
  LABELS.forEach((label, at) => {
    const likely = twice.has(label) ? LIKELY_FOR_TWO_PHRASES : (LIKELY_FOR[label] ?? LIKELY);
    const least = Math.max(likely, inDoubt(label) ? (label === 'stop' ? NEVER : SURE) : 0);
    if (chances[at]! >= least) stands.add(label);
  });
  if (stands.size > 0) return stands;
  const open = (label: Label) => !SAFETY.has(label) && !inDoubt(label);
  const best = Math.max(0, ...LABELS.map((label, at) => (open(label) ? chances[at]! : 0)));
  if (best < LEAST_CHANCE) return stands;
  LABELS.forEach((label, at) => {
    if (open(label) && chances[at]! >= Math.max(LEAST_CHANCE, best * NEAR_THE_BEST)) stands.add(label);
  });
  return stands;
}

/** The words to show for a label that no phrase that stood gave: those of a phrase that gave way, else of the reader. */
function usedFor(evidence: Evidence, opinion: Opinion, label: Label): readonly number[] {
  const phrase = evidence.reasons.find((reason) => reason.label === label && reason.holds);
  return phrase?.used ?? opinion.usedFor(label);
}

function settleReasons(evidence: Evidence, reasons: readonly Reason[]): readonly Reason[] {
  let held = reasons;
  const has = (label: Label) => held.some((reason) => reason.label === label);
  const drop = (label: Label, when: (reason: Reason) => boolean = () => true) => {
    held = held.filter((reason) => reason.label !== label || !when(reason));
  };
  const overlaps = (label: Label) => (reason: Reason) =>
    held.some((other) => other.label === label && other.used.some((at) => reason.used.includes(at)));
  const sentenceOf = (reason: Reason) => evidence.board.tokens[reason.start]?.sentence;
  const sentencesOf = (label: Label) =>
    new Set(held.filter((r) => r.label === label).map((r) => sentenceOf(r)));

  if (has('doubling') && evidence.suddenDoubling)
    held = held.map((reason) =>
      reason.label === 'doubling' ? { ...reason, label: 'urgent-eye' as Label } : reason,
    );
  if (has('urgent-eye')) {
    drop('doubling', overlaps('urgent-eye'));
    drop('strain', overlaps('urgent-eye'));
    drop('surface-flaw', overlaps('urgent-eye'));
    drop('one-eye-off', overlaps('urgent-eye'));
    drop('colour-fringes', overlaps('urgent-eye'));
    drop('distance-blur', overlaps('urgent-eye'));
    drop('glare', overlaps('urgent-eye'));
    drop('pressure', overlaps('urgent-eye'));
    drop('tinted-indoors', overlaps('urgent-eye'));
  }
  if (has('fall-or-injury')) {
    drop('pressure', overlaps('fall-or-injury'));
    drop('slipping', overlaps('fall-or-injury'));
    drop('depth-misjudged', (r) => /miss|trip|stumbl/u.test(r.phrase));
  }
  if (has('near-too-low')) {
    const there = sentencesOf('near-too-low');
    for (const label of BLURS) if (label !== 'distance-blur') drop(label, (r) => there.has(sentenceOf(r)));
  }
  if (has('near-too-high')) {
    const there = sentencesOf('near-too-high');
    drop('distance-blur', (r) => there.has(sentenceOf(r)));
  }
  for (const label of BLURS)
    drop(label, (r) =>
      held.some(
        (other) =>
          other.label !== label &&
          NARROWER.has(other.label) &&
          other.used.length > r.used.length &&
          r.used.every((at) => at >= other.start && at <= other.end),
      ),
    );
  if (has('slow-to-clear')) {
    const there = sentencesOf('slow-to-clear');
    for (const label of BLURS)
      drop(label, (r) => there.has(sentenceOf(r)) || there.has((sentenceOf(r) ?? 0) + 1));
    drop('tinted-indoors', overlaps('slow-to-clear'));
  }
  if (has('slow-to-darken')) {
    const there = sentencesOf('slow-to-darken');
    drop('weak-outdoors', (r) => there.has(sentenceOf(r)) && /notDark|squint/u.test(r.phrase));
  }
  if (has('clear-in-car')) drop('weak-outdoors', overlaps('clear-in-car'));
  if (has('swim')) drop('size-or-shape', overlaps('swim'));
  if (has('broken')) drop('slipping', overlaps('broken'));
  if (PLACED.some(has) || has('surface-flaw')) drop('unclear-blur');
  drop('unclear-blur', (r) =>
    held.some((other) => other.label !== 'unclear-blur' && other.used.some((at) => r.used.includes(at))),
  );
  if (has('help')) {
    const there = sentencesOf('help');
    drop('wants-contact', (r) => overlaps('help')(r) || (r.asking === true && there.has(sentenceOf(r))));
    drop('wrong-number', overlaps('help'));
  }
  if (has('resume')) drop('stop', (r) => overlaps('resume')(r) || toldOfThen(evidence, r));
  if (has('wrong-number')) drop('wants-contact');
  const gone = evidence.reasons.some(
    (reason) =>
      !reason.holds &&
      !has(reason.label) &&
      reason.doubts.has('over') &&
      MENDABLE.has(reason.label) &&
      !reason.doubts.has('other') &&
      !reason.doubts.has('supposed'),
  );
  const remains = TROUBLES.some((label) => MENDABLE.has(label) && has(label));
  if (gone && remains && !has('not-wearing') && !has('wants-money-back') && !has('getting-there'))
    held = [...held, ...resolved(evidence, 'getting-there')];
  const troubled = TROUBLES.some((label) => label !== 'urgent-eye' && has(label));
  if (troubled || has('getting-there') || has('stop') || has('wrong-number')) drop('settled');
  if (has('urgent-eye'))
    drop('settled', (r) => !r.used.some((at) => STRONG_PRAISE.has(evidence.board.tokens[at]?.word ?? '')));
  if (gone && !remains && held.every((reason) => reason.label === 'wants-contact') && resolvedByEnd(evidence))
    held = [...held, ...resolved(evidence, 'settled')];
  if (has('not-arrived')) drop('not-wearing', overlaps('not-arrived'));
  return held;
}

/** A stop that is told of as done before: "I told you to stop", "my son blocked you". */
function toldOfThen(evidence: Evidence, reason: Reason): boolean {
  const { tokens } = evidence.board;
  for (let at = Math.max(0, reason.start - STOP_BEFORE); at <= reason.end; at += 1)
    if (tokens[at]?.clause === tokens[reason.start]?.clause && DONE_BEFORE.has(tokens[at]!.word)) return true;
  return /unsubscrib|opt|stopped/u.test(reason.phrase);
}

const STOP_BEFORE = 5;
const DONE_BEFORE = new Set(
  'told asked said stopped blocked cancelled canceled took turned opted unsubscribed ended hit pressed had made telling did'.split(
    ' ',
  ),
);

/** A trouble that has gone speaks for `label`, by the words that told of it. */
function resolved(evidence: Evidence, label: Label): Reason[] {
  const one = evidence.reasons.find((reason) => reason.doubts.has('over') && MENDABLE.has(reason.label));
  return one === undefined ? [] : [{ ...one, label, holds: true }];
}

/** The trouble ended by itself ("went", "used to"), not by a hand in the shop. */
function resolvedByEnd(evidence: Evidence): boolean {
  return !evidence.board.tokens.some((token) => SHOP_HANDS.has(token.word));
}

const SHOP_HANDS = new Set(['bent', 'tightened', 'straightened', 'adjusted', 'fixed', 'lad', 'shop']);
