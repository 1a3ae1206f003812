/** A row of features: which, and how much of each. */
export type Sparse = { readonly at: Int32Array; readonly amount: Float64Array };

type Settings = {
  readonly size: number;
  /** Weight of the squared weights against the sum of the losses of all rows. */
  readonly shrink: number;
  readonly weightOfYes: number;
  readonly rounds: number;
};

/**
 * Logistic regression with squared weights held down, by coordinate descent on the dual (H.-F. Yu, F.-L. Huang, C.-J.
 * Lin, Machine Learning 85 (2011), 41-75, algorithm 5; from memory), in a fixed shuffled order: the same rows give the
 * same weights. The bias is a feature of its own that is held down a ninth as much.
 */
export function fitLogistic(
  rows: readonly Sparse[],
  wanted: readonly boolean[],
  { size, shrink, weightOfYes, rounds }: Settings,
): { bias: number; weight: Float64Array } {
  const biasAmount = 3;
  const weight = new Float64Array(size);
  let biasWeight = 0;
  const cost = Float64Array.from(wanted, (yes) => (yes ? weightOfYes : 1) / shrink);
  const square = Float64Array.from(rows, ({ amount }) => {
    let sum = biasAmount * biasAmount;
    for (const one of amount) sum += one * one;
    return sum;
  });
  const alpha = Float64Array.from(cost, (c) => Math.min(0.001 * c, 1e-8));
  const move = (i: number, by: number) => {
    const { at, amount } = rows[i]!;
    for (let k = 0; k < at.length; k += 1) weight[at[k]!]! += by * amount[k]!;
    biasWeight += by * biasAmount;
  };
  for (let i = 0; i < rows.length; i += 1) move(i, wanted[i] ? alpha[i]! : -alpha[i]!);
  const order = Int32Array.from(rows, (_, i) => i);
  let seed = 12345;
  for (let round = 0; round < rounds; round += 1) {
    for (let i = order.length - 1; i > 0; i -= 1) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      const j = seed % (i + 1);
      const kept = order[i]!;
      order[i] = order[j]!;
      order[j] = kept;
    }
    for (const i of order) {
      const { at, amount } = rows[i]!;
      const sign = wanted[i] ? 1 : -1;
      let sum = biasWeight * biasAmount;
      for (let k = 0; k < at.length; k += 1) sum += weight[at[k]!]! * amount[k]!;
      const before = alpha[i]!;
      const next = newton(square[i]!, sign * sum, before, cost[i]!);
      if (next === before) continue;
      alpha[i] = next;
      move(i, sign * (next - before));
    }
  }
  return { bias: biasWeight * biasAmount, weight };
}

/** Least of a/2 (z − before)² + b (z − before) + z ln z + (c − z) ln(c − z) for 0 < z < c, by Newton's steps. */
function newton(a: number, b: number, before: number, c: number): number {
  const least = c * 1e-12;
  let z = Math.min(Math.max(before, least), c - least);
  for (let step = 0; step < 20; step += 1) {
    const slope = a * (z - before) + b + Math.log(z / (c - z));
    if (Math.abs(slope) < 1e-6) break;
    const next = z - slope / (a + c / (z * (c - z)));
    if (next <= 0) z *= 0.1;
    else if (next >= c) z = c - (c - z) * 0.1;
    else z = next;
    z = Math.min(Math.max(z, least), c - least);
  }
  return z;
}
