import type { AskDay, Block, Words } from '../types.ts';

const SINCE: Readonly<Record<AskDay, string>> = {
  3: 'You have had your new glasses for a few days now.',
  7: 'You have had your new glasses for a week now.',
  14: 'You have had your new glasses for two weeks now.',
  30: 'You have had your new glasses for a month now.',
};

export const emails: Words['emails'] = {
  greeting: (fill) => (fill.name ? `Hello ${fill.name},` : 'Hello,'),
  signature: (fill) => `${fill.shop}, ${fill.phone}`,
  howToStop: (stopLink) =>
    stopLink
      ? `To get no more of these emails, answer with STOP or use this page: ${stopLink}`
      : 'To get no more of these emails, answer with STOP.',
  answerLink: 'Answer with one tap',
  tipsLink: 'All of this on one page',
  checkIn: (_fill, day) => ({
    subject: 'How are your new glasses?',
    body: [
      `${SINCE[day]} How do you get on with them?`,
      'Answer this email with a number or in your own words. Good or bad, we want to hear it.',
    ],
  }),
  checkInAgain: () => ({
    subject: 'Is it put right in your new glasses?',
    body: [
      'We made your glasses again. Is what was wrong before put right?',
      'Answer this email with a number or in your own words. Good or bad, we want to hear it.',
    ],
  }),
  haveTheyCome: () => ({
    subject: 'Have your new glasses come?',
    body: [
      'Have your new glasses come yet? We will ask how you get on with them once they are with you.',
      'Answer a for yes or b for not yet.',
    ],
  }),
  tips: (_fill, of) => ({
    subject: 'Your new glasses: the first days',
    body: [
      of.way === 'counter'
        ? 'You have your new glasses. Here is what helps in the first days.'
        : 'Your new glasses should be with you now. Here is what helps in the first days.',
      ...(of.firstMultifocal ? MULTIFOCAL : ANY_PAIR),
      ...(of.lightReactive ? LIGHT_REACTIVE : []),
      ...TELL_US,
    ],
  }),
  resumeDone: (_fill) => 'Done. We will write again about your new glasses.',
  help: (fill) =>
    `${fill.shop} writes to ask how you get on with your new glasses. To speak to a person ring ${fill.phone}.`,
  wrongNumber: (_fill) =>
    'Sorry, we had this address for someone else. It is off our list and you will get no more from us.',
  questionIntro: 'One short question, so that we can help you better:',
  askedAgain:
    'Your short answer came a while after our question, so we ask once more. How are your new glasses today?',
  correctionIntro: 'Please forget our last message. This is right:',
  caution: (fill, danger, hours) => (danger === 'eye' ? eyeCaution(fill, hours) : fallCaution(fill, hours)),
  subjects: {
    answer: 'About your new glasses',
    question: 'One question about your new glasses',
    'stop-done': 'No more emails from us',
    'resume-done': 'We will write again',
    help: 'Who we are',
    'wrong-number': 'Sorry, wrong address',
    caution: 'Please read this now',
    staff: 'About your new glasses',
    correction: 'A correction',
  },
};

const ANY_PAIR: readonly Block[] = [
  {
    list: [
      'Wear them all day and leave the old pair in its case.',
      'Take care on stairs and kerbs until they feel sure.',
      'Do not drive in them until you see road, mirrors and dashboard clearly.',
    ],
  },
];

const MULTIFOCAL: readonly Block[] = [
  { heading: 'Your first multifocals' },
  {
    list: [
      'Put them on in the morning, wear them all day and leave the old pair in its case.',
      'Point your nose at what you want to see. Turn your head, not just your eyes.',
      'For far things keep your chin level. To read, drop your eyes and not your head, then move the page until it is clear.',
      'Good light helps you to find the clear place.',
      'On stairs tuck your chin in and look through the top. Hold the rail. Take care on kerbs.',
      'Do not drive in them until road, mirrors and dashboard are all clear and sure.',
      'Set the top of a screen at eye height or lower.',
      'Do you have glasses just for reading? Keep them for long reading, such as a book in the evening.',
      'The frame should sit high and close to your face. If it slips, come to us and do not bend it.',
      'The sides are soft: they are made so. Most people settle within two weeks, and some take a month.',
    ],
  },
];

const LIGHT_REACTIVE: readonly Block[] = [
  { heading: 'Lenses that go dark in the sun' },
  {
    list: [
      'Daylight turns them dark, not brightness. They are darkest on cold bright days and paler in the heat.',
      'In a car they hardly go dark: the windscreen keeps out the light they need. Keep sunglasses in the car.',
      'They clear more slowly than they go dark, and much more slowly in the cold. Let them clear before you drive in the dark or into a tunnel.',
      'A faint tint indoors is usual, more so near a window.',
      'They do not make it safe to look at the sun.',
    ],
  },
];

const TELL_US: readonly Block[] = [
  { heading: 'Tell us at once' },
  {
    list: [
      'if one eye sees worse than the other',
      'if you see two of a thing',
      'if you have to hold your head oddly to see far or to read',
      'if the frame hurts',
    ],
  },
  'New flashes, many new floaters, a curtain or shadow, sudden loss of sight, sudden double sight, a red or painful eye: do not wait for an answer from us. Have it looked at the same day by an eye doctor or optometrist, or at an emergency department.',
];

function eyeCaution(fill: { numberList: readonly string[] }, hours: 'open' | 'closed'): readonly Block[] {
  const numbers: Block = { list: fill.numberList };
  const words =
    'What you tell us should be looked at today by an eye doctor or optometrist, or at an emergency department. Please do not wait for us, and do not drive yourself.';
  const rinse = 'If a chemical got in your eye, first rinse it with clean water for 20 minutes.';
  return hours === 'open'
    ? [words, 'We are calling you.', rinse, numbers]
    : ['Get help now:', numbers, words, rinse];
}

function fallCaution(fill: { numberList: readonly string[] }, hours: 'open' | 'closed'): readonly Block[] {
  const numbers: Block = { list: fill.numberList };
  const hurt = 'If you are hurt, or hit your head, hip or eye, get medical help first.';
  const rest =
    'If a piece is in your eye, do not pull it out. Do not walk about or drive in the new glasses until they have been looked at.';
  return hours === 'open'
    ? [hurt, numbers, rest, 'We are calling you.']
    : ['Get help now:', numbers, hurt, rest];
}
