import { Temporal } from 'temporal-polyfill';
import { dayOfWearAt, nextCivil } from '../channels/civilHours.ts';

/** Days of wear on which a wearer is asked. First contact of trouble is early; settling is told by day 14 to 30. */
export const ASK_DAYS = [3, 7, 14, 30] as const;
/** Check-ins are planned for ten in the morning of the wearer's own day. */
export const ASK_HOUR = 10;
/** Posted pairs are asked about on this day after posting when no arrival is on record. */
export const HAVE_THEY_COME_DAYS = [4, 7, 10] as const;

export type Slot = {
  readonly slot: string;
  readonly kind: 'tips' | 'ask' | 'have they come';
  readonly day: number;
  readonly dueOn: string;
  readonly dueAt: Date;
  readonly state: 'planned' | 'passed over';
  readonly why: string | null;
};

export type PlanFrom = {
  /** First worn: day 0 of everything that the wearer feels. */
  readonly dayZero: string;
  /** All zones that the wearer may be in; a message goes only when it is civil in all. */
  readonly zones: readonly string[];
  readonly now: Date;
  /** 1 for the first plan of a pair; a moved day 0 starts the next round, whose slots have names of their own. */
  readonly round: number;
  /** Tips go at hand-over or arrival, once. */
  readonly withTips: boolean;
};

/** The check-ins of a pair: tips now if the hand-over is fresh, questions on days 3, 7, 14 and 30 of wear. */
export function planSlots(from: PlanFrom): Slot[] {
  const slots: Slot[] = [];
  const zone = from.zones[0]!;
  const today = localDay(from.now, zone);
  const name = (slot: string) => (from.round === 1 ? slot : `${slot}, round ${from.round}`);
  if (from.withTips && from.round === 1 && daysBetween(from.dayZero, today) <= 1) {
    const dueAt = nextCivil(from.now, from.zones);
    slots.push({ slot: 'tips', kind: 'tips', day: 0, dueOn: today, dueAt, state: 'planned', why: null });
  }
  for (const day of ASK_DAYS) {
    const dueAt = dayOfWearAt(from.zones, from.dayZero, day, ASK_HOUR);
    const dueOn = addDays(from.dayZero, day);
    const late = dueOn < today;
    slots.push({
      slot: name(`day ${day}`),
      kind: 'ask',
      day,
      dueOn,
      dueAt,
      state: late ? 'passed over' : 'planned',
      why: late ? 'due before the job was taken in' : null,
    });
  }
  return slots;
}

/** The questions that go out while a posted pair is not known to have come. */
export function haveTheyComeSlots(
  from: Omit<PlanFrom, 'dayZero' | 'withTips'> & { readonly since: string; readonly days: readonly number[] },
): Slot[] {
  return from.days.map((day) => ({
    slot: `have they come, ${day} days after ${from.since}`,
    kind: 'have they come',
    day,
    dueOn: addDays(from.since, day),
    dueAt: dayOfWearAt(from.zones, from.since, day, ASK_HOUR),
    state: 'planned',
    why: null,
  }));
}

/** The calendar day of an instant in a zone. */
export function localDay(at: Date, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime())
    .toZonedDateTimeISO(zone)
    .toPlainDate()
    .toString();
}

export const addDays = (day: string, days: number): string =>
  Temporal.PlainDate.from(day).add({ days }).toString();

export const daysBetween = (from: string, to: string): number =>
  Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'day' }).days;
