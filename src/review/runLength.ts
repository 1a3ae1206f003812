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
 * E(s) = 1 + p E(s + up) + (1 − p) E(max(floor, s − down)), E = 0 at and above the line. Worked from the top
 * downwards with the uppermost `down` values unknown; the equations at the floor settle them.
 * Source: Brook, Evans, Biometrika 1972;59:539-549; Reynolds, Stoumbos 1999 (both from memory).
 */
export function averageRunLength(sum: LatticeSum, rate: number): number {
  const up = sum.stepEvent;
  const down = -sum.stepNoEvent;
  const states = sum.alarmAtOrAbove - sum.floor;
  const unknowns = Math.min(down, states);
  const none = new Array<number>(unknowns + 1).fill(0);
  // Each E(s) is a row: constant, then the factor of every unknown.
  const rows: number[][] = new Array<number[]>(states);
  for (let k = 0; k < unknowns; k += 1) {
    const row = [...none];
    row[k + 1] = 1;
    rows[states - 1 - k] = row;
  }
  const at = (s: number): readonly number[] => (s >= states ? none : rows[Math.max(0, s)]!);
  for (let s = states - 1; s - down >= 0; s -= 1) {
    const here = at(s);
    const above = at(s + up);
    rows[s - down] = here.map((value, j) => (value - (j === 0 ? 1 : 0) - rate * above[j]!) / (1 - rate));
  }
  const equations = Array.from({ length: unknowns }, (_, s) => {
    const below = at(s - down);
    const above = at(s + up);
    return at(s).map((value, j) => value - rate * above[j]! - (1 - rate) * below[j]! - (j === 0 ? 1 : 0));
  });
  const solved = solve(equations.map((row) => ({ factors: row.slice(1), right: -row[0]! })));
  const start = at(sum.start - sum.floor);
  return solved.reduce((total, value, k) => total + value * start[k + 1]!, start[0]!);
}

function solve(equations: { factors: number[]; right: number }[]): number[] {
  const size = equations.length;
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1) {
      if (Math.abs(equations[row]!.factors[column]!) > Math.abs(equations[pivot]!.factors[column]!))
        pivot = row;
    }
    [equations[column], equations[pivot]] = [equations[pivot]!, equations[column]!];
    const top = equations[column]!;
    for (let row = column + 1; row < size; row += 1) {
      const line = equations[row]!;
      const share = line.factors[column]! / top.factors[column]!;
      for (let k = column; k < size; k += 1) line.factors[k] = line.factors[k]! - share * top.factors[k]!;
      line.right -= share * top.right;
    }
  }
  const values = new Array<number>(size).fill(0);
  for (let row = size - 1; row >= 0; row -= 1) {
    const line = equations[row]!;
    let right = line.right;
    for (let k = row + 1; k < size; k += 1) right -= line.factors[k]! * values[k]!;
    values[row] = right / line.factors[row]!;
  }
  return values;
}
