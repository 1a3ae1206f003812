import type { TintPicture } from '../../../dashboard/pictures/tint/view.ts';
import { tintCurve } from '../../../src/optics/tintCurve.ts';

const data = {
  clearPercent: 88,
  darkPercent: 15,
  darkeningTimeConstantS: 20,
  fadingHalfLifeS: 120,
  temperatureC: 23,
  grade: 'ordinary',
  source: 'invented',
} as const;
const curve = (temperatureC: number) => {
  const { darkening, clearing } = tintCurve(data, { place: 'open sun', temperatureC, outS: 300, inS: 900 });
  return { darkening, clearing };
};

export const tintPicture: TintPicture = {
  lang: 'en',
  title: 'How dark, how fast',
  says: 'In the cold they go darker and take much longer to clear.',
  lines: [
    { name: 'cold, 5 °C', ...curve(5) },
    { name: 'mild, 20 °C', ...curve(20) },
    { name: 'hot, 35 °C', ...curve(35) },
  ],
  levels: [{ percent: 75, words: 'under this not for driving at dusk or night' }],
  words: {
    outside: 'outside',
    inside: 'indoors',
    minutes: 'minutes',
    lightLetThrough: 'light let through',
    asTable: 'The same as a table',
    condition: 'Air',
  },
  table: {
    heads: ['Dark after 5 minutes', 'After 5 minutes indoors'],
    rows: [
      ['cold', '15 %', '40 %'],
      ['mild', '16 %', '74 %'],
      ['hot', '30 %', '85 %'],
    ],
  },
};
