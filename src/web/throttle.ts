/**
 * Lets one caller ask so often a minute and no more. Kept in this process only: it spares the store, and what guards a
 * link is that it cannot be guessed, and that its own uses are counted in the store.
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
    const count = (asked.get(caller) ?? 0) + 1;
    asked.set(caller, count);
    return count <= mostAMinute;
  };
}
