import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ShopKind } from '../house.ts';

const FILE = 'shop-in-use';

/** The shop that was opened last in this data folder, or the only one that is there; undefined on an empty folder. */
export function chosenKind(folder: string): ShopKind | undefined {
  try {
    const said = readFileSync(join(folder, FILE), 'utf8').trim();
    if ((said === 'own' || said === 'invented') && existsSync(join(folder, said))) return said;
  } catch {
    // Never chosen yet, or an older folder: what is there decides.
  }
  const there = (['own', 'invented'] as const).filter((kind) => existsSync(join(folder, kind, 'database')));
  return there.length === 1 ? there[0] : undefined;
}

export function keepChosenKind(folder: string, kind: ShopKind): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  writeFileSync(join(folder, FILE), `${kind}\n`, { mode: 0o600 });
}
