import { describe, expect, test } from 'vitest';
import { aalenJohansen, shareInterval } from '../../src/review/aalenJohansen.ts';
import { kaplanMeier, medianDay, restrictedMeanDays } from '../../src/review/kaplanMeier.ts';
import { adaptation, SEEN_ON_LOOK_DAYS, timeToAdapt, watchOf } from '../../src/review/timeToAdapt.ts';
import { tallyByDay } from '../../src/review/watched.ts';
import { backPair, chance, looks, pair, TODAY } from './pairsForTests.ts';

const silentFrom7 = () =>
  pair({ outcome: null, endedDay: undefined, looks: looks('silent', 'silent', 'silent') });
const settledOn = (day: 7 | 14 | 30) =>
  pair({
    looks:
      day === 7
        ? looks('settled', 'not due', 'not due')
        : day === 14
          ? looks('not yet', 'settled', 'not due')
          : looks('not yet', 'not yet', 'settled'),
  });

describe('one pair on the days of the looks', () => {
  test('settled counts from the look that showed it, back from the look after it', () => {
    expect(watchOf(settledOn(14), TODAY)).toEqual({ day: 14, end: 0, silent: false });
    expect(watchOf(backPair('exchanged', 9), TODAY)).toEqual({ day: 14, end: 1, silent: false });
    expect(watchOf(backPair('refunded', 7), TODAY)).toEqual({ day: 7, end: 1, silent: false });
  });

  test('settled told between two looks counts on the next one', () => {
    const told = pair({ endedDay: TODAY - 100 + 10, looks: looks('not yet', 'silent', 'silent') });
    expect(watchOf(told, TODAY)).toEqual({ day: 14, end: 0, silent: false });
  });

  test('a remake after it had settled does not unsettle it; one after day 30 is not seen here', () => {
    const pairLate = backPair('exchanged', 25, { looks: looks('settled', 'not due', 'not due') });
    expect(watchOf(pairLate, TODAY)).toEqual({ day: 7, end: 0, silent: false });
    const after30 = backPair('exchanged', 45, { looks: looks('not yet', 'not yet', 'not yet') });
    expect(watchOf(after30, TODAY)).toEqual({ day: 30, end: null, silent: false });
  });

  test('silence leaves at the last answer, and a look not yet due is no silence', () => {
    const silent = pair({ outcome: null, endedDay: undefined, looks: looks('not yet', 'silent', 'not due') });
    expect(watchOf(silent, TODAY)).toEqual({ day: 7, end: null, silent: true });
    const waiting = pair({
      outcome: null,
      endedDay: undefined,
      looks: looks('not yet', 'not due', 'not due'),
    });
    expect(watchOf(waiting, TODAY)).toEqual({ day: 7, end: null, silent: false });
  });

  test('days are counted from the day the pair was first worn', () => {
    const late = backPair('exchanged', 10, { firstWornDay: TODAY - 100 + 5 });
    expect(watchOf(late, TODAY).day).toBe(7);
  });
});

describe('a group', () => {
  const pairs = [
    ...Array.from({ length: 4 }, () => settledOn(7)),
    ...Array.from({ length: 8 }, () => settledOn(14)),
    ...Array.from({ length: 4 }, () => settledOn(30)),
    ...Array.from({ length: 4 }, () => backPair('exchanged', 12)),
  ];

  test('shares settled, back and waiting add up to 1 on every look; half had settled by day 14', () => {
    const found = adaptation('A', pairs, TODAY);
    expect(found.steps.map(({ settled }) => settled)).toEqual(
      [0.2, 0.6000000000000001, 0.8].map((x) => expect.closeTo(x, 12)),
    );
    for (const { settled, back, waiting } of found.steps) expect(settled + back + waiting).toBeCloseTo(1, 12);
    expect(found.median).toBe(14);
    expect(found.medianWords).toBe('half had settled by day 14 (some time after day 7)');
    // 7 days for all, 7 more for 16 of 20, 16 more for 4 of 20.
    expect(found.meanDaysToDay30).toBeCloseTo(7 + 7 * 0.8 + 16 * 0.2, 12);
    expect(found.trace).toMatchObject({ x: 16, n: 20 });
    expect(found.trace.pairIds).toHaveLength(16);
  });

  test('silent pairs: the two bounds hold the curve between them', () => {
    const found = adaptation('A', [...pairs, ...pairs, ...Array.from({ length: 20 }, silentFrom7)], TODAY);
    expect(found.silent).toBe(20);
    for (const { settled, ifSilentSettled, ifSilentDidNot } of found.steps) {
      expect(ifSilentDidNot).toBeLessThanOrEqual(settled + 1e-12);
      expect(ifSilentSettled).toBeGreaterThanOrEqual(settled - 1e-12);
    }
    expect(found.steps.at(-1)!.ifSilentDidNot).toBeCloseTo(32 / 60, 12);
    expect(found.steps.at(-1)!.ifSilentSettled).toBeCloseTo(52 / 60, 12);
  });

  test('nobody answered: no step is shown and the median is not reached, never the last day', () => {
    const found = adaptation('A', Array.from({ length: 30 }, silentFrom7), TODAY);
    expect(found).toMatchObject({
      median: null,
      steps: [],
      meanDaysToDay30: null,
      medianWords: 'half settled: not reached',
    });
    expect(found.sentence).toContain('too few to say');
  });

  test('the curve is cut where fewer than five are still watched after losses', () => {
    const settled = [
      ...Array.from({ length: 9 }, () => settledOn(7)),
      ...Array.from({ length: 4 }, () => settledOn(14)),
    ];
    expect(adaptation('A', settled, TODAY).steps.map(({ day }) => day)).toEqual([7, 14]);
    const lost = Array.from({ length: 3 }, () =>
      pair({ outcome: null, looks: looks('not yet', 'silent', 'silent') }),
    );
    expect(adaptation('A', [...settled, ...lost], TODAY).steps.map(({ day }) => day)).toEqual([7]);
  });

  test('most of them back: settling is not reached though nobody is waiting', () => {
    const back = [
      ...Array.from({ length: 12 }, () => backPair('refunded', 6)),
      ...Array.from({ length: 8 }, () => settledOn(14)),
    ];
    const found = adaptation('A', back, TODAY);
    expect(found.median).toBeNull();
    expect(found.medianAnyEnd.median).toBe(7);
  });

  test('groups stand by size, people by name and only from 20 pairs on; the note names the days', () => {
    const two = [...pairs, ...Array.from({ length: 5 }, () => pair({ design: 'B', measuredBy: 'person 9' }))];
    expect(timeToAdapt(two, 'design', TODAY).map(({ group }) => group)).toEqual(['Design A', 'B']);
    expect(timeToAdapt(two, 'measuredBy', TODAY).map(({ group }) => group)).toEqual(['person 1']);
    expect(SEEN_ON_LOOK_DAYS).toContain('days 7, 14 and 30');
  });
});

describe('the curves themselves', () => {
  test('without losses the shares by day are plain counts', () => {
    const steps = aalenJohansen(tallyByDay([3, 3, 5, 8], [0, 1, 0, 1], 2));
    expect(steps.at(-1)).toMatchObject({ waiting: 0 });
    expect(steps.at(-1)!.shares).toEqual([expect.closeTo(0.5, 12), expect.closeTo(0.5, 12)]);
    // Without losses the error is that of a plain share.
    expect(steps[1]!.errors[0]).toBeCloseTo(Math.sqrt((0.5 * 0.5) / 4), 12);
  });

  test('the log-log interval of a share covers 95 of 100 true shares at day 14 (seed 8, 1,500 draws of 60 with losses)', () => {
    const next = chance(8);
    let covered = 0;
    for (let round = 0; round < 1500; round += 1) {
      const days: number[] = [];
      const ways: (number | null)[] = [];
      for (let at = 0; at < 60; at += 1) {
        const end = 1 + Math.floor(next() * 28);
        const lost = 1 + Math.floor(next() * 40);
        days.push(Math.min(end, lost));
        ways.push(lost < end ? null : next() < 0.7 ? 0 : 1);
      }
      const steps = aalenJohansen(tallyByDay(days, ways, 2)).filter(({ day }) => day <= 14);
      const last = steps.at(-1)!;
      const { low, high } = shareInterval(last.shares[0]!, last.errors[0]!);
      if (low <= 0.35 && 0.35 <= high) covered += 1;
    }
    expect(covered / 1500).toBeGreaterThan(0.93);
    expect(covered / 1500).toBeLessThan(0.97);
  });

  test('a curve that is never left stays at 1: no median, mean equal to the span', () => {
    const steps = kaplanMeier(tallyByDay([9, 9, 9], [null, null, null], 1));
    expect(medianDay(steps)).toEqual({ median: null, low: null, high: null });
    expect(restrictedMeanDays(steps, 30)).toBe(30);
  });
});
