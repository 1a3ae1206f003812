import type { TintPicture } from '../../../dashboard/pictures/tint/view.ts';
import { NIGHT_DRIVING_PERCENT } from '../../optics/tintCategory.ts';
import type { TintPlace } from '../../optics/tintConditions.ts';
import { tintCurve } from '../../optics/tintCurve.ts';
import type { LightReactive } from '../../store/lensBook.ts';
import { tintData } from '../tintData.ts';

const OUT_S = 300;
const IN_S = 900;
const AFTER_S = 300;

const CONDITIONS: readonly { name: string; place: TintPlace; temperatureC: number }[] = [
  { name: 'cold, 5 °C, open sun', place: 'open sun', temperatureC: 5 },
  { name: 'hot, 35 °C, open sun', place: 'open sun', temperatureC: 35 },
  { name: '20 °C, behind a windscreen', place: 'behind windscreen', temperatureC: 20 },
];

/** Replies that are about the tint: beside them the picture says what these lenses can and cannot do. */
const TINT_TROUBLES: ReadonlySet<string> = new Set([
  'clear-in-car',
  'weak-outdoors',
  'slow-to-darken',
  'slow-to-clear',
  'tinted-indoors',
  'mismatched-tint',
  'glare',
]);

export const isAboutTint = (labels: readonly string[]): boolean =>
  labels.some((label) => TINT_TROUBLES.has(label));

type Design = { readonly light_reactive: unknown; readonly source: string | null };

/** Tint against time of a job's design in three conditions; undefined where the lens book lacks one of its figures. */
export function jobTint(design: Design | undefined): TintPicture | undefined {
  const source = design?.source ?? 'source not noted';
  const data = tintData((design?.light_reactive ?? null) as LightReactive | null, source);
  if (!data) return undefined;
  const drawn = CONDITIONS.map(({ name, place, temperatureC }) => ({
    name,
    curve: tintCurve(data, { place, temperatureC, outS: OUT_S, inS: IN_S }),
  }));
  return {
    lang: 'en',
    title: 'Tint against time',
    says: saysOf(data.clearPercent, `${data.temperatureC} °C (${source})`),
    lines: drawn.map(({ name, curve: { darkening, clearing } }) => ({ name, darkening, clearing })),
    levels: [{ percent: NIGHT_DRIVING_PERCENT, words: 'under this not for driving at dusk or night' }],
    words: {
      outside: 'outside',
      inside: 'indoors',
      minutes: 'minutes',
      lightLetThrough: 'light let through',
      asTable: 'The same as a table',
      condition: 'Where',
    },
    table: {
      heads: ['After 5 minutes there', 'After 5 minutes indoors', 'Dusk driving again after'],
      rows: drawn.map(({ name, curve }) => [
        name,
        percent(curve.deepestPercent),
        percent(curve.clearing.find(({ timeS }) => timeS >= AFTER_S)!.percent),
        duskWords(curve.duskDrivingAfterS),
      ]),
    },
  };
}

function saysOf(clearPercent: number, at: string): string {
  const clear =
    clearPercent < NIGHT_DRIVING_PERCENT
      ? ` Clear they let ${Math.round(clearPercent)} % through: not for driving at dusk or night.`
      : '';
  return `About, from the design’s data at ${at}: five minutes there, then indoors. What to expect, never evidence of a fault.${clear}`;
}

const percent = (value: number): string => `${Math.round(value)} %`;

const duskWords = (seconds: number | null): string =>
  seconds === null ? 'never' : seconds <= 0 ? 'at once' : `${Math.ceil(seconds / 60)} min`;
