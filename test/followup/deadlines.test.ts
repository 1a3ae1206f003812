import { describe, expect, test } from 'vitest';
import { deadlinesOf } from '../../src/followup/deadlines.ts';
import type { LabTerm } from '../../src/store/tables.ts';

/* Days are counted on the calendar: 60 days from 1 January 2026 is 2 March, by any calendar. */

const job = {
  ordered_on: '2025-12-20',
  lab_invoiced_on: '2026-01-01',
  received_on: '2026-01-05',
  posted_on: null,
  handed_over_on: '2026-01-10',
};
const pair = { first_worn_on: '2026-01-12', handed_over_on: '2026-01-10' };
const term = (over: Partial<LabTerm>): LabTerm => ({
  what: 'settling',
  days: 60,
  from: 'lab invoiced',
  times: 1,
  ...over,
});
const of = (whose: 'lab' | 'promise', ...args: Parameters<typeof deadlinesOf>) =>
  deadlinesOf(...args).find((one) => one.whose === whose)!;

describe('the lab’s window', () => {
  test.each([
    ['2026-03-01', 1],
    ['2026-03-02', 0],
    ['2026-03-03', -1],
  ])('60 days from the invoice of 1 January: on %s %i left', (today, daysLeft) => {
    expect(of('lab', job, pair, {}, [], today)).toMatchObject({
      lastDay: '2026-03-02',
      daysLeft,
      atWorst: false,
      start: '2026-01-01',
    });
  });

  test.each([
    ['lab invoiced', '2026-01-01', '2026-01-31'],
    ['ordered', '2025-12-20', '2026-01-19'],
    ['handed over', '2026-01-10', '2026-02-09'],
  ] as const)('30 days from “%s”', (from, start, lastDay) => {
    expect(of('lab', job, pair, {}, [term({ days: 30, from })], '2026-01-15')).toMatchObject({
      start,
      lastDay,
      from,
      atWorst: false,
    });
  });

  test('the lab’s term for settling goes before the shop’s setting, and that before the usual 60 days', () => {
    const shop = { labWindow: { days: 45, from: 'ordered' as const } };
    expect(of('lab', job, pair, shop, [term({ days: 90 })], '2026-01-15').days).toBe(90);
    expect(of('lab', job, pair, shop, [term({ days: 90, what: 'coating' })], '2026-01-15').days).toBe(45);
    expect(of('lab', job, pair, {}, [], '2026-01-15').days).toBe(60);
  });

  test('invoice unknown: counted from the earliest date on record, and marked at worst', () => {
    const unknown = { ...job, lab_invoiced_on: null };
    expect(of('lab', unknown, pair, {}, [], '2026-01-15')).toMatchObject({
      start: '2025-12-20',
      lastDay: '2026-02-18',
      atWorst: true,
    });
    const bare = {
      ordered_on: null,
      lab_invoiced_on: null,
      received_on: null,
      posted_on: null,
      handed_over_on: null,
    };
    expect(of('lab', bare, pair, {}, [], '2026-01-15')).toMatchObject({ start: '2026-01-10', atWorst: true });
  });

  test('a posted pair without a hand-over counts from the day on which it left', () => {
    const posted = { ...job, handed_over_on: null, posted_on: '2026-01-08' };
    const left = { ...pair, handed_over_on: '2026-01-08' };
    expect(
      of('lab', posted, left, {}, [term({ from: 'handed over', days: 30 })], '2026-01-15'),
    ).toMatchObject({
      start: '2026-01-08',
      atWorst: false,
    });
  });
});

describe('our promise to the wearer', () => {
  test.each([
    ['2026-02-10', 1],
    ['2026-02-11', 0],
    ['2026-02-12', -1],
  ])('30 days from first worn, 12 January: on %s %i left', (today, daysLeft) => {
    expect(of('promise', job, pair, {}, [], today)).toMatchObject({ lastDay: '2026-02-11', daysLeft });
  });

  test('a leap day is a day: 30 days from 12 February 2028 end on 13 March', () => {
    const leap = { ...pair, first_worn_on: '2028-02-12' };
    expect(of('promise', job, leap, { promiseDays: 30 }, [], '2028-02-20').lastDay).toBe('2028-03-13');
  });
});

test('the nearer of the two stands first', () => {
  expect(deadlinesOf(job, pair, { promiseDays: 90 }, [], '2026-01-15')[0]!.whose).toBe('lab');
  expect(deadlinesOf(job, pair, { promiseDays: 20 }, [], '2026-01-15')[0]!.whose).toBe('promise');
});
