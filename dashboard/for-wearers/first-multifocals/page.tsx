import { ZonesSvg } from '../../pictures/zones/picture.tsx';
import { WearerSheet } from '../sheet.tsx';
import { COMMON } from '../words.ts';
import type { FirstMultifocalsView } from './view.ts';

/*
 * What is told, and why: nose and head toward the thing, eyes down to read, all day from the first morning (several
 * opticians' pages agree); stairs, kerbs and rail because the lower part blurs the step (Lord and others 2002); most
 * settle within two weeks, some take a month. No promise of a date, and nothing that must not wait is put down to settling.
 */
const WORDS = {
  en: {
    zones: {
      far: 'top: far away',
      middle: 'below: screen',
      near: 'bottom: reading',
      sides: 'the sides are soft',
    },
    first: 'In the first days',
    tips: [
      'Put them on in the morning and keep them on. Put the old pair away.',
      'Point your nose at what you want to see. Turn your head, not just your eyes.',
      'To read, keep your chin level and drop your eyes. Move the page until it is clear.',
      'Keep them high and close to your face. If they slip, come and let us adjust them; do not bend them.',
      'Set the top of a screen at eye height or lower.',
    ],
    steps: 'Stairs and kerbs',
    stepsTips: [
      'Tuck your chin in and look through the top. Hold the rail.',
      'Take care on kerbs until you are used to them.',
      'If you have fallen before, tell us: another pair for walking outdoors may be safer.',
    ],
    drive: 'Driving',
    driveTips: [
      'Do not drive in them until road, mirrors and dashboard are all clear and sure. Sit in the parked car first.',
    ],
    time: 'How long it takes',
    timeText: 'Most people settle within two weeks; some take a month.',
    tell: 'Tell us at once, do not wait',
    tellTips: [
      'one eye is worse than the other',
      'you see double',
      'you must hold your head oddly to see far or to read',
      'the frame hurts',
    ],
  },
  es: {
    zones: {
      far: 'arriba: lejos',
      middle: 'debajo: pantalla',
      near: 'abajo: leer',
      sides: 'los lados son menos claros',
    },
    first: 'Los primeros días',
    tips: [
      'Póngaselos por la mañana y déjeselos. Guarde los viejos.',
      'Apunte la nariz a lo que quiere ver. Gire la cabeza, no solo los ojos.',
      'Para leer, barbilla recta y ojos abajo. Mueva la hoja hasta verla clara.',
      'Llévelos altos y cerca de la cara. Si se resbalan, venga y los ajustamos; no los doble.',
      'Ponga el borde de la pantalla a la altura de los ojos o más abajo.',
    ],
    steps: 'Escaleras y bordillos',
    stepsTips: [
      'Baje la barbilla y mire por arriba. Agarre el pasamanos.',
      'Cuidado con los bordillos hasta que se acostumbre.',
      'Si ya se ha caído antes, díganoslo: otro par para caminar afuera puede ser más seguro.',
    ],
    drive: 'Conducir',
    driveTips: [
      'No conduzca con ellos hasta ver bien el camino, los espejos y el tablero. Pruebe primero con el auto parado.',
    ],
    time: 'Cuánto tarda',
    timeText: 'Casi todos se adaptan en dos semanas; algunos, en un mes.',
    tell: 'Díganoslo enseguida, no espere',
    tellTips: [
      'un ojo ve peor que el otro',
      've doble',
      'tiene que poner la cabeza de forma rara para ver lejos o leer',
      'la montura le hace daño',
    ],
  },
} as const;

/** How to use the first multifocals, with a picture of where to look through which part. */
export function FirstMultifocalsPage(props: { view: FirstMultifocalsView }) {
  const { about } = props.view;
  const words = WORDS[about.lang];
  return (
    <WearerSheet about={about} title={COMMON[about.lang]['first-multifocals']} page="/first-multifocals">
      <ZonesSvg {...words.zones} id="zones" />
      <Part heading={words.first} lines={words.tips} />
      <Part heading={words.steps} lines={words.stepsTips} />
      <Part heading={words.drive} lines={words.driveTips} />
      <h2>{words.time}</h2>
      <p>{words.timeText}</p>
      <Part heading={words.tell} lines={words.tellTips} />
    </WearerSheet>
  );
}

function Part(props: { heading: string; lines: readonly string[] }) {
  return (
    <>
      <h2>{props.heading}</h2>
      <ul class="plain-list">
        {props.lines.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
    </>
  );
}
