import { describe, expect, test } from 'vitest';
import { funnelPicture } from '../../src/review/funnelPicture.ts';
import { monthPicture } from '../../src/review/monthPicture.ts';
import { GROUPINGS } from '../../src/review/pairs.ts';
import { type GroupRates, ratesBy, remakeRates } from '../../src/review/remakeRates.ts';
import { pairsInColumns } from '../../src/review/ripePairs.ts';
import { judgeGroups } from '../../src/review/verdicts.ts';
import { backPair, looks, pair, pairsWith, TODAY } from './pairsForTests.ts';

const ALL = { today: TODAY, reasons: 'all reasons' } as const;
const SETTLING = { today: TODAY, reasons: 'settling-type reasons' } as const;

const named = (groups: readonly GroupRates[], name: string): GroupRates => {
  const found = groups.find(({ group }) => group === name);
  if (found === undefined) throw new Error(`no group ${name}`);
  return found;
};

describe('ripe pairs', () => {
  test('a pair of last week is not counted, however it went; it counts in the share by day as long as it is out', () => {
    const pairs = [
      ...pairsWith(40, 4),
      pair({ handedOverDay: TODAY - 7, outcome: null, endedDay: undefined }),
      backPair('refunded', 5, { handedOverDay: TODAY - 7 }),
    ];
    const [group] = remakeRates(pairs, 'design', ALL).groups;
    expect(group).toMatchObject({ handedOver: 42, ripe: 40, remakes: 4 });
    expect(group!.byDay[0]!.back.refunded.trace.x).toBe(1);
  });

  test('a pair becomes ripe on its sixtieth day, and a remake after it is no longer in the count', () => {
    const pairs = [
      pair({ handedOverDay: TODAY - 60 }),
      pair({ handedOverDay: TODAY - 59 }),
      backPair('exchanged', 60),
      backPair('exchanged', 61),
    ];
    const { shop } = remakeRates(pairs, 'design', ALL);
    expect(shop).toMatchObject({ ripe: 3, remakes: 1 });
  });

  test('a return without its day cannot be counted, and is not made up', () => {
    const undated = { ...backPair('exchanged', 10), endedDay: undefined };
    expect(remakeRates([undated], 'design', ALL).shop).toMatchObject({ ripe: 1, remakes: 0 });
  });

  test('what is known only tomorrow is not known today', () => {
    const future = backPair('exchanged', 95, { handedOverDay: TODAY - 90 });
    expect(remakeRates([future], 'design', { ...ALL, ripeAfterDays: 80 }).shop.remakes).toBe(0);
    expect(
      remakeRates([future], 'design', { ...ALL, today: TODAY + 5, ripeAfterDays: 95 }).shop.remakes,
    ).toBe(1);
    expect(remakeRates([pair({ handedOverDay: TODAY + 3 })], 'design', ALL).groups).toEqual([]);
  });
});

describe('reasons and ways back', () => {
  const pairs = [
    ...pairsWith(30, 0),
    backPair('remade in the same design', 10, { reason: 'measured' }),
    backPair('exchanged', 20, { reason: 'settling' }),
    backPair('remade in the same design', 25, { reason: 'finish or breakage' }),
    backPair('refunded', 40, { reason: 'changed mind' }),
    backPair('refunded', 41, { reason: undefined }),
  ];

  test('settling-type reasons and all reasons are two different tables, each named', () => {
    expect(remakeRates(pairs, 'design', SETTLING).shop.remakes).toBe(2);
    expect(remakeRates(pairs, 'design', ALL).shop.remakes).toBe(5);
    expect(remakeRates(pairs, 'design', SETTLING).shop.rate.trace.method).toContain('settling-type reasons');
    expect(remakeRates(pairs, 'design', ALL).shop.rate.trace.method).toContain('all reasons');
  });

  test('a breakage ends the watch of a settling-type rate without counting in it', () => {
    const [group] = remakeRates(pairs, 'design', SETTLING).groups;
    const by60 = group!.byDay[1]!.back;
    // By hand: 35 pairs; ends on days 10, 20, 25, 40, 41, nobody else leaves before day 60.
    expect(by60.remade.value).toBeCloseTo(1 / 35, 12);
    expect(by60.exchanged.value).toBeCloseTo(1 / 35, 12);
    expect(by60['other reason'].value).toBeCloseTo(3 / 35, 12);
    expect(by60.refunded.value).toBe(0);
    expect(group!.byDay[1]!.anyWay.value).toBeCloseTo(2 / 35, 12);
    expect(group!.byDay[1]!.anyWay.trace).toMatchObject({ x: 2, n: 35 });
    expect(by60.refunded.trace.interval!.high).toBeGreaterThan(0.1);
  });

  test('only the ways asked for are counted', () => {
    expect(remakeRates(pairs, 'design', { ...ALL, ways: ['remade'] }).shop.remakes).toBe(2);
    expect(remakeRates(pairs, 'design', { ...ALL, ways: ['refunded'] }).shop.remakes).toBe(2);
  });

  test('the share by day counts young pairs for as long as they are out', () => {
    const young = [
      ...Array.from({ length: 10 }, () =>
        pair({ handedOverDay: TODAY - 10, outcome: null, endedDay: undefined }),
      ),
      ...Array.from({ length: 9 }, () => pair({ handedOverDay: TODAY - 80 })),
      backPair('exchanged', 20, { handedOverDay: TODAY - 80 }),
    ];
    const [group] = remakeRates(young, 'design', ALL).groups;
    // Ten of twenty are still out on day 20, one of these comes back: 1/10, not 1/20.
    expect(group!.byDay[0]!.back.exchanged.value).toBeCloseTo(0.1, 12);
    expect(group!.byDay[0]!.atRisk).toBe(9);
  });
});

describe('every number', () => {
  const pairs = [...pairsWith(60, 3, { design: 'A' }), ...pairsWith(90, 2, { design: 'B' })];

  test('carries its method, x, n, interval and the pairs behind it', () => {
    const { groups, shop } = remakeRates(pairs, 'design', ALL);
    for (const group of groups) {
      const figures = [group.rate, group.shrunken, group.chanceWorse!, group.followed];
      for (const { trace } of [...figures, ...group.byDay.flatMap(({ back }) => Object.values(back))]) {
        expect(trace.method.length).toBeGreaterThan(10);
        expect(trace.pairIds).toHaveLength(trace.x!);
        expect(trace.amongPairIds).toHaveLength(trace.n);
        for (const id of trace.pairIds) expect(trace.amongPairIds).toContain(id);
      }
      expect(group.rate.trace.interval!.low).toBeLessThanOrEqual(group.rate.value);
      expect(group.rate.trace.interval!.high).toBeGreaterThanOrEqual(group.rate.value);
    }
    const behind = groups.flatMap(({ rate }) => rate.trace.pairIds);
    expect(new Set(behind)).toEqual(new Set(shop.rate.trace.pairIds));
  });

  test('groups of every grouping hold every pair exactly once', () => {
    const columns = pairsInColumns(pairs, ALL);
    for (const by of GROUPINGS) {
      const { groups, hiddenFew } = ratesBy(columns, by);
      expect(hiddenFew).toBe(0);
      expect(groups.reduce((sum, { ripe }) => sum + ripe, 0)).toBe(150);
      expect(groups.reduce((sum, { remakes }) => sum + remakes, 0)).toBe(5);
    }
  });

  test('what nobody wrote down is a group of its own', () => {
    const { groups } = remakeRates(
      [...pairs, ...pairsWith(25, 1, { lab: null, firstWearer: null })],
      'lab',
      ALL,
    );
    expect(named(groups, 'not recorded').ripe).toBe(25);
  });

  test('the share of pairs that could be followed is of those asked', () => {
    const some = [
      pair({ looks: looks('silent', 'silent', 'silent') }),
      pair({ looks: looks('silent', 'not yet', 'settled') }),
      pair({ looks: looks('not due', 'not due', 'not due') }),
    ];
    expect(remakeRates(some, 'design', ALL).shop.followed.trace).toMatchObject({ x: 1, n: 2 });
  });
});

describe('words for a group', () => {
  const shop = (x: number, n: number) =>
    named(
      remakeRates(
        [...pairsWith(n, x, { design: 'This' }), ...pairsWith(800, 32, { design: 'Rest' })],
        'design',
        ALL,
      ).groups,
      'This',
    );

  test('under 20 ripe pairs nothing is said, even of 10 remakes', () => {
    expect(shop(10, 19)).toMatchObject({ verdict: 'too few to say', p: null, chanceWorse: null });
    expect(shop(10, 19).sentence).toBe('This: 10 of 19, 53 % (32 to 73 %); too few to say.');
    expect(shop(10, 20).verdict).toBe('worse than the rest');
  });

  test('inside, between and beyond the bands round 4 %', () => {
    expect(shop(5, 100).verdict).toBe('like the rest');
    expect(shop(10, 100).verdict).toBe('watch');
    expect(shop(14, 100).verdict).toBe('worse than the rest');
    expect(shop(0, 100).verdict).toBe('like the rest');
    expect(shop(0, 400).verdict).toBe('better');
  });

  test('the rest leaves the group out: chance and sentence of 6 of 48 against 15 of 426', () => {
    const pairs = [...pairsWith(48, 6, { design: 'This' }), ...pairsWith(426, 15, { design: 'Rest' })];
    const found = named(remakeRates(pairs, 'design', ALL).groups, 'This');
    // 0.993841: integral of one beta density against the other's distribution function, Jeffreys prior for both.
    expect(found.chanceWorse!.value).toBeCloseTo(0.993841, 6);
    expect(found.sentence).toBe(
      'This: 6 of 48, 13 % (5.9 to 25 %); watch (15 of 426 of all others, 2.1 to 5.7 %).',
    );
  });

  test('a rest in which nobody came back does not make one remake a scandal', () => {
    const groups = [
      { events: 1, n: 40 },
      { events: 0, n: 40 },
    ];
    expect(judgeGroups(groups).groups[0]!.verdict).toBe('like the rest');
  });

  test('one group alone has nothing to be held against', () => {
    expect(judgeGroups([{ events: 9, n: 90 }]).groups[0]!.verdict).toBe('too few to say');
    expect(judgeGroups([{ events: 9, n: 90 }]).looks).toBe('nothing to compare yet');
  });

  test('no events at all, and no pairs at all, are answered in words', () => {
    const quiet = remakeRates(pairsWith(12, 0), 'design', ALL).groups[0]!;
    expect(quiet.sentence).toContain('none of 12 (up to 24 % would not surprise)');
    const empty = remakeRates([], 'design', ALL);
    expect(empty.groups).toEqual([]);
    expect(empty.shop.ripe).toBe(0);
    expect(funnelPicture(empty).points).toEqual([]);
  });

  test('when all forty designs spread more than chance, no single one is called worse for it', () => {
    const spread = Array.from({ length: 40 }, (_, at) => ({ n: 300, events: at % 2 === 0 ? 4 : 28 }));
    const judged = judgeGroups(spread);
    expect(judged.phi!).toBeGreaterThan(5);
    expect(judged.groups.every(({ verdict }) => verdict !== 'worse than the rest')).toBe(true);
  });

  test('the looks are counted and said', () => {
    expect(judgeGroups(Array.from({ length: 20 }, () => ({ n: 100, events: 4 }))).looks).toContain(
      '20 groups looked at',
    );
    expect(judgeGroups(Array.from({ length: 20 }, () => ({ n: 100, events: 4 }))).looks).toContain(
      'by luck 40 times in 100',
    );
  });
});

describe('people', () => {
  test('those with under 20 ripe pairs are hidden, the rest stand by name, not by rate', () => {
    const pairs = [
      ...pairsWith(30, 1, { measuredBy: 'Zoe' }),
      ...pairsWith(50, 9, { measuredBy: 'Ada' }),
      ...pairsWith(19, 5, { measuredBy: 'New' }),
    ];
    const { groups, hiddenFew } = remakeRates(pairs, 'measuredBy', ALL);
    expect(groups.map(({ group }) => group)).toEqual(['Ada', 'Zoe']);
    expect(hiddenFew).toBe(1);
  });
});

test('a design worn by first wearers of high adds is held against the mix, not only against the count', () => {
  const hard = { firstWearer: true, addBand: 'high' };
  const easy = { firstWearer: false, addBand: 'low' };
  const pairs = [
    ...pairsWith(100, 15, { ...hard, design: 'Hard work' }),
    ...pairsWith(100, 15, { ...hard, design: 'Mixed' }),
    ...pairsWith(400, 8, { ...easy, design: 'Mixed' }),
    ...pairsWith(200, 4, { ...easy, design: 'Easy work' }),
  ];
  const { groups } = remakeRates(pairs, 'design', ALL);
  expect(named(groups, 'Hard work').expectedByMix).toBeCloseTo(15, 10);
  expect(named(groups, 'Easy work').expectedByMix).toBeCloseTo(4, 10);
  const few = remakeRates(pairsWith(40, 3), 'design', ALL);
  expect(few.groups[0]!.expectedByMix).toBeNull();
});

describe('pictures', () => {
  const pairs = [
    ...pairsWith(100, 14, { design: 'A', month: '2026-01' }),
    ...pairsWith(900, 36, { design: 'B', month: '2026-02' }),
  ];

  test('the funnel narrows, keeps its order and says who lies outside', () => {
    const picture = funnelPicture(remakeRates(pairs, 'design', ALL));
    expect(picture.points.map(({ group }) => group)).toEqual(['B', 'A']);
    for (const { low998, low95, high95, high998 } of picture.lines) {
      expect(0 <= low998 && low998 <= low95 && low95 < high95 && high95 <= high998 && high998 <= 1).toBe(
        true,
      );
    }
    const first = picture.lines[0]!;
    const last = picture.lines.at(-1)!;
    expect(last.n).toBe(900);
    expect(last.high998 - last.low998).toBeLessThan(first.high998 - first.low998);
    expect(picture.inWords).toContain('A: 14 of 100, 14 % (8.5 to 22 %); worse than the rest');
    expect(funnelPicture(remakeRates(pairsWith(100, 4), 'design', ALL)).inWords).toContain(
      'No group lies outside',
    );
  });

  test('the months stand in order, small ones within exact limits', () => {
    const picture = monthPicture(remakeRates(pairs, 'month', ALL));
    expect(picture.points.map(({ month }) => month)).toEqual(['2026-01', '2026-02']);
    expect(picture.inWords).toContain('Outside their limits: 2026-01');
    const small = monthPicture(
      remakeRates(
        [...pairsWith(20, 1, { month: '2026-01' }), ...pairsWith(20, 0, { month: '2026-02' })],
        'month',
        ALL,
      ),
    );
    expect(small.points[1]!.limits.low).toBe(0);
    expect(small.points[1]!.limits.high).toBeGreaterThan(0.05);
    expect(small.inWords).toBe('No month of 2 lies outside its limits.');
  });
});
