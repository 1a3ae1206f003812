import type { Words } from '../types.ts';

export const heard: Words['heard'] = {
  settled: 'good to hear, thank you. There is nothing you need to do. If that changes, just write back.',
  'getting-there': 'thank you, that is the right way. Keep them on through the day. We will ask again.',
  'trouble-look': 'thank you for telling us. Someone here will look at this and get back to you.',
  'trouble-question': 'thank you for telling us. One short question comes next.',
  'not-arrived':
    'thank you. We will look into where they are. We wait with our questions until they are with you.',
  'not-wearing': 'thank you for telling us. Someone here will get in touch to put this right with you.',
  'wants-contact': 'thank you. Someone here will ring you in shop hours.',
  'wants-money-back': 'thank you for telling us. Someone here will get in touch with you about it.',
  'got-it': 'thank you, we have your message. Someone here will read it.',
};

/*
 * Where the advice comes from: windscreens stop most ultraviolet (Boxer Wachler, JAMA Ophthalmology 2016); cold slows
 * clearing several times over, heat makes paler (ophthalmic lens exam items and published fading times); settling within
 * two weeks, a month for some, nose, chin, stairs and rail (wearer pages of several clinics agree). Nothing here goes to
 * someone who must hold the chin up or sees worse with one eye: that is not for settling.
 */
export const advice: Words['advice'] = {
  'windscreen-uv':
    'a windscreen keeps out most of the light that turns them dark, so in a car they stay pale. Keep sunglasses in the car.',
  'hot-weather-limit':
    'in hot weather they stay paler than on a cold bright day. In strong hot sun take sunglasses.',
  'low-uv-light':
    'they need open sun to go dark. In shade, under a brim or late in the day they stay paler. If open sun is no better, tell us.',
  'normal-fade-time':
    'they clear more slowly than they go dark, and some minutes is usual. Let them clear before you drive in the dark.',
  'cold-slow-clear':
    'after the cold they take much longer to clear. Give them some minutes in the warm. Let them clear before you drive in the dark.',
  'stray-uv-indoors':
    'near a window daylight still tints them a little. Try a seat away from it. If the tint stays, tell us.',
  'residual-base-tint': 'a faint tint indoors is usual. If it gets deeper, or one side is darker, tell us.',
  'early-adaptation':
    'this is common in the first two weeks. Wear them all day and leave the old pair. If it gets worse, tell us at once.',
  'viewing-habit':
    'point your nose at what you want to see. Turn your head, not just your eyes. Try that for a few days, then tell us.',
  'lower-zone-on-steps':
    'on stairs tuck your chin in, look through the top and hold the rail. Take care on kerbs. If you trip, tell us at once.',
  'switching-pairs':
    'each change back to the old pair makes it take longer. Try a whole day in the new pair, then tell us.',
  'expectation-gap':
    'the sides are softer than the middle. Turn your head to what you look at. If that does not help, tell us.',
  'needs-task-pair':
    'set the top of your screen at eye height or lower, and sit up to it. If it is still hard work, tell us.',
  'dirty-or-smeared':
    'wash them in warm water with a drop of mild soap and dry them on a clean cloth. If it stays, tell us.',
};

export const kept: Words['kept'] = {
  'car-tint':
    'a windscreen keeps out most of the light that turns them dark, so they stay pale in a car. Try sunglasses there, or shall we ring you?',
  'how-long':
    'most people settle within two weeks, and some take a month. Wear them all day, or shall we ring you?',
  driving:
    'do not drive in them until road, mirrors and dashboard are all clear and sure. Sit in the parked car first, or shall we ring you?',
  stairs:
    'tuck your chin in, look through the top and hold the rail. Take care on kerbs too, or shall we ring you?',
  screen:
    'set the top of the screen at eye height or lower, and sit up to it. Try that for a day, or shall we ring you?',
  cleaning:
    'warm water, a drop of mild soap, a clean cloth. No window spray or paper. Try that, or shall we ring you?',
  'old-pair':
    'keep the old pair as a spare but leave it in its case for now. Try that, or shall we ring you?',
  // Only the shop can know these: empty until it writes them.
  returns: undefined,
  papers: undefined,
  'order-status': undefined,
};
