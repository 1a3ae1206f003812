import { drawnWearers } from './drawnWearers.ts';
import type { InventedWearer } from './invented.ts';
import { inventedColumns } from './prescriptions.ts';
import type { Seeded } from './seeded.ts';
import { TOLD_WEARERS } from './toldWearers.ts';

const EVERYONE = 60;

/** The sixty wearers of the invented shop: those whose stories are written out, and as many more as the seed draws. */
export function inventedWearers(from: Seeded): InventedWearer[] {
  const told = TOLD_WEARERS.map((wearer) => ({
    ...wearer,
    facts: { ...usualColumns(wearer, from), ...wearer.facts },
  }));
  return [...told, ...drawnWearers(EVERYONE - told.length, from)];
}

/** A pair that is only ordered has nothing yet that the lab or the lensmeter says. */
function usualColumns(wearer: InventedWearer, from: Seeded): Readonly<Record<string, string>> {
  const { design, first, soldBy, still } = wearer;
  return inventedColumns(from, { design, first, measuredBy: soldBy, checked: still !== 'ordered' });
}
