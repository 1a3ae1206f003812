import { figureIn } from '../intake/figures.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { type DesignData, designByName, keepDesignData, type LightReactive } from '../store/lensBook.ts';
import type { Shell } from './shell.ts';

export const DESIGN_KINDS = ['progressive', 'room', 'bifocal', 'single vision'] as const;

/** Outside these a figure is a slip of the pen; wide enough for any lens that is sold. */
const RANGES = {
  corridor_mm: { words: 'Corridor', min: 6, max: 25, unit: ' mm' },
  min_height_mm: { words: 'Least fitting height', min: 8, max: 40, unit: ' mm' },
  refractive_index: { words: 'Index', min: 1.45, max: 1.95, unit: '' },
  abbe: { words: 'V number', min: 20, max: 65, unit: '' },
  clear_percent: { words: 'Clear', min: 20, max: 100, unit: ' %' },
  dark_percent: { words: 'Dark', min: 2, max: 95, unit: ' %' },
  dark_after_s: { words: 'Dark after', min: 5, max: 900, unit: ' s' },
  clear_half_life_s: { words: 'Half cleared after', min: 5, max: 3600, unit: ' s' },
  at_temperature_c: { words: 'Measured at', min: -20, max: 50, unit: ' °C' },
} as const;
type Measure = keyof typeof RANGES;

const LONGEST = 200;

/**
 * Keeps the data of a lens design: a new one, or one that is there by its name. A field left empty leaves what was there.
 * Every figure is held to a range and needs a source; a corridor needs to say from where to where it is measured, since 11
 * one way may be 14 the other.
 */
export async function keepDesign(
  shell: Shell,
  shopId: string,
  typed: Readonly<Record<string, string>>,
  by: string,
): Promise<Checked<{ name: string; wasThere: boolean }>> {
  const now = shell.clock.now();
  const problems: Problem[] = [];
  const refuse = (where: string, code: string, what: string, mend: string) =>
    problems.push({ code, what, where, mend });
  const words = (name: string) => (typed[name] ?? '').trim().slice(0, LONGEST);
  const figures: Partial<Record<Measure, number>> = {};
  for (const key of Object.keys(RANGES) as Measure[]) {
    const figure = readMeasure(key, words(key));
    if (figure === undefined) continue;
    if (typeof figure === 'number') figures[key] = figure;
    else problems.push(figure);
  }
  const name = words('name').replace(/\s+/g, ' ');
  if (name === '')
    refuse('name', 'design-name', 'The design has no name.', 'Write the name that your jobs use.');
  if (words('source') === '')
    refuse(
      'source',
      'design-source',
      'It is not said where the figures are from.',
      'Name the data sheet, or write: own measurement.',
    );
  const kind = words('kind') || 'progressive';
  if (!(DESIGN_KINDS as readonly string[]).includes(kind))
    refuse('kind', 'design-kind', `“${kind}” is no kind of lens.`, 'Choose one of the list.');
  return shell.db.transaction().execute(async (trx) => {
    const there = name === '' ? undefined : await designByName(trx, shopId, name);
    const corridorMm = figures.corridor_mm ?? there?.corridor_mm ?? null;
    const corridorHow = words('corridor_how') || there?.corridor_how || null;
    const minHeightMm = figures.min_height_mm ?? there?.min_height_mm ?? null;
    if (corridorMm !== null && corridorHow === null)
      refuse(
        'corridor_how',
        'corridor-how',
        'It is not said how the corridor is measured.',
        'Write from where to where: from the cross to 85 % of the add, for instance.',
      );
    if (corridorMm !== null && minHeightMm !== null && minHeightMm <= corridorMm)
      refuse(
        'min_height_mm',
        'height-in-corridor',
        `A least height of ${minHeightMm} mm leaves nothing to read through below a corridor of ${corridorMm} mm.`,
        'Mend the one that is wrong.',
      );
    const lightReactive = lightReactiveOf(
      there?.light_reactive as LightReactive | null,
      words('grade'),
      figures,
    );
    const { clearPercent, darkPercent } = lightReactive ?? {};
    if (clearPercent !== undefined && darkPercent !== undefined && darkPercent >= clearPercent)
      refuse(
        'dark_percent',
        'dark-not-darker',
        `Dark, ${darkPercent} % is not darker than clear, ${clearPercent} %.`,
        'Both are what is let through: clear is the larger.',
      );
    if (problems.length > 0) return bad(...problems);
    const data: DesignData = {
      name: there?.name ?? name,
      kind,
      corridorMm,
      corridorHow,
      minHeightMm,
      index: figures.refractive_index ?? there?.refractive_index ?? null,
      abbe: figures.abbe ?? there?.abbe ?? null,
      lightReactive,
      source: words('source'),
    };
    await keepDesignData(trx, shopId, data, now);
    await addAudit(trx, shopId, { by, act: 'lens design kept', subject: data.name, detail: data }, now);
    return good({ name: data.name, wasThere: there !== undefined });
  });
}

function readMeasure(key: Measure, text: string): number | Problem | undefined {
  if (text === '') return undefined;
  const { words, min, max, unit } = RANGES[key];
  const figure = figureIn(text.replace(/ ?(%|s|°? ?C)$/i, ''));
  const mend = `Allowed: ${min} to ${max}${unit}, or empty.`;
  if (figure === undefined)
    return { code: 'number-unread', what: `${words} “${text}” is not read as a number.`, where: key, mend };
  if (figure < min || figure > max)
    return {
      code: 'number-out-of-range',
      what: `${words} ${figure}${unit} is outside what is possible.`,
      where: key,
      mend,
    };
  return figure;
}

function lightReactiveOf(
  there: LightReactive | null | undefined,
  grade: string,
  figures: Partial<Record<Measure, number>>,
): LightReactive | null {
  const said = {
    ...(grade === '' ? {} : { grade }),
    ...(figures.clear_percent === undefined ? {} : { clearPercent: figures.clear_percent }),
    ...(figures.dark_percent === undefined ? {} : { darkPercent: figures.dark_percent }),
    ...(figures.dark_after_s === undefined ? {} : { darkAfterS: figures.dark_after_s }),
    ...(figures.clear_half_life_s === undefined ? {} : { clearHalfLifeS: figures.clear_half_life_s }),
    ...(figures.at_temperature_c === undefined ? {} : { atTemperatureC: figures.at_temperature_c }),
  };
  const whole = { ...there, ...said };
  return Object.keys(whole).length === 0 ? null : whole;
}
