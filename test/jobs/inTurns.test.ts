import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inTurns } from '../../jobs/inTurns.ts';

/* Rules of our own: whoever waits has a turn before anyone has a second. */

/** Works for shops with so many turns of work each; answers in which order turns began, and how many ran at once. */
async function turnsOf(
  work: Readonly<Record<string, number>>,
  atOnce: number,
  most = Number.POSITIVE_INFINITY,
) {
  const left = new Map(Object.entries(work));
  const order: string[] = [];
  const running = new Set<string>();
  let mostAtOnce = 0;
  let twiceAtOnce = false;
  await inTurns(
    [...left.keys()],
    atOnce,
    async (shop) => {
      if (running.has(shop)) twiceAtOnce = true;
      running.add(shop);
      mostAtOnce = Math.max(mostAtOnce, running.size);
      order.push(shop);
      for (let step = 0; step < (shop.charCodeAt(0) % 3) + 1; step += 1) await Promise.resolve();
      running.delete(shop);
      left.set(shop, left.get(shop)! - 1);
      return left.get(shop)! > 0;
    },
    () => order.length < most,
  );
  return { order, mostAtOnce, twiceAtOnce, left };
}

describe('turns of shops', () => {
  test('a shop with 40 turns of work holds up none of five others with one each, and is done at the end', async () => {
    const { order, left } = await turnsOf({ busy: 40, a: 1, b: 1, c: 1, d: 1, e: 1 }, 1);
    expect(order.slice(0, 6)).toEqual(['busy', 'a', 'b', 'c', 'd', 'e']);
    expect(order).toHaveLength(45);
    expect(left.get('busy')).toBe(0);
  });

  test('two busy shops take turns', async () => {
    const { order } = await turnsOf({ x: 3, y: 3 }, 1);
    expect(order).toEqual(['x', 'y', 'x', 'y', 'x', 'y']);
  });

  test('when its time is over each has had one turn, and what is left is left', async () => {
    const { order, left } = await turnsOf({ busy: 40, a: 1, b: 1 }, 1, 5);
    expect(order).toEqual(['busy', 'a', 'b', 'busy', 'busy']);
    expect(left.get('busy')).toBe(37);
    expect((await turnsOf({ busy: 40, a: 1, b: 1 }, 1, 0)).order).toEqual(['busy', 'a', 'b']);
  });

  test('whatever the work: all is done, no shop is worked for twice at once, no more at once than asked for, and nobody has a second turn before everyone has begun a first', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.string({ minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 12 }),
        fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 12, maxLength: 12 }),
        fc.integer({ min: 1, max: 5 }),
        async (names, turns, atOnce) => {
          const work = Object.fromEntries(names.map((name, at) => [name, turns[at]!]));
          const { order, mostAtOnce, twiceAtOnce, left } = await turnsOf(work, atOnce);
          expect([...left.values()].every((one) => one === 0)).toBe(true);
          expect(twiceAtOnce).toBe(false);
          expect(mostAtOnce).toBeLessThanOrEqual(atOnce);
          expect(new Set(order.slice(0, Object.keys(work).length)).size).toBe(Object.keys(work).length);
        },
      ),
    );
  });

  test('no shop, no turn', async () => {
    expect((await turnsOf({}, 4)).order).toEqual([]);
  });
});
