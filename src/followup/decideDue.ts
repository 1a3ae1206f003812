import type { ChannelKind } from '../store/tables.ts';

/** A check-in that is due for a wearer, of any of that wearer's pairs. Instants are epoch milliseconds. */
export type DueCheckIn = {
  readonly checkInId: string;
  readonly kind: 'tips' | 'ask' | 'have they come';
  readonly dueMs: number;
};

export type WearerAtSending = {
  readonly nowMs: number;
  readonly due: readonly DueCheckIn[];
  /** When this wearer was last sent anything unasked, newest first, 30 days back. */
  readonly unaskedMs: readonly number[];
  readonly lastInboundMs: number | null;
  readonly civilNow: boolean;
  readonly nextCivilMs: number;
  /** The first civil instant of the wearer's next local day. */
  readonly nextDayCivilMs: number;
  /** True when an unasked message already went on the wearer's local day (any candidate zone). */
  readonly unaskedToday: boolean;
  readonly prefers: 'text' | 'email' | 'phone';
  /** Channels that the wearer agreed to and that can be used. */
  readonly channels: readonly ChannelKind[];
  readonly heldWhy: string | null;
};

export type DueDecision = {
  readonly send?: { readonly checkInId: string; readonly channel: ChannelKind };
  readonly passOver: readonly string[];
  readonly drop: { readonly checkInIds: readonly string[]; readonly why: string };
  readonly toRing: readonly string[];
  readonly postpone: {
    readonly checkInIds: readonly string[];
    readonly untilMs: number;
    readonly why: string;
  };
};

const DAY_MS = 86_400_000;
export const OVERDUE_MS = DAY_MS;
export const UNASKED_IN_30_DAYS = 8;
export const QUIET_AFTER_INBOUND_MS = 2 * 60_000;

const nothing: DueDecision = {
  passOver: [],
  drop: { checkInIds: [], why: '' },
  toRing: [],
  postpone: { checkInIds: [], untilMs: 0, why: '' },
};

/**
 * What becomes of a wearer's due check-ins at this moment. Rules: one unasked message a wearer a day and eight in 30 days
 * over all pairs; of check-ins overdue by more than 24 h only the newest goes and older ones are passed over; nothing
 * while the wearer is writing; nothing outside civil hours; who prefers the phone is rung.
 */
export function decideDue(wearer: WearerAtSending): DueDecision {
  const due = [...wearer.due].sort((a, b) => a.dueMs - b.dueMs || (a.checkInId < b.checkInId ? -1 : 1));
  const newest = due.at(-1);
  if (!newest) return nothing;
  const passOver = due.filter((one) => one !== newest && wearer.nowMs - one.dueMs > OVERDUE_MS);
  const left = due.filter((one) => !passOver.includes(one));
  const ids = left.map((one) => one.checkInId);
  const decided = { ...nothing, passOver: passOver.map((one) => one.checkInId) };
  const later = (untilMs: number, why: string): DueDecision => ({
    ...decided,
    postpone: { checkInIds: ids, untilMs, why },
  });

  if (wearer.prefers === 'phone') return { ...decided, toRing: ids };
  if (wearer.channels.length === 0) {
    return { ...decided, drop: { checkInIds: ids, why: 'no channel that the wearer agreed to' } };
  }
  // Looked at again on the next day: nobody is asked by a machine in the hour in which a person let go.
  if (wearer.heldWhy !== null) return later(wearer.nextDayCivilMs, wearer.heldWhy);
  if (wearer.lastInboundMs !== null && wearer.nowMs - wearer.lastInboundMs < QUIET_AFTER_INBOUND_MS) {
    return later(wearer.lastInboundMs + QUIET_AFTER_INBOUND_MS, 'the wearer is writing');
  }
  if (!wearer.civilNow) return later(wearer.nextCivilMs, 'outside civil hours there');
  if (wearer.unaskedToday) return later(wearer.nextDayCivilMs, 'one unasked message a day');
  const within30Days = wearer.unaskedMs.filter((at) => wearer.nowMs - at < 30 * DAY_MS);
  if (within30Days.length >= UNASKED_IN_30_DAYS) {
    const oldest = Math.min(...within30Days);
    return later(Math.max(oldest + 30 * DAY_MS, wearer.nextDayCivilMs), 'eight unasked messages in 30 days');
  }

  const first = left[0]!;
  const channel = wearer.channels.includes(wearer.prefers) ? wearer.prefers : wearer.channels[0]!;
  return {
    ...decided,
    send: { checkInId: first.checkInId, channel },
    postpone: {
      checkInIds: ids.filter((id) => id !== first.checkInId),
      untilMs: wearer.nextDayCivilMs,
      why: 'one unasked message a day',
    },
  };
}
