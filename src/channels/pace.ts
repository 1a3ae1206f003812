/**
 * Lets at most `perSecond` calls begin in a second, in the order in which they came. A carrier's own limit is kept by its
 * answer "too fast" as well; this only keeps one process from asking for it. Waits by `wait`, so that a test need not.
 */
export function pace(
  perSecond: number,
  now: () => number,
  wait: (ms: number) => Promise<void>,
): () => Promise<void> {
  const gapMs = 1000 / perSecond;
  let nextMs = Number.NEGATIVE_INFINITY;
  return async () => {
    const atMs = Math.max(now(), nextMs);
    nextMs = atMs + gapMs;
    const restMs = atMs - now();
    if (restMs > 0) await wait(restMs);
  };
}
