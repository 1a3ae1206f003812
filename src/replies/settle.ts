import type { Doubt } from './scope.ts';
import type { Evidence, Reason } from './sorter.ts';
import type { Label } from './types.ts';

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

/** Which labels stand, out of all phrases that were found: the rules by which labels give way to each other. */
export function settle(evidence: Evidence): readonly Reason[] {
  const ruled = settleReasons(
    evidence,
    evidence.reasons.filter((reason) => reason.holds),
  );
  const kept = withoutOutvoted(evidence, ruled);
  // Words that were read as settled are not made less by a guess.
  const settled = kept.some((reason) => reason.label === 'settled');
  const guessed = secondReading(evidence, kept).filter(
    (reason) => !(settled && reason.label === 'getting-there'),
  );
  return guessed.length === 0 ? kept : settleReasons(evidence, [...kept, ...guessed]);
}

/** Labels that a single phrase may give wrongly, and that the second reader may outvote. */
const OUTVOTABLE: ReadonlySet<Label> = new Set<Label>([
  ...BLURS,
  'narrow-field',
  'pressure',
  'broken',
  'crooked',
  'size-or-shape',
  'surface-flaw',
  'slipping',
  'swim',
  'depth-misjudged',
  'doubling',
  'glare',
  'weak-outdoors',
  'tinted-indoors',
  'not-arrived',
  'not-wearing',
]);

/** Such a label gives way where the second reader is sure of others and sees nothing of it. */
function withoutOutvoted(evidence: Evidence, ruled: readonly Reason[]): readonly Reason[] {
  const chances = new Map(evidence.guesses.map((guess) => [guess.label, guess.chance]));
  const sure = ruled.some((reason) => (chances.get(reason.label) ?? 0) >= SURE);
  if (!sure) return ruled;
  return ruled.filter((reason) => !OUTVOTABLE.has(reason.label) || chances.has(reason.label));
}

/** A sure guess stands beside what the rules found; a fair guess only where they found nothing. */
const SURE = 0.8;
const FAIR = 0.2;
/** A fair guess must be at least so much of the best one. */
const NEAR_THE_BEST = 0.5;
/** "Blurred" and no more: a guess of where is worth having. */
const FAIR_WHERE = 0.35;
const FAIR_PRAISE = 0.5;
/** Praise that no phrase knows is not guessed from fewer words: a scrap must not close a case. */
const FEWEST_WORDS_OF_PRAISE = 5;
/** Where the rules saw the words and took them in another sense, it must be surer still. */
const VERY_SURE = 0.9;

function secondReading(evidence: Evidence, ruled: readonly Reason[]): Reason[] {
  const given = new Set(ruled.map((reason) => reason.label));
  const labelsWhere = (doubts: (reason: Reason) => boolean) =>
    new Set(evidence.reasons.filter(doubts).map((reason) => reason.label));
  const doubted = labelsWhere((reason) => !reason.holds);
  const denied = labelsWhere((reason) => reason.doubts.has('denied'));
  const best = Math.max(0, ...evidence.guesses.map((guess) => guess.chance));
  const placeUnknown = given.size === 1 && given.has('unclear-blur');
  const least = (label: Label): number => {
    if (doubted.has(label) || evidence.takenAway.has(label)) return VERY_SURE;
    if (placeUnknown && PLACED.includes(label)) return FAIR_WHERE;
    if (given.size > 0) return SURE;
    return Math.max(label === 'settled' ? FAIR_PRAISE : FAIR, best * NEAR_THE_BEST);
  };
  return evidence.guesses
    .filter(
      ({ label, chance }) =>
        !given.has(label) &&
        !denied.has(label) &&
        chance >= least(label) &&
        (label !== 'settled' || evidence.board.tokens.length >= FEWEST_WORDS_OF_PRAISE),
    )
    .map(({ label, used }) => ({
      label,
      phrase: 'second reader',
      start: used[0]!,
      end: used.at(-1)!,
      used,
      doubts: new Set<Doubt>(),
      holds: true,
    }));
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
  if (has('resume')) drop('stop', (r) => overlaps('resume')(r) || /unsubscrib|opt|stopped/u.test(r.phrase));
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
