import { TintPictureSvg } from '../../pictures/tint/picture.tsx';
import { WearerSheet } from '../sheet.tsx';
import { COMMON } from '../words.ts';
import type { LightReactiveView } from './view.ts';

/*
 * What is told: they follow ultraviolet light and not brightness; paler in heat (exam items, published measurements);
 * clearing slower than darkening and several times slower in the cold (Moon 2020); hardly dark behind a windscreen
 * (Boxer Wachler 2016). Not for dusk or night while still dark.
 */
const WORDS = {
  en: {
    how: 'How warm is it outside?',
    cold: 'Cold',
    mild: 'Mild',
    hot: 'Hot',
    do: 'What they do',
    does: [
      'They go dark in daylight: some at once, most of it within about a minute.',
      'They clear indoors more slowly than they go dark: some minutes, and much longer after the cold.',
      'They are darkest on cold bright days and paler in heat.',
    ],
    not: 'What they do not do',
    doesNot: [
      'Behind a windscreen they hardly go dark. Keep sunglasses in the car.',
      'They are not a full stand-in for sunglasses on bright water, on snow or in great heat.',
      'By a window they may keep a faint tint. That is usual.',
    ],
    night: 'Let them clear before you drive at dusk, at night or into a tunnel.',
    tell: 'Tell us if one side is darker than the other, or if they are still clearly dark after ten minutes indoors in a warm room.',
  },
  es: {
    how: '¿Cómo está el aire afuera?',
    cold: 'Frío',
    mild: 'Templado',
    hot: 'Calor',
    do: 'Lo que hacen',
    does: [
      'Se oscurecen con la luz del día: algo enseguida, casi todo en un minuto más o menos.',
      'Adentro se aclaran más despacio que se oscurecen: unos minutos, y mucho más después del frío.',
      'Se oscurecen más en días fríos y claros, y menos con calor.',
    ],
    not: 'Lo que no hacen',
    doesNot: [
      'Detrás del parabrisas casi no se oscurecen. Lleve lentes de sol en el auto.',
      'No sustituyen del todo a los lentes de sol junto al agua, en la nieve o con mucho calor.',
      'Junto a una ventana pueden guardar un tono leve. Es normal.',
    ],
    night: 'Espere a que se aclaren antes de conducir al anochecer, de noche o en un túnel.',
    tell: 'Díganoslo si un lado queda más oscuro que el otro, o si después de diez minutos adentro, sin frío, siguen claramente oscuros.',
  },
} as const;

/** What light-reactive lenses do and do not do, with tint against time for the air that is tapped. */
export function LightReactivePage(props: { view: LightReactiveView }) {
  const { about, air, picture } = props.view;
  const words = WORDS[about.lang];
  return (
    <WearerSheet about={about} title={COMMON[about.lang]['light-reactive']} page="/light-reactive">
      {picture ? (
        <>
          <nav aria-label={words.how} class="air">
            <p>{words.how}</p>
            {(['cold', 'mild', 'hot'] as const).map((each) => (
              <a
                class="button"
                href={`${about.base}/light-reactive?air=${each}&lang=${about.lang}`}
                aria-current={each === air ? 'true' : undefined}
              >
                {words[each]}
              </a>
            ))}
          </nav>
          <TintPictureSvg picture={picture} id="tint" />
        </>
      ) : null}
      <h2>{words.do}</h2>
      <ul class="plain-list">
        {words.does.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
      <h2>{words.not}</h2>
      <ul class="plain-list">
        {words.doesNot.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
      <p class="caution">{words.night}</p>
      <p>{words.tell}</p>
    </WearerSheet>
  );
}
