import type { AskDay, Fill, Words } from '../types.ts';

/** One line an answer: a line break costs one septet where a comma and a space cost two. */
export const ENDING_TEXT =
  '1 seeing well\n2 getting there\n3 something is not right\n4 not wearing them\n5 please ring me\nor just tell us in your own words.';

const WHEN: Readonly<Record<AskDay, string>> = {
  3: 'so far',
  7: 'after a week',
  14: 'after two weeks',
  30: 'after a month',
};
const hello = (fill: Fill) => `Hi${fill.name ? ` ${fill.name}` : ''}, this is ${fill.shop}.`;
const NO_MORE = 'Reply STOP for no more texts.';
const TAP_OR = (link: string) => `Tap ${link} or answer:`;

export const texts: Words['texts'] = {
  checkInFirst: (fill) => {
    const start = `${hello(fill)} How are your new glasses so far? ${NO_MORE}`;
    return [
      ...(fill.link ? [`${start} ${TAP_OR(fill.link)}\n${ENDING_TEXT}`] : []),
      `${start} Answer with a number:\n${ENDING_TEXT}`,
    ];
  },
  checkIn: (fill, day) => [
    ...(fill.link
      ? [`${fill.shop}: how are your new glasses ${WHEN[day]}? ${TAP_OR(fill.link)}\n${ENDING_TEXT}`]
      : []),
    `${fill.shop}: how are your new glasses ${WHEN[day]}?\n${ENDING_TEXT}`,
    `${fill.shop}: your new glasses?\n${ENDING_TEXT}`,
  ],
  checkInAgain: (fill) => [
    ...(fill.link
      ? [
          `${fill.shop}: is what was wrong before put right in your new glasses? ${TAP_OR(fill.link)}\n${ENDING_TEXT}`,
        ]
      : []),
    `${fill.shop}: is what was wrong before put right in your new glasses?\n${ENDING_TEXT}`,
    `${fill.shop}: new glasses better?\n${ENDING_TEXT}`,
    `${fill.shop}: glasses better?\n${ENDING_TEXT}`,
  ],
  haveTheyCome: (fill, first) =>
    first
      ? [`${hello(fill)} Have your new glasses come? Answer a for yes or b for not yet. ${NO_MORE}`]
      : [`${fill.shop}: have your new glasses come? Answer a for yes or b for not yet.`],
  tips: (fill, way) => {
    const start =
      way === 'counter'
        ? `${hello(fill)} We will ask now and then how you get on with your new glasses.`
        : `${hello(fill)} Your new glasses should be with you now. We will ask now and then how you get on.`;
    return [
      ...(fill.link ? [`${start} First steps: ${fill.link} Write back at any time. ${NO_MORE}`] : []),
      `${start} Write back at any time. ${NO_MORE}`,
    ];
  },
  askedAgain: (fill) => `${fill.shop}: how is it today?\n${ENDING_TEXT}`,
  signed: (fill, words, writer) => `${fill.shop}${writer ? ` (${writer})` : ''}: ${words}`,
  correction: (fill, words) => `${fill.shop}: please forget our last message. ${words}`,
  stopDone: (fill, channels) =>
    channels.includes('text') && channels.includes('email')
      ? `${fill.shop}: done. You will get no more texts or emails from us. You can ring us on ${fill.phone}.`
      : channels.includes('email')
        ? `${fill.shop}: done. You will get no more emails from us. You can ring us on ${fill.phone}.`
        : `${fill.shop}: done. You will get no more texts from us. You can ring us on ${fill.phone}.`,
  resumeDone: (fill) => `${fill.shop}: done. We will write again about your new glasses. ${NO_MORE}`,
  help: (fill) =>
    `${fill.shop} writes to ask about your new glasses. To speak to a person ring ${fill.phone}. ${NO_MORE}`,
  wrongNumber: (fill) =>
    `${fill.shop}: sorry, we had this number for someone else. It is off our list and you will get no more from us.`,
  caution: (fill, danger, hours) => {
    if (danger === 'eye') {
      return hours === 'open'
        ? `${fill.shop}: ${EYE} Please do not wait for us. ${NO_DRIVING} We are calling you. ${RINSE} ${fill.numbers}.`
        : `Get help now: ${fill.numbers}. ${capital(EYE)} Please do not wait for us. ${NO_DRIVING} ${RINSE} ${fill.shop}`;
    }
    return hours === 'open'
      ? `${fill.shop}: ${HURT} ${fill.numbers}. ${PIECE} ${KEEP_OFF} We are calling you.`
      : `Get help now: ${fill.numbers}. ${capital(HURT_CLOSED)} ${PIECE} ${KEEP_OFF} ${fill.shop}`;
  },
};

const EYE =
  'what you tell us should be looked at today by an eye doctor or optometrist, or at an emergency department.';
const NO_DRIVING = 'Do not drive yourself.';
const RINSE = 'If a chemical got in your eye, first rinse it with clean water for 20 minutes.';
const HURT = 'if you are hurt, or hit your head, hip or eye, get medical help first:';
const HURT_CLOSED = 'if you are hurt, or hit your head, hip or eye, get medical help first.';
const PIECE = 'If a piece is in your eye, do not pull it out.';
const KEEP_OFF = 'Do not walk about or drive in the new glasses until they have been looked at.';

const capital = (sentence: string) => sentence.charAt(0).toUpperCase() + sentence.slice(1);
