import { WearerSheet } from '../sheet.tsx';
import { COMMON } from '../words.ts';
import type { MeasureView } from './view.ts';

const WORDS = {
  en: {
    title: 'Measure for us',
    thanks: 'Thank you',
    marks: [
      'Put a small strip of clear tape on each lens, over the place you look through when you look far ahead.',
      'Sit upright in front of a mirror an arm away. Look at the bridge of your nose in the mirror.',
      'With a fine pen put a dot on the tape in front of the middle of each pupil. Ask someone to help if you can.',
      'Take them off. With a ruler measure from the dot straight down to the lowest point of the lens.',
    ],
    right: 'Right lens (your right), millimetres',
    left: 'Left lens, millimetres',
    photo: [
      'Ask someone to stand at least one big step away (1 metre or more) and hold the camera at the height of your eyes.',
      'Look straight into the camera, head level, glasses where you wear them.',
      'Good light, no flash. The whole frame must be in the picture.',
    ],
    otherWay: { marks: 'Send a photo instead', photo: 'Measure with tape and a ruler instead' },
    file: 'The picture',
    kept: 'We look at the picture only to measure. It is removed 30 days after your case is closed.',
  },
  es: {
    title: 'Mida por nosotros',
    thanks: 'Gracias',
    marks: [
      'Ponga una tira pequeña de cinta transparente en cada lente, donde mira cuando mira lejos.',
      'Siéntese derecho frente a un espejo, a un brazo de distancia. Mírese el puente de la nariz.',
      'Con un bolígrafo fino ponga un punto en la cinta delante del centro de cada pupila. Si puede, pida ayuda.',
      'Quíteselos. Con una regla mida desde el punto, recto hacia abajo, hasta lo más bajo del lente.',
    ],
    right: 'Lente derecho (su derecha), milímetros',
    left: 'Lente izquierdo, milímetros',
    photo: [
      'Pida a alguien que se ponga a un paso grande (1 metro o más) con la cámara a la altura de sus ojos.',
      'Mire recto a la cámara, cabeza nivelada, lentes donde los lleva.',
      'Buena luz, sin flash. La montura entera debe salir en la foto.',
    ],
    otherWay: { marks: 'Mejor mando una foto', photo: 'Mejor mido con cinta y regla' },
    file: 'La foto',
    kept: 'Miramos la foto solo para medir. Se borra 30 días después de cerrar su caso.',
  },
} as const;

/** Measuring at a distance: marks on tape with a ruler, or a straight-on photograph. */
export function MeasurePage(props: { view: MeasureView }) {
  const { view } = props;
  const { about } = view;
  const words = WORDS[about.lang];
  if (view.thanks !== null) {
    return (
      <WearerSheet about={about} title={words.thanks} page="">
        <p>{view.thanks}</p>
      </WearerSheet>
    );
  }
  return (
    <WearerSheet about={about} title={words.title} page="">
      <ol class="numbered-list">
        {words[view.kind].map((line) => (
          <li>{line}</li>
        ))}
      </ol>
      {view.trouble ? (
        <p class="mend" role="alert">
          {view.trouble}
        </p>
      ) : null}
      <form
        method="post"
        action={about.base}
        enctype={view.kind === 'photo' ? 'multipart/form-data' : undefined}
        class="own-answer"
      >
        <input type="hidden" name="lang" value={about.lang} />
        <input type="hidden" name="what" value={view.kind} />
        {view.kind === 'marks' ? (
          <>
            <label for="right-mm">{words.right}</label>
            <input id="right-mm" name="right_mm" inputmode="decimal" required autocomplete="off" />
            <label for="left-mm">{words.left}</label>
            <input id="left-mm" name="left_mm" inputmode="decimal" required autocomplete="off" />
          </>
        ) : (
          <>
            <label for="photo">{words.file}</label>
            <input id="photo" type="file" name="photo" accept="image/jpeg,image/png,image/webp" required />
            <p>{words.kept}</p>
          </>
        )}
        <button type="submit" class="act">
          {COMMON[about.lang].send}
        </button>
      </form>
      <p>
        <a href={`${about.base}?what=${view.kind === 'marks' ? 'photo' : 'marks'}&lang=${about.lang}`}>
          {words.otherWay[view.kind]}
        </a>
      </p>
    </WearerSheet>
  );
}
