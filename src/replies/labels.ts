import type { Label } from './types.ts';

export type LabelGroup = 'lens' | 'tint' | 'frame' | 'going' | 'wants' | 'urgent';

export type LabelMeaning = {
  readonly group: LabelGroup;
  /** Short plain name for the staff's pages. */
  readonly name: string;
  /** What a wearer says when it holds, in one sentence. */
  readonly meaning: string;
};

/** The meaning of every label, in plain words. */
export const labelMeanings: Readonly<Record<Label, LabelMeaning>> = {
  swim: {
    group: 'lens',
    name: 'Things sway',
    meaning:
      'The floor or the room seems to sway or roll when the head moves, or walking about makes them dizzy.',
  },
  'distance-blur': {
    group: 'lens',
    name: 'Far is blurred',
    meaning: 'Things far off and straight ahead, such as road signs or the television, are not clear.',
  },
  'intermediate-blur': {
    group: 'lens',
    name: 'Arm’s length is blurred',
    meaning: 'Things at arm’s length, such as a screen, a dashboard or a shelf, are not clear.',
  },
  'near-blur': {
    group: 'lens',
    name: 'Near is blurred',
    meaning:
      'Close print is not clear through any part of the lens, or has to be held too near or too far away.',
  },
  'near-too-low': {
    group: 'lens',
    name: 'Reading part too low',
    meaning:
      'To read, the chin has to come up, the glasses have to be pushed up, or the page has to go down.',
  },
  'near-too-high': {
    group: 'lens',
    name: 'Reading part too high',
    meaning: 'Looking ahead is blurred unless the chin goes down or the glasses slide down.',
  },
  'narrow-field': {
    group: 'lens',
    name: 'Clear part too narrow',
    meaning: 'Only a small patch is clear, so that the head has to turn to look at each thing.',
  },
  'one-eye-off': {
    group: 'lens',
    name: 'One eye worse',
    meaning: 'One eye sees worse than the other, or covering one eye makes things better.',
  },
  doubling: {
    group: 'lens',
    name: 'Double or ghosted',
    meaning:
      'Things have a second image or a ghost beside them with both eyes open, and it did not come on suddenly.',
  },
  'depth-misjudged': {
    group: 'lens',
    name: 'Steps misjudged',
    meaning: 'Steps, kerbs or the ground are nearer or farther than they look; nobody was hurt.',
  },
  'size-or-shape': {
    group: 'lens',
    name: 'Size or shape wrong',
    meaning: 'Things look larger, smaller, tilted, slanted or bent.',
  },
  strain: {
    group: 'lens',
    name: 'Strain or headache',
    meaning: 'The head aches, the eyes are tired or pulled, or they feel sick while keeping still.',
  },
  glare: {
    group: 'lens',
    name: 'Glare',
    meaning: 'Reflections in the lens, or rings, rays and streaks round lights.',
  },
  'colour-fringes': {
    group: 'lens',
    name: 'Coloured edges',
    meaning: 'Edges of things have a rainbow or a coloured rim.',
  },
  'unclear-blur': {
    group: 'lens',
    name: 'Blurred, where is not said',
    meaning: 'They only say that it is not clear: ask where.',
  },
  'clear-in-car': {
    group: 'tint',
    name: 'Stay clear in the car',
    meaning: 'The lenses hardly darken behind a windscreen.',
  },
  'weak-outdoors': {
    group: 'tint',
    name: 'Not dark enough outside',
    meaning: 'The lenses do not get dark enough in the open.',
  },
  'slow-to-darken': {
    group: 'tint',
    name: 'Slow to darken',
    meaning: 'The lenses take too long to go dark.',
  },
  'slow-to-clear': {
    group: 'tint',
    name: 'Slow to clear',
    meaning: 'The lenses stay dark too long after coming in.',
  },
  'tinted-indoors': {
    group: 'tint',
    name: 'Tint stays indoors',
    meaning: 'The lenses never go quite clear in the house.',
  },
  'mismatched-tint': {
    group: 'tint',
    name: 'Lenses do not match',
    meaning: 'One lens goes darker than the other, or a different shade.',
  },
  slipping: { group: 'frame', name: 'Slipping', meaning: 'The frame slides down, falls off or is loose.' },
  pressure: {
    group: 'frame',
    name: 'Pinches or rubs',
    meaning: 'The frame hurts or marks the nose, the ears or the sides of the head.',
  },
  crooked: {
    group: 'frame',
    name: 'Crooked',
    meaning: 'The frame sits uneven or bent, or one lens is nearer the face.',
  },
  'surface-flaw': {
    group: 'frame',
    name: 'Mark in the lens or finish',
    meaning: 'A scratch, chip, bubble, haze or peeling that does not clean off.',
  },
  broken: {
    group: 'frame',
    name: 'Broken',
    meaning: 'A screw, pad, side or lens has come off, come out, snapped or been lost.',
  },
  'wrong-item': {
    group: 'frame',
    name: 'Not what was ordered',
    meaning:
      'The frame, the colour or the lenses are not those that were ordered, or something paid for is missing.',
  },
  settled: { group: 'going', name: 'Settled', meaning: 'They are used to the glasses and see well.' },
  'getting-there': {
    group: 'going',
    name: 'Getting there',
    meaning: 'It is not right yet, but better than it was, or they are giving it time.',
  },
  'not-wearing': {
    group: 'going',
    name: 'Not wearing them',
    meaning: 'They have stopped wearing the glasses, or mostly wear others.',
  },
  'not-arrived': {
    group: 'going',
    name: 'Not had or not tried yet',
    meaning: 'The glasses have not come, or have not been put on yet.',
  },
  'wants-contact': {
    group: 'wants',
    name: 'Wants an answer',
    meaning: 'They want a call, a visit, or an answer to a question.',
  },
  'wants-money-back': {
    group: 'wants',
    name: 'Wants their money back',
    meaning: 'They want to return the glasses or be paid back, or say that they will dispute the payment.',
  },
  stop: {
    group: 'wants',
    name: 'No more messages',
    meaning: 'They want no more messages, or there has been a death or grave illness in the house.',
  },
  resume: {
    group: 'wants',
    name: 'Messages again',
    meaning: 'They stopped the messages and want them again.',
  },
  help: { group: 'wants', name: 'Who is this?', meaning: 'They ask who is writing, or what this is.' },
  'wrong-number': { group: 'wants', name: 'Wrong person', meaning: 'The one who answers is not the wearer.' },
  'urgent-eye': {
    group: 'urgent',
    name: 'Danger: eye',
    meaning:
      'Flashes, new floaters, a shadow, sudden loss or doubling of sight, eye pain, a red hot eye, or something in the eye: a person rings at once.',
  },
  'fall-or-injury': {
    group: 'urgent',
    name: 'Danger: fall or injury',
    meaning:
      'A fall, a near miss on the road, an injury, or a lens that broke near the eye: a person rings at once.',
  },
};
