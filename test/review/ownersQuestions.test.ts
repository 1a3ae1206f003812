import { describe, expect, test } from 'vitest';
import { causesOfRemakes } from '../../src/review/causesOfRemakes.ts';
import { compareTwo } from '../../src/review/compareTwo.ts';
import { type Drift, type DriftPoint, drift } from '../../src/review/drift.ts';
import { driftPicture } from '../../src/review/driftPicture.ts';
import { money } from '../../src/review/money.ts';
import { monthSheet, NOTHING_MORE_THAN_LUCK } from '../../src/review/monthSheet.ts';
import { ownBias } from '../../src/review/ownBias.ts';
import type { FinishedPair } from '../../src/review/pairs.ts';
import { suggestionRight } from '../../src/review/suggestionRight.ts';
import { about, countInWords, percent } from '../../src/review/words.ts';
import { backPair, chance, looks, normal, pair, pairsWith, TODAY } from './pairsForTests.ts';

const pointsOf = ({ followed }: Extract<Drift, { kind: 'chart' }>): DriftPoint[] =>
  Array.from({ length: followed.count }, (_, at) => followed.point(at));

const ALL = { today: TODAY, reasons: 'all reasons' } as const;

describe('why pairs came back', () => {
  const pairs = [
    ...pairsWith(50, 0),
    ...Array.from({ length: 3 }, () =>
      backPair('exchanged', 9, {
        reason: 'measured',
        causeFound: 'height low',
        causeFoundHow: 'found at the bench',
      }),
    ),
    backPair('refunded', 9, { reason: 'changed mind' }),
    backPair('refunded', 9, { reason: undefined, causeFound: 'said so', causeFoundHow: 'said' }),
    backPair('remade in the same design', 9, { reason: 'settling' }),
  ];

  test('settling-type reasons have shares of their own; all reasons have theirs', () => {
    const { settlingType, allReasons } = causesOfRemakes(pairs, TODAY);
    expect(settlingType.map(({ reason, trace }) => [reason, trace.x, trace.n])).toEqual([
      ['measured', 3, 4],
      ['settling', 1, 4],
    ]);
    expect(allReasons.map(({ reason, trace }) => [reason, trace.x, trace.n])).toEqual([
      ['measured', 3, 6],
      ['settling', 1, 6],
      ['changed mind', 1, 6],
      ['not recorded', 1, 6],
    ]);
  });

  test('a cause that was only said is not a cause found', () => {
    expect(
      causesOfRemakes(pairs, TODAY).foundCauses.map(({ cause, trace }) => [cause, trace.x, trace.n]),
    ).toEqual([['height low', 3, 3]]);
  });
});

describe('how often the suggestion was right', () => {
  const suggested = (
    right: boolean,
    share: number,
    how: FinishedPair['causeFoundHow'] = 'found at the bench',
  ) =>
    pair({
      causeSuggested: 'height low',
      causeSuggestedShare: share,
      causeFound: right ? 'height low' : 'PD off',
      causeFoundHow: how,
      actSuggested: 'adjust',
      actTaken: right ? 'adjust' : 'remake',
    });

  test('counts what was made sure of, by the share that was stated', () => {
    const found = suggestionRight([
      ...Array.from({ length: 6 }, () => suggested(true, 0.6)),
      ...Array.from({ length: 4 }, () => suggested(false, 0.6)),
      ...Array.from({ length: 2 }, () => suggested(true, 0.9, 'cured by the act')),
      suggested(true, 0.9, 'said'),
      pair(),
    ]);
    expect(found.causeRight.trace).toMatchObject({ x: 8, n: 12 });
    expect(found.causeRight.value).toBeCloseTo(8 / 12, 12);
    expect(found.actKept.trace).toMatchObject({ x: 9, n: 13 });
    expect(found.byStatedShare.map(({ to, trace }) => [to, trace.x, trace.n])).toEqual([
      [0.6, 6, 10],
      [1, 2, 2],
    ]);
    expect(found.byStatedShare[0]!.sentence).toContain('about 6 in 10 was stated: right in 6 of 10');
  });

  test('nothing made sure of yet is said, not divided by', () => {
    expect(suggestionRight([pair()]).sentences[0]).toContain('no pairs yet');
  });
});

describe('money', () => {
  const costs = { lensesPerRemake: 80, staffHoursPerReturn: 0.5, staffCostPerHour: 40, postagePerReturn: 6 };
  const pairs = [
    pair(),
    backPair('exchanged', 9, { borneBy: 'lab', labCharge: 0, creditPromised: 80, creditReceived: 50 }),
    backPair('remade in the same design', 9, { borneBy: 'shop', windowMissed: true }),
    backPair('refunded', 9, { borneBy: 'shop', refundPaid: 300 }),
    backPair('exchanged', 9, { labCharge: 95, creditPromised: 40 }),
  ];

  test('adds up by who bears it: recorded charges first, the shop’s figures where none is', () => {
    const { byBearer } = money(pairs, costs, TODAY);
    expect(byBearer.map(({ borneBy, amount }) => [borneBy, amount.value])).toEqual([
      ['shop', 80 + 20 + 6 + 20 + 6 + 300],
      ['not recorded', 95 + 20 + 6],
      ['lab', 0 + 20 + 6],
    ]);
    expect(byBearer[0]!.amount.trace.pairIds).toHaveLength(2);
  });

  test('credits promised against received, and windows missed', () => {
    const found = money(pairs, costs, TODAY);
    expect([
      found.creditsPromised.value,
      found.creditsReceived.value,
      found.creditsOutstanding.value,
    ]).toEqual([120, 50, 70]);
    expect(found.windowsMissed.trace).toMatchObject({ x: 1, n: 4 });
  });

  test('an empty input is named and not counted; half a product is not counted either', () => {
    const found = money(pairs, { ...costs, staffCostPerHour: null, postagePerReturn: null }, TODAY);
    expect(found.notCounted).toEqual(['staff cost per hour', 'postage per return']);
    expect(found.counted).toEqual(['lenses per remake']);
    expect(found.byBearer[0]!.amount.value).toBe(80 + 300);
    expect(found.sentences.at(-1)).toBe(
      'Not counted, because empty in the settings: staff cost per hour, postage per return.',
    );
  });
});

describe('our own measuring bias', () => {
  const measured = (mm: number, given: Partial<FinishedPair> = {}) =>
    pair({
      reMeasured: [
        { what: 'fitting height', orderedMm: 20, reMeasuredMm: 20 + mm - 0.1 },
        { what: 'fitting height', orderedMm: 21, reMeasuredMm: 21 + mm + 0.1 },
      ],
      ...given,
    });

  test('the sentence has the lean, its interval and the pairs, both eyes as one', () => {
    // 23 pairs, mean 1.1, standard deviation 1.2: interval 1.1 ± 2.074 × 1.2/√23 = 0.58 to 1.62.
    const raw = Array.from({ length: 23 }, (_, at) => at - 11);
    const scale = 1.2 / Math.sqrt(raw.reduce((sum, x) => sum + x * x, 0) / 22);
    const [bias] = ownBias(
      raw.map((x) => measured(1.1 + x * scale)),
      'measuredHow',
    );
    expect(bias!.sentence).toBe('our photo heights run 1.1 mm low (0.6 to 1.6, 23 pairs)');
    expect(bias!.spreadMm).toBeCloseTo(1.2, 10);
    expect(bias!.n).toBe(23);
    expect(bias!.offerWarning).toContain('it has run 1.1 mm low');
    expect(bias!.trace.pairIds).toHaveLength(23);
  });

  test('ordered too high is called high, the interval turned with it', () => {
    const [bias] = ownBias(
      [-1, -1.2, -0.8, -1.1, -0.9, -1, -1.3, -0.7].map((mm) => measured(mm)),
      'measuredHow',
    );
    expect(bias!.sentence).toMatch(/^our photo heights run 1\.0 mm high \(0\.\d to 1\.\d, 8 pairs\)$/);
  });

  test('a lean too small to matter, or within luck, gives no offer to warn', () => {
    const next = chance(3);
    const small = ownBias(
      Array.from({ length: 60 }, () => measured(0.3 + 0.2 * normal(next))),
      'measuredHow',
    )[0]!;
    expect(small.pHolm).toBeLessThan(0.001);
    expect(small.offerWarning).toBeNull();
    const luck = ownBias(
      [-2, 2.4, -1.9, 2.2, 0.1, -0.4, 1, -0.8].map((mm) => measured(mm)),
      'measuredHow',
    )[0]!;
    expect(luck.sentence).toContain('no lean beyond luck');
    expect(luck.offerWarning).toBeNull();
  });

  test('seven pairs say nothing; a person with under 20 is not shown; PDs stand by themselves', () => {
    expect(
      ownBias(
        Array.from({ length: 7 }, () => measured(1)),
        'measuredHow',
      ),
    ).toEqual([]);
    expect(
      ownBias(
        Array.from({ length: 19 }, (_, at) => measured(1 + at / 50)),
        'measuredBy',
      ),
    ).toEqual([]);
    const pd = Array.from({ length: 20 }, (_, at) =>
      pair({ reMeasured: [{ what: 'monocular PD', orderedMm: 31, reMeasuredMm: 30.4 + at / 100 }] }),
    );
    expect(ownBias(pd, 'measuredBy')[0]!.sentence).toContain('PDs measured by person 1 run 0.5 mm high');
  });
});

describe('two designs compared', () => {
  const two = (x1: number, n1: number, x2: number, n2: number, looks = 1) =>
    compareTwo(
      [...pairsWith(n1, x1, { design: 'A' }), ...pairsWith(n2, x2, { design: 'B' })],
      'design',
      'A',
      'B',
      ALL,
      looks,
    );

  test('the printed example: 56 of 70 against 48 of 80, more than luck', () => {
    // Newcombe, Stat Med 1998;17:873-890, method 10: 0.2000, 0.0524 to 0.3339.
    const found = two(56, 70, 48, 80);
    expect(found.difference.value).toBeCloseTo(0.2, 10);
    expect(found.difference.interval.low).toBeCloseTo(0.0524, 4);
    expect(found.difference.interval.high).toBeCloseTo(0.3339, 4);
    expect(found.morePairsNeeded).toBeNull();
    expect(found.sentence).toBe('A 56 of 70, B 48 of 80: 20.0 points (5.2 to 33.4), more than luck.');
  });

  test('not known yet: how many more pairs of each would be needed', () => {
    // R stats power.prop.test: 748.39 pairs in each arm for 3 % against 6 %.
    const found = two(3, 100, 12, 200);
    expect(found.morePairsNeeded).toMatchObject({ first: 749 - 100, second: 749 - 200 });
    expect(found.sentence).toContain(
      'no difference shown; to see a difference as large as this one it takes about 650 more pairs of A and 550 of B',
    );
  });

  test('equal rates ask for a doubling, not for pairs without end', () => {
    const found = two(5, 100, 5, 100);
    expect(found.morePairsNeeded!.toSee).toBe('a doubling from 5 %');
    expect(found.morePairsNeeded!.first).toBe(435 - 100);
    expect(Number.isFinite(two(0, 50, 0, 50).morePairsNeeded!.first)).toBe(true);
  });

  test('picked from ten comparisons the interval is wider, and says so', () => {
    const one = two(56, 70, 48, 80);
    const ten = two(56, 70, 48, 80, 10);
    expect(ten.difference.interval.low).toBeLessThan(one.difference.interval.low);
    expect(ten.looks).toContain('picked from 10 comparisons');
  });

  test('no ripe pairs on one side: said, not divided by', () => {
    expect(two(3, 40, 0, 0).sentence).toBe('A and B: no ripe pairs to compare.');
  });

  test('speed of settling is compared only with ten settled on each side', () => {
    expect(two(0, 9, 0, 40).settlingSpeed).toBeNull();
    const fast = Array.from({ length: 30 }, () =>
      pair({ design: 'A', looks: looks('settled', 'not due', 'not due') }),
    );
    const slow = Array.from({ length: 30 }, () =>
      pair({ design: 'B', looks: looks('not yet', 'not yet', 'settled') }),
    );
    const found = compareTwo([...fast, ...slow], 'design', 'A', 'B', ALL);
    expect(found.settlingSpeed!.p).toBeLessThan(1e-6);
    expect(found.settlingSpeed!.observed1).toBe(30);
  });
});

describe('drift in words', () => {
  test('a pair enters the chart on the day it is ripe, not a day before', () => {
    const pairs = [
      ...pairsWith(200, 10),
      pair({ handedOverDay: TODAY - 60 }),
      pair({ handedOverDay: TODAY - 59 }),
    ];
    const found = drift(pairs, ALL);
    expect(found.kind === 'chart' && pointsOf(found).map(({ ripeOnDay }) => ripeOnDay)).toEqual([TODAY]);
  });

  test('too few pairs for a baseline are said', () => {
    const found = drift(pairsWith(90, 4), ALL);
    expect(found).toMatchObject({ kind: 'too few' });
    expect(found.kind === 'too few' && found.sentence).toContain(
      '4 of 90 came back; it takes 100 pairs and at least one',
    );
  });

  test('the baseline stays as it was when the rate has doubled since', () => {
    const early = Array.from({ length: 200 }, (_, at) => ({
      handedOverDay: TODAY - 500 + at,
      back: at % 20 === 0,
    }));
    const late = Array.from({ length: 200 }, (_, at) => ({
      handedOverDay: TODAY - 280 + at,
      back: at % 5 === 0,
    }));
    const pairs = [...late, ...early].map(({ handedOverDay, back }) =>
      back ? backPair('exchanged', 30, { handedOverDay }) : pair({ handedOverDay }),
    );
    const found = drift(pairs, ALL);
    if (found.kind !== 'chart') throw new Error(found.sentence);
    expect(found.baseline.value).toBe(0.05);
    expect(found.alarms.length).toBeGreaterThan(0);
    expect(
      pointsOf(found).every(({ ripeOnDay }, at, all) => at === 0 || ripeOnDay >= all[at - 1]!.ripeOnDay),
    ).toBe(true);
    expect(found.caption).toContain('Baseline 10 of 200, 5 %');
    expect(found.caption).toContain('A doubling to 10 %');
    expect(found.sentence).toContain('more pairs come back than at the baseline');
  });

  test('more hard work is not drift when pairs are weighed by their kind', () => {
    const next = chance(21);
    const job = (handedOverDay: number, hard: boolean) => {
      const given = { handedOverDay, firstWearer: hard, addBand: hard ? 'high' : 'low' };
      return next() < (hard ? 0.16 : 0.02) ? backPair('exchanged', 20, given) : pair(given);
    };
    const pairs = [
      ...Array.from({ length: 400 }, (_, at) => job(TODAY - 900 + at, at % 5 === 0)),
      ...Array.from({ length: 400 }, (_, at) => job(TODAY - 480 + at, at % 5 !== 0)),
    ];
    const settings = { ...ALL, baselineUntilDay: TODAY - 900 + 399 + 60 };
    const plain = drift(pairs, settings);
    const weighed = drift(pairs, { ...settings, weighByMix: true });
    if (plain.kind !== 'chart' || weighed.kind !== 'chart') throw new Error('no chart');
    expect(plain.alarms.length).toBeGreaterThan(0);
    expect(weighed.alarms.length).toBeLessThan(plain.alarms.length);
    expect(weighed.caption).toContain('weighed by the risk of its kind');
  });
});

test('the baseline of a busy shop is all of its first 30 days, that of a small one its first 200 pairs', () => {
  const perDay = (count: number) =>
    Array.from({ length: count * 60 }, (_, at) => {
      const handedOverDay = TODAY - 200 + Math.floor(at / count);
      return at % 20 === 0 ? backPair('exchanged', 10, { handedOverDay }) : pair({ handedOverDay });
    });
  const baseline = (count: number) => {
    const found = drift(perDay(count), { today: TODAY, reasons: 'all reasons' });
    return found.kind === 'chart' ? found.baseline.trace.n : 0;
  };
  expect(baseline(20)).toBe(600);
  expect(baseline(5)).toBe(200);
});

test('a long drift line is thinned without losing a peak or an alarm', () => {
  const next = chance(31);
  const pairs = Array.from({ length: 5000 }, (_, at) => {
    const handedOverDay = TODAY - 3000 + Math.floor(at / 2);
    return next() < (at > 3000 ? 0.1 : 0.05)
      ? backPair('exchanged', 20, { handedOverDay })
      : pair({ handedOverDay });
  });
  const found = drift(pairs, ALL);
  if (found.kind !== 'chart') throw new Error(found.sentence);
  const { points, inWords } = driftPicture(found);
  expect(points.length).toBeLessThanOrEqual(400);
  expect(points.length).toBeGreaterThan(300);
  const top = (some: readonly { evidence: number }[]): number =>
    Math.max(...some.map(({ evidence }) => evidence));
  expect(top(points)).toBe(top(pointsOf(found)));
  const drawn = new Set(points.map(({ pairId }) => pairId));
  for (const { pairId } of found.alarms) expect(drawn).toContain(pairId);
  expect(inWords).toContain(`4800 pairs since the baseline, ${found.alarms.length} alarms`);
});

test('eight pairs that all read 0.5 mm low are no proof without a doubt: the spread is at least that of the rounding', () => {
  const alike = Array.from({ length: 8 }, () =>
    pair({ reMeasured: [{ what: 'fitting height', orderedMm: 18, reMeasuredMm: 18.5 }] }),
  );
  const [bias] = ownBias(alike, 'measuredHow');
  expect(bias!.spreadMm).toBeCloseTo(0.144, 3);
  expect(bias!.interval.low).toBeLessThan(0.5);
  expect(bias!.interval.high).toBeGreaterThan(0.5);
  expect(bias!.p).toBeGreaterThan(0);
});

describe('month sheet', () => {
  const quiet = () =>
    Array.from({ length: 600 }, (_, at) => {
      const given = {
        handedOverDay: TODAY - 60 - (at % 300),
        design: `Design ${at % 6}`,
        lab: `lab ${at % 2}`,
      };
      return at % 25 === 7 ? backPair('exchanged', 20, given) : pair(given);
    });

  test('nothing beyond luck: it says so and how much it looked at', () => {
    const sheet = monthSheet(quiet(), ALL);
    expect(sheet.sentences).toEqual([]);
    expect(sheet.otherwise).toBe(NOTHING_MORE_THAN_LUCK);
    expect(sheet.looks).toMatch(/^\d+ comparisons and the drift line looked at; Holm/);
  });

  test('a bad design is named with count, interval, guard and the pairs behind; its own lab says the same only once', () => {
    const bad = pairsWith(160, 40, { design: 'Bad', lab: 'Bad’s lab', handedOverDay: TODAY - 90 });
    const sheet = monthSheet([...quiet(), ...bad], ALL);
    const about160 = sheet.sentences.filter(({ trace }) => trace.n === 160);
    expect(about160).toHaveLength(1);
    expect(about160[0]!.sentence).toContain('Bad: 40 of 160, 25 % (19 to 32 %); worse than the rest');
    expect(about160[0]!.guard).toContain('after Holm over');
    expect(about160[0]!.trace.pairIds).toHaveLength(40);
    expect(sheet.otherwise).toBeNull();
  });

  test('one bad design is told once: not again as its lab with another design beside it, nor as all others doing better', () => {
    const pairs = [
      ...pairsWith(200, 40, { design: 'Bad', lab: 'Lab one', material: '1.67' }),
      ...pairsWith(60, 3, { design: 'Good', lab: 'Lab one', material: '1.67' }),
      ...pairsWith(400, 16, { design: 'Good', lab: 'Lab two', material: '1.60' }),
    ];
    const told = monthSheet(pairs, ALL).sentences.map(({ sentence }) => sentence);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/^Design Bad: 40 of 200/);
  });

  test('a lab that is bad besides the bad design is told too', () => {
    const pairs = [
      ...pairsWith(200, 60, { design: 'Bad', lab: 'Lab two' }),
      ...pairsWith(300, 45, { design: 'Good', lab: 'Lab one' }),
      ...pairsWith(600, 12, { design: 'Good', lab: 'Lab two' }),
    ];
    const told = monthSheet(pairs, ALL).sentences.map(({ sentence }) => sentence);
    expect(told).toHaveLength(2);
    expect(told.some((sentence) => /^Design Bad/.test(sentence))).toBe(true);
    expect(told.some((sentence) => /^Lab Lab/.test(sentence))).toBe(true);
  });

  test('never more than five sentences, never a person by name', () => {
    const many = Array.from({ length: 14 }, (_, at) =>
      pairsWith(120, at % 2 === 0 ? 40 : 0, {
        design: `D${at}`,
        lab: `L${at}`,
        material: `M${at}`,
        addBand: `A${at}`,
        measuredBy: 'Somebody',
        soldBy: 'Somebody',
        handedOverDay: TODAY - 100,
        month: `2026-${at + 1}`,
      }),
    ).flat();
    const sheet = monthSheet(many, ALL);
    expect(sheet.sentences).toHaveLength(5);
    expect(JSON.stringify(sheet.sentences.map(({ sentence }) => sentence))).not.toContain('Somebody');
  });

  test('our own bias is told', () => {
    const leaning = quiet().map((one, at) =>
      at % 10 === 0
        ? {
            ...one,
            reMeasured: [
              { what: 'fitting height' as const, orderedMm: 20, reMeasuredMm: 21 + (at % 7) / 10 },
            ],
          }
        : one,
    );
    expect(monthSheet(leaning, ALL).sentences[0]!.sentence).toMatch(/^Our photo heights run 1\.\d mm low/);
  });

  test('pairs of years ago no longer weigh', () => {
    const old = pairsWith(160, 40, { design: 'Bad', handedOverDay: TODAY - 900 });
    expect(
      monthSheet([...quiet(), ...old], ALL).sentences.filter(({ sentence }) => sentence.includes('Bad')),
    ).toEqual([]);
  });
});

describe('numbers in words', () => {
  test('say no more than is known', () => {
    expect(percent(0.075)).toBe('7.5');
    expect(percent(0.1986)).toBe('20');
    expect(percent(0.03)).toBe('3');
    expect(countInWords(3, 40, { low: 0.025836, high: 0.198642 })).toBe('3 of 40, 7.5 % (2.6 to 20 %)');
    expect(countInWords(0, 0, { low: 0, high: 1 })).toBe('no pairs yet');
    expect([1348, 97, 8, 1_234_567, Number.POSITIVE_INFINITY].map(about)).toEqual([
      '1,300',
      '97',
      '8',
      '1,200,000',
      'no end of',
    ]);
  });
});
