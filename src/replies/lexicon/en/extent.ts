import type { ExtentPhrases } from '../lexicon.ts';
import { phrases } from '../phrases.ts';

export const maybeStop = phrases(`
^ stop, ^ quit, ^ cancel, ^ end, ^ unsubscribe, ^ revoke, ^ remove, ^ enough, stop please, cancel please, cancel this, cancel it all, i want to stop, i wish to stop, want out, ^ i am out $, count me out, too many messages|texts|emails, not want this|anymore, no longer want|wish|need, not interested, opt out, unsubscribe, leave me, give it a rest, bothering me, fed up with this, sick of this, go away
`);

export const weightyWords = phrases(`
eye, eyeball, eyelid, eyesight, sight, vision, blind, blindness, pupil, cornea, retina, see, blur, blurry, dizzy, faint, fainted, collapsed, collapse, blackout, numb, numbness, slurred, stroke, seizure, chest, heart, pain, painful, hurt, hurts, sore, ache, aches, headache, migraine, sick, vomit, vomiting, nausea, blood, bleeding, bruise, fell, fall, tripped, crash, crashed, accident, hospital, doctor, ambulance, emergency, injury, injured, burn, burning, sudden, suddenly, flash, flashes, floaters, shadow, curtain, swollen, red, weak, weakness, unwell, ill, scared, frightened, dangerous, unsafe, broke, broken, wobble, double, nose, ear, ears, temple, temples, head, neck
`);

export const englishExtent: ExtentPhrases = {
  worse: phrases(
    `worse, worsening, getting worse, got worse, deteriorating, going downhill, worse than before|last|yesterday, more and more`,
  ),
  same: phrases(
    `same as before|last|ever|yesterday|always, no different, no change, no better, not changed, not improved, still the same, much the same, unchanged, just the same`,
  ),
  better: phrases(
    `better than, getting better, bit better, improving, improved, improvement, better each|every|day|now, easier, easing, less than, nowhere near as bad, coming right|along|good`,
  ),
  right: phrases(`right eye|lens|one|side, r eye, my right, the right is, on the right, rhs, richt ee`),
  left: phrases(`left eye|lens|one|side|glass|yin, l eye, my left, the left is, on the left, lhs`),
  bothEyes: phrases(`both eyes, both lenses, each eye, either eye`),
  day: phrases(`day {number}, {number} days, for {number} days, after {number} days`),
  week: phrases(`week {number}, {number} weeks, a week, a fortnight, fortnight, a month`),
};
