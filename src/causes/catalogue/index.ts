import { HEALTH_AND_SAFETY, SOMETHING_ELSE } from './healthAndSafety.ts';
import { LIGHT_REACTIVE } from './lightReactive.ts';
import { MATERIAL_DESIGN_ITEM } from './materialDesignItem.ts';
import { PLACE_ON_FACE } from './placeOnFace.ts';
import { POWER_PRISM_IMAGE } from './powerPrismImage.ts';
import type { Cause } from './types.ts';
import { USE_AND_TIME } from './useAndTime.ts';

/** Raised whenever a weight, a rule or a cause changes; kept with every ranking that was shown. */
export const CATALOGUE_VERSION = '2026-11-25.3';

/** Every cause that is weighed, the unknown one last. */
export const CATALOGUE: readonly Cause[] = [
  ...USE_AND_TIME,
  ...PLACE_ON_FACE,
  ...POWER_PRISM_IMAGE,
  ...MATERIAL_DESIGN_ITEM,
  ...LIGHT_REACTIVE,
  ...HEALTH_AND_SAFETY,
  SOMETHING_ELSE,
];

const byId: ReadonlyMap<string, Cause> = new Map(CATALOGUE.map((cause) => [cause.id, cause]));

export const causeById = (id: string): Cause | undefined => byId.get(id);
