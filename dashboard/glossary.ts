/** Each trade word with one plain sentence. The same list stands in the README and is shown on focus of the word. */
export const GLOSSARY = {
  add: 'The extra plus power for reading at the bottom of the lens, in dioptres.',
  'as-worn powers':
    'The powers that the lab made so that they act as ordered where the lens sits on this face.',
  'base curve': 'How strongly the front of the lens is curved; another curve makes things look another size.',
  'bench check': 'Measuring the finished pair against the order before the wearer gets it.',
  case: 'Everything about one pair that is not right yet: the talk, the numbers, what was done.',
  'check-in': 'A short message that asks the wearer how the new glasses are going.',
  'checked powers': 'The powers that our own lensmeter read on the finished lenses.',
  corridor: 'The narrow part of a multifocal where the power rises from far to reading.',
  'fitting cross': 'The mark on a multifocal that should sit in front of the middle of the pupil.',
  'fitting height': 'How far the fitting cross stands above the lowest point of the lens, in millimetres.',
  'first worn': 'The first day on which the wearer had the pair on; all days are counted from it.',
  'hand-over': 'The moment when the wearer gets the pair, at the counter or by post.',
  'lens design': 'The kind of multifocal: how long its corridor is, how low its reading part lies.',
  'light-reactive': 'A lens that darkens in daylight and clears indoors.',
  'monocular PD': 'The distance from the middle of the nose to one pupil, in millimetres.',
  'near zone': 'The part of a multifocal with the full reading power.',
  'our promise': 'The days in which we said we would put things right, counted from hand-over.',
  'prism reference point': 'The spot on the lens where prism is measured.',
  remake: 'Making the lenses again.',
  'remake window': 'The days in which the lab makes the lenses again on its own terms.',
  'segment height': 'Another name for the fitting height.',
  settled: 'The wearer says that they see well and are used to the pair.',
  share: 'How often, in cases with these facts, this cause would be the right one.',
  tilt: 'How far the bottom of the lens leans toward the cheek, in degrees.',
  'vertex distance': 'The gap between the back of the lens and the eye, in millimetres.',
  wrap: 'How far the frame curves round the face, in degrees.',
} as const;

export type GlossaryWord = keyof typeof GLOSSARY;
