import fc from 'fast-check';
import { expect, test } from 'vitest';
import { asLocal, dayOfWearAt, isCivil, nextCivil } from '../../src/channels/civilHours.ts';

const at = (iso: string) => new Date(iso);
const ZONES = [
  'America/New_York',
  'Europe/London',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
  'America/St_Johns',
  'Africa/Cairo',
];

test('a weekday is civil from 9 up to 19, not at 19 sharp', () => {
  expect(isCivil(at('2026-01-14T09:00:00Z'), ['Europe/London'])).toBe(true);
  expect(isCivil(at('2026-01-14T08:59:59Z'), ['Europe/London'])).toBe(false);
  expect(isCivil(at('2026-01-14T18:59:59Z'), ['Europe/London'])).toBe(true);
  expect(isCivil(at('2026-01-14T19:00:00Z'), ['Europe/London'])).toBe(false);
});

test('a Sunday opens at noon', () => {
  expect(isCivil(at('2026-01-18T11:59:59Z'), ['Europe/London'])).toBe(false);
  expect(nextCivil(at('2026-01-18T09:30:00Z'), ['Europe/London'])).toEqual(at('2026-01-18T12:00:00Z'));
});

test('no setting opens before 8 or after 21', () => {
  const wide = { from: '05:00', to: '23:30' };
  expect(isCivil(at('2026-01-14T07:59:59Z'), ['Europe/London'], wide)).toBe(false);
  expect(isCivil(at('2026-01-14T08:00:00Z'), ['Europe/London'], wide)).toBe(true);
  expect(isCivil(at('2026-01-14T21:00:00Z'), ['Europe/London'], wide)).toBe(false);
});

test('with several candidate zones it is civil only when it is civil in all', () => {
  const idaho = ['America/Boise', 'America/Los_Angeles'];
  expect(isCivil(at('2026-01-15T16:30:00Z'), idaho)).toBe(false);
  expect(nextCivil(at('2026-01-15T16:30:00Z'), idaho)).toEqual(at('2026-01-15T17:00:00Z'));
});

test('zones that never share a civil hour are never civil, and no zone is never civil', () => {
  const apart = ['Europe/Kaliningrad', 'Asia/Kamchatka'];
  const later = nextCivil(at('2026-01-15T12:00:00Z'), apart);
  expect(later.getTime() - at('2026-01-15T12:00:00Z').getTime()).toBeGreaterThanOrEqual(8 * 86_400_000);
  expect(isCivil(later, apart)).toBe(false);
  expect(isCivil(at('2026-01-15T12:00:00Z'), [])).toBe(false);
});

test('a window that closes before it opens lets nothing through', () => {
  expect(isCivil(at('2026-01-14T12:00:00Z'), ['Europe/London'], { from: '19:00', to: '09:00' })).toBe(false);
});

test('the next civil instant is civil everywhere, at or after the asked one, and none before it is', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: Date.UTC(2026, 0, 1) / 60_000, max: Date.UTC(2027, 0, 1) / 60_000 }),
      fc.subarray(ZONES, { minLength: 1, maxLength: 2 }),
      (minute, zones) => {
        const from = new Date(minute * 60_000);
        const next = nextCivil(from, zones);
        if (next.getTime() - from.getTime() >= 8 * 86_400_000) return;
        expect(isCivil(next, zones)).toBe(true);
        for (let ms = from.getTime(); ms < next.getTime(); ms += 30 * 60_000) {
          expect(isCivil(new Date(ms), zones)).toBe(false);
        }
      },
    ),
    { numRuns: 60, seed: 7 },
  );
});

test('day 3 at ten is ten on the wall clock across the spring change, 71 hours on', () => {
  const due = dayOfWearAt('America/New_York', '2026-03-06', 3, 10);
  expect(due).toEqual(at('2026-03-09T14:00:00Z'));
  expect(asLocal(due, 'America/New_York')).toBe('2026-03-09T10:00:00-04:00');
});

test('with two candidate zones the day of wear waits until the hour has come in both', () => {
  expect(dayOfWearAt(['America/Boise', 'America/Los_Angeles'], '2026-01-12', 3, 10)).toEqual(
    at('2026-01-15T18:00:00Z'),
  );
});
