import { describe, expect, it } from 'vitest';
import { weigh } from '../../src/causes/weigh.ts';
import { type CheckRow, readCheckRows } from './checkRows.ts';
import { MOVED_PAIRS } from './movedAcrossLimit.ts';

const rows = new Map(
  [...readCheckRows('test/checks/causes.json'), ...readCheckRows('test/causes/ownVignettes.json')].map(
    (r) => [r.id, r],
  ),
);
const place = (row: CheckRow, cause: string): number => weigh(row).causes.findIndex(({ id }) => id === cause);

describe('a number moved across its limit moves the ranking', () => {
  it('holds at least fifty pairs, none twice', () => {
    expect(new Set(MOVED_PAIRS.map(({ row }) => row)).size).toBe(MOVED_PAIRS.length);
    expect(MOVED_PAIRS.length).toBeGreaterThanOrEqual(50);
  });
  it.each(MOVED_PAIRS)('$row: $cause ranks higher beyond the limit than within', ({ row, cause, within }) => {
    const beyond = rows.get(row) as CheckRow;
    const inside = { ...beyond, job: { ...beyond.job, ...within } };
    expect(place(inside, cause)).toBeGreaterThan(place(beyond, cause));
  });
});
