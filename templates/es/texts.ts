import type { AskDay, Fill, Words } from '../types.ts';

/** Without á, í, ó or ú, which would turn the whole text into the short kind of part. */
export const ENDING_TEXT =
  '1 veo bien\n2 voy mejor\n3 algo no va bien\n4 no los uso\n5 quiero que me llamen\no cuéntenos con sus palabras.';

const WHEN: Readonly<Record<AskDay, string>> = {
  3: 'hasta ahora',
  7: 'tras una semana',
  14: 'tras dos semanas',
  30: 'tras un mes',
};
const hello = (fill: Fill) => `Hola${fill.name ? `, ${fill.name}` : ''}: somos ${fill.shop}.`;
const NO_MORE = 'STOP para terminar.';
const TAP_OR = (link: string) => `Toque ${link} o responda:`;

export const texts: Words['texts'] = {
  checkInFirst: (fill) => {
    const start = `${hello(fill)} ¿Qué tal sus lentes nuevos? ${NO_MORE}`;
    return [
      ...(fill.link ? [`${start} ${TAP_OR(fill.link)}\n${ENDING_TEXT}`] : []),
      `${start}\n${ENDING_TEXT}`,
    ];
  },
  checkIn: (fill, day) => [
    ...(fill.link
      ? [`${fill.shop}: ¿qué tal sus lentes nuevos ${WHEN[day]}? ${TAP_OR(fill.link)}\n${ENDING_TEXT}`]
      : []),
    `${fill.shop}: ¿qué tal sus lentes nuevos ${WHEN[day]}?\n${ENDING_TEXT}`,
  ],
  checkInAgain: (fill) => [
    ...(fill.link
      ? [
          `${fill.shop}: ¿lo que no iba bien antes va bien con sus lentes nuevos? ${TAP_OR(fill.link)}\n${ENDING_TEXT}`,
        ]
      : []),
    `${fill.shop}: ¿lo que no iba bien antes va bien con sus lentes nuevos?\n${ENDING_TEXT}`,
  ],
  haveTheyCome: (fill, first) =>
    first
      ? [`${hello(fill)} ¿Ya tiene sus lentes nuevos? Responda a si los tiene o b si no. ${NO_MORE}`]
      : [`${fill.shop}: ¿ya tiene sus lentes nuevos? Responda a si los tiene o b si no.`],
  tips: (fill, way) => {
    const start =
      way === 'counter'
        ? `${hello(fill)} Le preguntaremos a veces por sus lentes nuevos.`
        : `${hello(fill)} Ya tendrá sus lentes nuevos. Le preguntaremos a veces qué tal.`;
    return [
      ...(fill.link ? [`${start} Consejos: ${fill.link} Escriba cuando quiera. ${NO_MORE}`] : []),
      `${start} Escriba cuando quiera. ${NO_MORE}`,
    ];
  },
  askedAgain: (fill) => `${fill.shop}: ¿qué tal hoy?\n${ENDING_TEXT}`,
  signed: (fill, words, writer) => `${fill.shop}${writer ? ` (${writer})` : ''}: ${words}`,
  correction: (fill, words) => `${fill.shop}: olvide nuestro mensaje anterior, por favor. ${words}`,
  stopDone: (fill, channels) =>
    channels.includes('text') && channels.includes('email')
      ? `${fill.shop}: hecho. No recibirá más mensajes ni correos. Puede llamarnos al ${fill.phone}.`
      : channels.includes('email')
        ? `${fill.shop}: hecho. No recibirá más correos. Puede llamarnos al ${fill.phone}.`
        : `${fill.shop}: hecho. No recibirá más mensajes de texto. Puede llamarnos al ${fill.phone}.`,
  resumeDone: (fill) => `${fill.shop}: hecho. Le volveremos a escribir sobre sus lentes nuevos. ${NO_MORE}`,
  help: (fill) =>
    `${fill.shop} le pregunta por sus lentes nuevos. Para hablar con una persona llame al ${fill.phone}. ${NO_MORE}`,
  wrongNumber: (fill) =>
    `${fill.shop}: perdón, este número era de otra persona. Ya no está en la lista. No le llega nada más de aquí.`,
  caution: (fill, danger, hours) => {
    if (danger === 'eye') {
      return hours === 'open'
        ? `${fill.shop}: ${EYE} No nos espere. ${NO_DRIVING} Le vamos a llamar. ${RINSE} ${fill.numbers}.`
        : `Pida ayuda ya: ${fill.numbers}. ${capital(EYE)} No nos espere. ${NO_DRIVING} ${RINSE} ${fill.shop}`;
    }
    return hours === 'open'
      ? `${fill.shop}: ${HURT}: ${fill.numbers}. ${PIECE} ${KEEP_OFF} Le vamos a llamar.`
      : `Pida ayuda ya: ${fill.numbers}. ${capital(HURT)}. ${PIECE} ${KEEP_OFF} ${fill.shop}`;
  },
};

// Every word here is chosen to stay inside the basic alphabet, so that the caution keeps to three parts.
const EYE = 'lo que nos cuenta debe verlo hoy un oculista u optometrista, o un servicio de urgencias.';
const NO_DRIVING = 'No conduzca.';
const RINSE = 'Si le ha entrado un producto en el ojo, primero enjuague con agua limpia 20 minutos.';
const HURT = 'si se ha hecho daño en la cabeza, la cadera o un ojo, primero busque ayuda de un doctor';
const PIECE = 'Si tiene un trozo en el ojo, no lo saque.';
const KEEP_OFF = 'No ande ni conduzca con los lentes nuevos hasta que los revisen.';

const capital = (sentence: string) => sentence.charAt(0).toUpperCase() + sentence.slice(1);
