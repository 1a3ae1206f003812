import type { LightReactiveView } from '../../dashboard/for-wearers/light-reactive/view.ts';
import type { TintPicture } from '../../dashboard/pictures/tint/view.ts';
import { tintCurve } from '../optics/tintCurve.ts';
import type { LightReactive } from '../store/lensBook.ts';
import { tintData } from './tintData.ts';

type Air = LightReactiveView['air'];
type Lang = 'en' | 'es';

const AIR_C: Readonly<Record<Air, number>> = { cold: 5, mild: 20, hot: 35 };
const OUT_S = 300;
const IN_S = 900;

/** Tint against time of the wearer's own lens in one air, in plain words; null without the data of the design. */
export function wearerTint(lens: LightReactive | null, air: Air, lang: Lang): TintPicture | null {
  const data = tintData(lens, '');
  if (!data) return null;
  const words = WORDS[lang];
  const { darkening, clearing, deepestPercent } = tintCurve(data, {
    place: 'open sun',
    temperatureC: AIR_C[air],
    outS: OUT_S,
    inS: IN_S,
  });
  const after5 = clearing.find((point) => point.timeS >= 300)?.percent ?? deepestPercent;
  const name = `${words[air]}, ${AIR_C[air]} °C`;
  return {
    lang,
    title: words.title,
    says: words.says,
    lines: [{ name, darkening, clearing }],
    levels: [{ percent: 75, words: words.dusk }],
    words: words.picture,
    table: {
      heads: words.heads,
      rows: [[name, `${Math.round(deepestPercent)} %`, `${Math.round(after5)} %`]],
    },
  };
}

const WORDS = {
  en: {
    cold: 'cold',
    mild: 'mild',
    hot: 'hot',
    title: 'How dark, how fast',
    says: 'About, from the data of the lens: five minutes in the sun, then indoors.',
    dusk: 'under this not for driving at dusk or night',
    heads: ['Dark after 5 minutes', 'After 5 minutes indoors'],
    picture: {
      outside: 'outside',
      inside: 'indoors',
      minutes: 'minutes',
      lightLetThrough: 'light let through',
      asTable: 'The same as a table',
      condition: 'Air',
    },
  },
  es: {
    cold: 'frío',
    mild: 'templado',
    hot: 'calor',
    title: 'Qué tan oscuros y qué tan rápido',
    says: 'Más o menos, según los datos del lente: cinco minutos al sol y luego adentro.',
    dusk: 'por debajo de esto no conduzca al anochecer ni de noche',
    heads: ['Oscuro a los 5 minutos', 'A los 5 minutos adentro'],
    picture: {
      outside: 'afuera',
      inside: 'adentro',
      minutes: 'minutos',
      lightLetThrough: 'luz que pasa',
      asTable: 'Lo mismo en una tabla',
      condition: 'Aire',
    },
  },
} as const;
