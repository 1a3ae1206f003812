export type LatticeSum = {
  /** Whole steps: upwards for an event, downwards (negative) for none. */
  readonly stepEvent: number;
  readonly stepNoEvent: number;
  readonly floor: number;
  readonly start: number;
  readonly alarmAtOrAbove: number;
};

/**
 * Average number of pairs until a sum on whole steps reaches its alarm line, at a true rate p, exactly:
 * E(s) = 1 + p E(s + up) + (1 − p) E(max(floor, s − down)), E = 0 at and above the line. The equations touch only states
 * a step apart, so they are solved as a band, without exchanging rows: every row's own weight is at least that of its
 * others together, which keeps rounding from growing whatever the line and the rate.
 * Steps of one downwards, as the drift line has them, are solved first without the band, in one pass down from the line,
 * as long as no more than the factor `mayLose` is lost by taking large figures from one another: 1e5 leaves nine digits.
 * Source: Brook, Evans, Biometrika 1972;59:539-549; Reynolds, Stoumbos 1999 (both from memory).
 */
export function averageRunLength(sum: LatticeSum, rate: number, mayLose = 1e5): number {
  const up = sum.stepEvent;
  const down = -sum.stepNoEvent;
  const states = sum.alarmAtOrAbove - sum.floor;
  if (down === 1 && sum.start === sum.floor) {
    const found = fromTheLineDown(up, states, rate, mayLose);
    if (found !== undefined) return found;
  }
  const width = down + up + 1;
  // The factor of E(j) in the equation of state s stands at band[s × width + (j − s) + down].
  const band = new Float64Array(states * width);
  const right = new Float64Array(states).fill(1);
  for (let s = 0; s < states; s += 1) {
    const own = s * width + down;
    band[own]! += 1;
    band[own + Math.max(0, s - down) - s]! -= 1 - rate;
    if (s + up < states) band[own + up]! -= rate;
  }
  for (let s = 0; s < states; s += 1) {
    const own = s * width + down;
    for (let below = s + 1; below <= Math.min(states - 1, s + down); below += 1) {
      const at = below * width + down + s - below;
      const share = band[at]! / band[own]!;
      if (share === 0) continue;
      for (let k = 0; k <= up; k += 1) band[at + k]! -= share * band[own + k]!;
      right[below]! -= share * right[s]!;
    }
  }
  for (let s = states - 1; s >= 0; s -= 1) {
    const own = s * width + down;
    for (let k = 1; k <= up && s + k < states; k += 1) right[s]! -= band[own + k]! * right[s + k]!;
    right[s]! /= band[own]!;
  }
  return right[sum.start - sum.floor]!;
}

/**
 * With steps of one downwards E(s − 1) = (E(s) − 1 − p E(s + up))/(1 − p): every E is a + b x of the one unknown x just under
 * the line, and the lowest state settles x. Quick, but where the rate is high a and b x nearly cancel: undefined then.
 */
function fromTheLineDown(up: number, states: number, rate: number, mayLose: number): number | undefined {
  const a = new Float64Array(states + up + 1);
  const b = new Float64Array(states + up + 1);
  b[states - 1] = 1;
  for (let s = states - 1; s >= 1; s -= 1) {
    a[s - 1] = (a[s]! - 1 - rate * a[s + up]!) / (1 - rate);
    b[s - 1] = (b[s]! - rate * b[s + up]!) / (1 - rate);
  }
  const under = rate * (b[0]! - b[up]!);
  const part = (b[0]! * (1 + rate * (a[up]! - a[0]!))) / under;
  const found = a[0]! + part;
  const kept = Math.min(found / Math.abs(a[0]!), found / part, under / (rate * b[0]!));
  return Number.isFinite(found) && kept * mayLose > 1 ? found : undefined;
}
