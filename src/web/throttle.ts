const MOST_CALLERS = 20_000;
const OTHERS = ' others';

/**
 * Lets one caller ask so often a minute and no more. Kept in this process only: it spares the store, and what guards a
 * link is that it cannot be guessed, and that its own uses are counted in the store. Of more callers than `MOST_CALLERS` in a
 * minute the later ones share one count, so that a flood from made-up names eats no memory.
 */
export function throttle(mostAMinute: number, nowMs: () => number): (caller: string) => boolean {
  let minute = 0;
  let asked = new Map<string, number>();
  return (caller) => {
    const now = Math.floor(nowMs() / 60_000);
    if (now !== minute) {
      minute = now;
      asked = new Map();
    }
    const one = asked.has(caller) || asked.size < MOST_CALLERS ? caller : OTHERS;
    const count = (asked.get(one) ?? 0) + 1;
    asked.set(one, count);
    return count <= mostAMinute;
  };
}
