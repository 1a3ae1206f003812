/**
 * Holm's adjusted p, in the order given: right whatever the dependence between the looks.
 * Sorted upwards, pᵢ becomes the largest of (m − j + 1) p₍ⱼ₎ over j ≤ i, at most 1.
 * Source: R Core Team, R stats manual, p.adjust (from memory).
 */
export function adjustHolm(p: readonly number[]): number[] {
  const order = ranked(p);
  const adjusted = new Array<number>(p.length);
  let highest = 0;
  order.forEach((at, rank) => {
    highest = Math.max(highest, Math.min(1, (p.length - rank) * p[at]!));
    adjusted[at] = highest;
  });
  return adjusted;
}

/**
 * Benjamini and Hochberg's adjusted p, in the order given: the share of false names on a list of suspects.
 * Sorted upwards, pᵢ becomes the smallest of p₍ⱼ₎ m/j over j ≥ i. Source: Benjamini, Hochberg, JRSS B 1995;57:289-300.
 */
export function adjustBenjaminiHochberg(p: readonly number[]): number[] {
  const order = ranked(p);
  const adjusted = new Array<number>(p.length);
  let lowest = 1;
  for (let rank = p.length - 1; rank >= 0; rank -= 1) {
    const at = order[rank]!;
    lowest = Math.min(lowest, (p[at]! * p.length) / (rank + 1));
    adjusted[at] = lowest;
  }
  return adjusted;
}

const ranked = (p: readonly number[]): number[] => p.map((_, at) => at).sort((a, b) => p[a]! - p[b]!);
