import type { Locale } from './types.ts';

export type MeasureWords = {
  readonly title: string;
  /** Dots on tape and a ruler, step by step. */
  readonly tapeTitle: string;
  readonly tape: readonly string[];
  /** A straight-on photograph, step by step. */
  readonly photoTitle: string;
  readonly photo: readonly string[];
  readonly right: string;
  readonly left: string;
  readonly sendBack: string;
  /** What stands before a link to the page on which it is answered. */
  readonly ask: string;
};

/** How a wearer measures for us at home: for the printed sheet, and for the email where no link can be sent. */
export const MEASURE_FOR_US: Readonly<Record<Locale, MeasureWords>> = {
  en: {
    title: 'Measure your new glasses for us',
    tapeTitle: 'With tape and a ruler',
    tape: [
      'Put a small strip of clear tape on each lens, over the place you look through when you look far ahead.',
      'Put the glasses on as you wear them. Sit upright in front of a mirror, an arm away, head level. Look at the bridge of your nose in the mirror.',
      'Put a dot on the tape in front of the middle of each pupil, with a fine pen. Ask someone to help if you can.',
      'Take them off. With a ruler, measure from each dot straight down to the lowest point of that lens, to the half millimetre. Leave the rim out.',
      'Do it once more with new tape. If the two differ by more than one millimetre, do it a third time and tell us the middle one.',
    ],
    photoTitle: 'Or with a photograph',
    photo: [
      'Wear them as you always do. Do not push them up for the picture.',
      'Someone stands one big step away (1 metre or more), the camera at the height of your eyes.',
      'Head level. Look straight into the camera. Good light, no flash. Both lenses whole in the picture.',
    ],
    right: 'Right lens (your right), mm',
    left: 'Left lens, mm',
    sendBack: 'Answer with the two numbers, or with the picture. Do not bend the frame: that is for us.',
    ask: 'Could you measure two small things on your new glasses for us? It takes five minutes:',
  },
  es: {
    title: 'Mida sus lentes nuevos por nosotros',
    tapeTitle: 'Con cinta y regla',
    tape: [
      'Ponga una tira pequeña de cinta transparente en cada lente, donde mira cuando mira lejos.',
      'Póngase los lentes como los lleva siempre. Siéntese derecho frente a un espejo, a un brazo, con la cabeza nivelada. Mírese el puente de la nariz.',
      'Ponga un punto en la cinta delante del centro de cada pupila, con un bolígrafo fino. Si puede, pida ayuda.',
      'Quíteselos. Con una regla mida desde cada punto, recto hacia abajo, hasta lo más bajo de ese lente, al medio milímetro. Sin contar el aro.',
      'Hágalo otra vez con cinta nueva. Si cambia más de un milímetro, hágalo una tercera vez y díganos el del medio.',
    ],
    photoTitle: 'O con una foto',
    photo: [
      'Llévelos como siempre. No los suba para la foto.',
      'Alguien se pone a un paso grande (1 metro o más), con la cámara a la altura de sus ojos.',
      'Cabeza nivelada. Mire recto a la cámara. Buena luz, sin flash. Los dos lentes enteros en la foto.',
    ],
    right: 'Lente derecho (su derecha), mm',
    left: 'Lente izquierdo, mm',
    sendBack: 'Responda con los dos números o con la foto. No doble la montura: eso es cosa nuestra.',
    ask: '¿Puede medir dos cosas pequeñas de sus lentes nuevos por nosotros? Son cinco minutos:',
  },
};
