import { type Findings, lensKind, said, words } from './reading.ts';

const oneEarOtherNose = said(
  /(one|right|left) (ear|side).*(other|opposite|nose)|(other|opposite) side|one ear/,
  'sore',
  'pressure_at',
);

/** What was answered or written, read for the few things that a rule asks of it. */
export const ANSWERS = {
  lookingDown: {
    facts: ['when', 'blur_when', 'where'],
    of: said(/down|lower|read|stair|step|kerb|curb/, 'when', 'blur_when', 'where'),
    words: (v) => (v ? 'when looking down' : 'not when looking down'),
  },
  onSteps: {
    facts: ['when', 'blur_when', 'where'],
    of: said(/stair|step|kerb|curb|floor/, 'when', 'blur_when', 'where'),
    words: (v) => (v ? 'on steps or kerbs' : 'not on steps'),
  },
  atNight: {
    facts: ['when', 'blur_when', 'light', 'where'],
    of: said(/night|dark|dusk|headlight|oncoming/, 'when', 'blur_when', 'light', 'where'),
    words: (v) => (v ? 'at night' : 'not said to be at night'),
  },
  inShade: {
    facts: ['where', 'light', 'when'],
    of: said(
      /tree|shade|brim|hat|dusk|evening|dawn|morning|winter|overcast|cloud|window|glass|indoor|inside|conservatory|veranda|porch/,
      'where',
      'light',
      'when',
    ),
    words: (v) => (v ? 'little ultraviolet where it happened' : 'not said to be in shade'),
  },
  behindGlass: {
    facts: ['where', 'when', 'light'],
    of: said(/car\b|driv|windscreen|windshield|van|truck|bus|cab/, 'where', 'when', 'light'),
    words: (v) => (v ? 'while driving' : 'not said to be in a car'),
  },
  nearWindow: {
    facts: ['where', 'light'],
    of: said(/window|conservatory|glass|lamp/, 'where', 'light'),
    words: (v) => (v ? 'by a window' : 'away from windows'),
  },
  atEdges: {
    facts: ['zone', 'where', 'when'],
    of: said(/edge|side|periph|corner/, 'zone', 'where', 'when'),
    words: (v) => (v ? 'toward the edges' : 'not only at the edges'),
  },
  farZone: {
    facts: ['zone'],
    of: said(/dist|far/, 'zone'),
    words: (v) => (v ? 'in the distance zone' : 'not in the distance zone'),
  },
  nearZone: {
    facts: ['zone', 'when', 'blur_when'],
    of: said(/near|read|print|close/, 'zone', 'when', 'blur_when'),
    words: (v) => (v ? 'at near' : 'not at near'),
  },
  behindEar: {
    facts: ['sore', 'pressure_at'],
    of: said(/behind|back of/, 'sore', 'pressure_at'),
    words: (v) => (v ? 'sore behind the ear' : 'not behind the ear'),
  },
  atTempleFront: {
    facts: ['sore', 'pressure_at'],
    of: said(
      /temple|front of (the |both |my )?ear|in front|side of (the |my )?head|above (the |my )?ear/,
      'sore',
      'pressure_at',
    ),
    words: (v) => (v ? 'presses at the side of the head' : 'not at the side of the head'),
  },
  atNose: {
    facts: ['sore', 'pressure_at'],
    // One ear and the other side of the nose is another pattern: the front sits turned, the bridge may fit.
    of: (f) => (oneEarOtherNose(f) ? undefined : said(/nose|pad|bridge/, 'sore', 'pressure_at')(f)),
    words: (v) => (v ? 'presses on the nose' : 'not on the nose'),
  },
  oneEarOtherNose: {
    facts: ['sore', 'pressure_at'],
    of: oneEarOtherNose,
    words: (v) => (v ? 'sore at one ear and the other side of the nose' : 'sore on both sides alike'),
  },
  suddenly: {
    facts: ['onset'],
    of: said(/sudden/, 'onset'),
    words: (v) => (v ? 'came suddenly' : 'did not come suddenly'),
  },
  gradually: {
    facts: ['onset'],
    of: said(/gradual|slow/, 'onset'),
    words: (v) => (v ? 'came gradually' : 'did not come gradually'),
  },
  withNewGlassesOnly: {
    facts: ['onset'],
    of: said(/new glasses|new pair|new lens/, 'onset'),
    words: (v) => (v ? 'began with the new glasses' : 'did not begin with the new glasses'),
  },
  eyeConditionKnown: {
    facts: ['known'],
    of: said(/catar|cloud|macul|glauc|diabet|retin|kerato|cornea|dry eye|stroke|optic/, 'known'),
    words: (v) => (v ? 'an eye condition is on record' : 'no eye condition on record'),
  },
  squintKnown: {
    facts: ['known'],
    of: said(/phoria|tropia|squint|vergence|binocular|lazy|ambly|prism/, 'known'),
    words: (v) => (v ? 'trouble with the two eyes together is on record' : 'none on record'),
  },
  oneEyeSurgeryKnown: {
    facts: ['known', 'says'],
    of: said(
      /(surgery|operat|implant|iol|catar|aphak).*(one|right|left)|one.*(surgery|operat|implant|iol|aphak)/,
      'known',
      'says',
    ),
    words: (v) => (v ? 'one eye was operated on' : 'no operation on one eye'),
  },
  saysBackInOld: {
    facts: ['says', 'when'],
    of: said(
      /(back|swap|switch|chang|altern|go(es|ing)?|keep).*(old|previous|other|reader)|old (ones|pair|glasses) (at|for|most|half|in the)|half the (day|time)|on and off|off and on|part[- ]time|only wear|weekend|now and then|(few|couple of) hours|hour a day|take(s)? them off|in (the|a) (drawer|case)/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'goes back to the previous pair' : 'does not say so'),
  },
  saysNotTold: {
    facts: ['says'],
    of: said(
      /nobody (told|said|explain)|no one (told|said|explain)|wasn.?t told|not told|expected|thought (they|it|i) (would|could)|like (my )?(old )?single|whole (screen|page|width)|full width/,
      'says',
    ),
    words: (v) => (v ? 'expected what the lens cannot give' : 'does not say so'),
  },
  saysOfPriceOrLook: {
    facts: ['says'],
    of: said(
      /price|cost|money|spend|spent|afford|expensive|cheaper|refund|push(ed|y)|pressur|talked into|chang(ed|e) (my|her|his|their) mind|style|look(s)? (on|of|awful|silly|old)|(don.?t|not|never) (like|suit)|friend|partner|husband|wife|daughter|son\b|sister|online/,
      'says',
    ),
    words: (v) => (v ? 'speaks of price, looks or another’s remark' : 'does not say so'),
  },
  saysDownhill: {
    facts: ['says', 'when', 'where'],
    of: said(/downhill|uphill|slop(es|ing) (down|up)/, 'says', 'when', 'where'),
    words: (v) => (v ? 'like walking downhill or uphill' : 'no slope told'),
  },
  saysClearNotRight: {
    facts: ['says'],
    of: said(
      /clear,? but|sharp,? but|something.{0,20}(off|wrong|not right)|(just|somehow) (feels )?(not right|wrong|odd|off)/,
      'says',
    ),
    words: (v) => (v ? 'clear, but not right' : 'not told to be clear but not right'),
  },
  saysChinUp: {
    facts: ['says', 'when'],
    of: said(
      /head (is |goes |tipped |tilted )?back|chin (is |goes |has to |must )?(come |go )?up|(lift|rais).{0,15}chin|neck/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'the chin comes up' : 'the chin is not said to come up'),
  },
  saysChinDown: {
    facts: ['says', 'when'],
    of: said(
      /chin (is |goes |has to |must )?(come |go )?(down|in)|(drop|tuck|lower).{0,15}chin|head (goes |must go )?down/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'the chin goes down' : 'the chin is not said to go down'),
  },
  justCameIn: {
    facts: ['when', 'where', 'light'],
    of: said(
      /just (come|came|walked|gone)|(after|on) coming (in|back|home)|first (few )?minutes/,
      'when',
      'where',
      'light',
    ),
    words: (v) => (v ? 'just after coming in' : 'not only just after coming in'),
  },
  saysNeverShown: {
    facts: ['says'],
    of: said(/(never|not|nobody|no one).{0,12}(show|taught|practi)/, 'says'),
    words: (v) => (v ? 'was never shown how' : 'not told to be unshown'),
  },
  saysHeadMustTurn: {
    facts: ['says', 'when'],
    of: said(/(turn|move|swing|point).{0,12}(head|nose)/, 'says', 'when'),
    words: (v) => (v ? 'the head must turn' : 'the head is not said to turn'),
  },
  middleZone: {
    facts: ['zone'],
    of: said(/inter|middle|arm/, 'zone'),
    words: (v) => (v ? 'in the middle zone' : 'not in the middle zone'),
  },
  dizzyKnown: {
    facts: ['known'],
    of: said(/vertigo|dizz|inner ear|balance|travel|motion/, 'known'),
    words: (v) => (v ? 'dizziness is on record' : 'no dizziness on record'),
  },
  optionMissing: {
    facts: ['option_ordered', 'option_found'],
    of: (f) => {
      const ordered = words(f, 'option_ordered');
      const found = words(f, 'option_found');
      return ordered === undefined || found === undefined ? undefined : ordered !== found;
    },
    words: (v) => (v ? 'the option found is not the option ordered' : 'the option found is the one ordered'),
  },
  newToMultifocals: {
    facts: ['previous_lens'],
    of: (f) => {
      const before = words(f, 'previous_lens');
      return before === undefined ? undefined : !/progress|varifocal|multifocal/.test(before);
    },
    words: (v) => (v ? 'first multifocal' : 'wore multifocals before'),
  },
  woreBifocal: {
    facts: ['previous_lens'],
    of: said(/bifocal|trifocal/, 'previous_lens'),
    words: (v) => (v ? 'bifocal before' : 'no bifocal before'),
  },
  woreSingleVision: {
    facts: ['previous_lens'],
    of: said(/single|reader|none/, 'previous_lens'),
    words: (v) => (v ? 'single vision before' : 'not single vision before'),
  },
  multifocal: {
    facts: ['lens_type'],
    of: (f) => (words(f, 'lens_type') === undefined ? undefined : lensKind(f) !== 'single vision'),
    words: (v) => (v ? 'multifocal lenses' : 'not multifocal lenses'),
  },
  glassLens: {
    facts: ['material'],
    of: said(/\bglass|mineral/, 'material'),
    words: (v) => (v ? 'glass lenses' : 'not glass'),
  },
  templesTight: {
    facts: ['temples'],
    of: said(/tight|narrow|squeez/, 'temples'),
    words: (v) => (v ? 'temples tight' : 'temples not tight'),
  },
  templesLoose: {
    facts: ['temples'],
    of: said(/loose|spread|wide/, 'temples'),
    words: (v) => (v ? 'temples loose' : 'temples not loose'),
  },
  templeBendWrong: {
    facts: ['temples', 'sore', 'says'],
    of: said(/bend|curl|hook|drop|end.?tip/, 'temples', 'sore', 'says'),
    words: (v) => (v ? 'bend of the temple end spoken of' : 'bend not spoken of'),
  },
} satisfies Findings;
