import type { AskDay, Block, Words } from '../types.ts';

const SINCE: Readonly<Record<AskDay, string>> = {
  3: 'Ya lleva unos días con sus lentes nuevos.',
  7: 'Ya lleva una semana con sus lentes nuevos.',
  14: 'Ya lleva dos semanas con sus lentes nuevos.',
  30: 'Ya lleva un mes con sus lentes nuevos.',
};

export const emails: Words['emails'] = {
  greeting: (fill) => (fill.name ? `Hola, ${fill.name}:` : 'Hola:'),
  signature: (fill) => `${fill.shop}, ${fill.phone}`,
  howToStop: (stopLink) =>
    stopLink
      ? `Para no recibir más correos, responda STOP o use esta página: ${stopLink}`
      : 'Para no recibir más correos, responda STOP.',
  answerLink: 'Responder con un toque',
  tipsLink: 'Todo esto en una página',
  checkIn: (_fill, day) => ({
    subject: '¿Qué tal sus lentes nuevos?',
    body: [
      `${SINCE[day]} ¿Cómo le va con ellos?`,
      'Responda a este correo con un número o con sus palabras. Bueno o malo, queremos saberlo.',
    ],
  }),
  checkInAgain: () => ({
    subject: '¿Van bien ahora sus lentes nuevos?',
    body: [
      'Hemos hecho de nuevo sus lentes. ¿Va bien ahora lo que antes no iba bien?',
      'Responda a este correo con un número o con sus palabras. Bueno o malo, queremos saberlo.',
    ],
  }),
  haveTheyCome: () => ({
    subject: '¿Han llegado sus lentes nuevos?',
    body: [
      '¿Han llegado ya sus lentes nuevos? Le preguntaremos cómo le va cuando los tenga.',
      'Responda a si los tiene o b si todavía no.',
    ],
  }),
  tips: (_fill, of) => ({
    subject: 'Sus lentes nuevos: los primeros días',
    body: [
      of.way === 'counter'
        ? 'Ya tiene sus lentes nuevos. Esto ayuda en los primeros días.'
        : 'Ya tendrá en casa sus lentes nuevos. Esto ayuda en los primeros días.',
      ...(of.firstMultifocal ? MULTIFOCAL : ANY_PAIR),
      ...(of.lightReactive ? LIGHT_REACTIVE : []),
      ...TELL_US,
    ],
  }),
  resumeDone: (_fill) => 'Hecho. Le volveremos a escribir sobre sus lentes nuevos.',
  help: (fill) =>
    `${fill.shop} le pregunta por sus lentes nuevos. Para hablar con una persona llame al ${fill.phone}.`,
  wrongNumber: (_fill) =>
    'Perdón, teníamos esta dirección de otra persona. La hemos borrado y no recibirá más correos.',
  questionIntro: 'Una pregunta corta, para poder ayudarle mejor:',
  askedAgain:
    'Su respuesta llegó un tiempo después de la pregunta. Por eso preguntamos otra vez: ¿qué tal hoy?',
  correctionIntro: 'Por favor, olvide nuestro mensaje anterior. Esto es lo correcto:',
  caution: (fill, danger, hours) => (danger === 'eye' ? eyeCaution(fill, hours) : fallCaution(fill, hours)),
  subjects: {
    answer: 'Sobre sus lentes nuevos',
    question: 'Una pregunta sobre sus lentes nuevos',
    'stop-done': 'No le escribiremos más',
    'resume-done': 'Le volveremos a escribir',
    help: 'Quiénes somos',
    'wrong-number': 'Perdón, dirección equivocada',
    caution: 'Lea esto ahora, por favor',
    staff: 'Sobre sus lentes nuevos',
    correction: 'Una corrección',
  },
};

const ANY_PAIR: readonly Block[] = [
  {
    list: [
      'Úselos todo el día y deje los viejos guardados.',
      'Tenga cuidado en escaleras y bordillos hasta que se sienta seguro.',
      'No conduzca con ellos hasta ver bien el camino, los espejos y el tablero.',
    ],
  },
];

const MULTIFOCAL: readonly Block[] = [
  { heading: 'Sus primeros multifocales' },
  {
    list: [
      'Póngaselos por la mañana, úselos todo el día y deje los viejos guardados.',
      'Apunte la nariz a lo que quiere ver. Gire la cabeza, no solo los ojos.',
      'Para lejos, la barbilla recta. Para leer baje los ojos, no la cabeza, y mueva la hoja hasta verla clara.',
      'Una buena luz ayuda a encontrar el lugar claro.',
      'En la escalera baje la barbilla, mire por arriba y agarre el pasamanos. Cuidado en los bordillos.',
      'No conduzca con ellos hasta ver bien el camino, los espejos y el tablero.',
      'Ponga el borde de la pantalla a la altura de los ojos o más abajo.',
      '¿Tiene lentes solo para leer? Guárdelos para leer mucho tiempo, como un libro por la noche.',
      'El armazón va alto y cerca de la cara. Si se resbala, venga y no lo doble usted.',
      'Los lados son menos claros: están hechos así. Casi todos se adaptan en dos semanas; algunos, en un mes.',
    ],
  },
];

const LIGHT_REACTIVE: readonly Block[] = [
  { heading: 'Lentes que se oscurecen al sol' },
  {
    list: [
      'Los oscurece la luz del día, no el brillo. Quedan más oscuros en días fríos y claros, y menos con calor.',
      'En el auto casi no se oscurecen: el parabrisas frena la luz que necesitan. Lleve ahí lentes de sol.',
      'Se aclaran más despacio que se oscurecen, y mucho más despacio con frío. Espere antes de conducir de noche o entrar en un túnel.',
      'Un tono leve dentro de casa es normal, más junto a una ventana.',
      'No sirven para mirar al sol.',
    ],
  },
];

const TELL_US: readonly Block[] = [
  { heading: 'Díganos enseguida' },
  {
    list: [
      'si un ojo ve peor que el otro',
      'si ve doble',
      'si tiene que poner la cabeza rara para ver lejos o leer',
      'si el armazón le hace daño',
    ],
  },
  'Destellos nuevos, muchas manchas nuevas, una cortina o sombra, pérdida súbita de la vista, visión doble súbita, ojo rojo o con dolor: no espere nuestra respuesta. Vaya el mismo día a un oculista u optometrista, o a urgencias.',
];

function eyeCaution(fill: { numberList: readonly string[] }, hours: 'open' | 'closed'): readonly Block[] {
  const numbers: Block = { list: fill.numberList };
  const words =
    'Lo que nos cuenta debe verlo hoy un oculista u optometrista, o un servicio de urgencias. No nos espere y no conduzca.';
  const rinse =
    'Si le ha entrado un producto químico en el ojo, primero enjuague con agua limpia 20 minutos.';
  return hours === 'open'
    ? [words, 'Le vamos a llamar.', rinse, numbers]
    : ['Pida ayuda ya:', numbers, words, rinse];
}

function fallCaution(fill: { numberList: readonly string[] }, hours: 'open' | 'closed'): readonly Block[] {
  const numbers: Block = { list: fill.numberList };
  const hurt = 'Si se ha hecho daño en la cabeza, la cadera o un ojo, primero busque ayuda médica.';
  const rest =
    'Si tiene un trozo en el ojo, no lo saque. No ande ni conduzca con los lentes nuevos hasta que los revisen.';
  return hours === 'open'
    ? [hurt, numbers, rest, 'Le vamos a llamar.']
    : ['Pida ayuda ya:', numbers, hurt, rest];
}
