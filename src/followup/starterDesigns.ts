import type { Db } from '../store/database.ts';
import { type DesignData, keepDesignData, type LightReactive } from '../store/lensBook.ts';

const SOURCE =
  'generic starter design: usual figures, common practice, no source; put your lab’s in their place';
const TO_85 = 'from the fitting cross to 85 % of the addition';

/** Usual figures of an ordinary grade at room temperature; common practice, no source. */
const ORDINARY: LightReactive = {
  grade: 'ordinary',
  clearPercent: 88,
  darkPercent: 15,
  darkAfterS: 45,
  clearHalfLifeS: 120,
  atTemperatureC: 23,
};
const IN_CAR: LightReactive = {
  grade: 'in-car',
  clearPercent: 78,
  darkPercent: 12,
  darkAfterS: 45,
  clearHalfLifeS: 240,
  atTemperatureC: 23,
};

const progressive = (
  name: string,
  corridorMm: number,
  [index, abbe]: readonly [number, number],
  lightReactive: LightReactive | null = null,
): DesignData => ({
  name,
  kind: 'progressive',
  corridorMm,
  corridorHow: TO_85,
  // Room for reading below the corridor: 4 mm at the least (trade continuing education on fitting heights).
  minHeightMm: corridorMm + 4,
  index,
  abbe,
  lightReactive,
  source: SOURCE,
});

/** Standard resin and 1.60 resin; materials tables of trade study guides. */
const STANDARD = [1.498, 58] as const;
const THIN = [1.6, 41] as const;

const otherKind = (name: string, kind: string, lightReactive: LightReactive | null = null): DesignData => ({
  name,
  kind,
  corridorMm: null,
  corridorHow: null,
  minHeightMm: null,
  index: STANDARD[0],
  abbe: STANDARD[1],
  lightReactive,
  source: SOURCE,
});

/** Kinds of lens that every shop knows, under plain names: a lens book to begin with, to be mended or left. */
export const STARTER_DESIGNS: readonly DesignData[] = [
  progressive('soft 17', 17, STANDARD),
  progressive('soft 15', 15, STANDARD),
  progressive('balanced 13', 13, STANDARD),
  progressive('short 11', 11, THIN),
  progressive('soft 15, light-reactive', 15, STANDARD, ORDINARY),
  progressive('short 11, light-reactive', 11, THIN, ORDINARY),
  progressive('soft 15, light-reactive in the car', 15, THIN, IN_CAR),
  otherKind('room and screen', 'room'),
  otherKind('bifocal 28', 'bifocal'),
  otherKind('single vision', 'single vision'),
  otherKind('single vision, light-reactive', 'single vision', ORDINARY),
];

/** Loads the starter designs into a new shop. */
export async function loadStarterDesigns(db: Db, shopId: string, at: Date): Promise<void> {
  await db.transaction().execute(async (trx) => {
    for (const design of STARTER_DESIGNS) await keepDesignData(trx, shopId, design, at);
  });
}
