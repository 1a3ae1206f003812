/**
 * Works for shops in turns, a few at once. A shop that has something left after its turn goes to the end of the line, behind everyone who
 * has not had one yet; never is one shop worked for twice at once. After the first turn of each it goes on as long as
 * `mayGoOn` says so; what is left then is due at the next tick.
 */
export async function inTurns(
  shops: readonly string[],
  atOnce: number,
  turn: (shop: string) => Promise<boolean>,
  mayGoOn: () => boolean,
): Promise<void> {
  const first = [...shops];
  const again: string[] = [];
  let next = 0;
  const work = async (): Promise<void> => {
    for (;;) {
      const shop = next < first.length ? first[next++] : mayGoOn() ? again.shift() : undefined;
      if (shop === undefined) return;
      if (await turn(shop)) again.push(shop);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, Math.min(atOnce, first.length)) }, work));
}
