import type { AttemptState } from '../store/tables.ts';

/**
 * The states of an outgoing text, as far along as their number; final ones are not left again, save that a delivered text
 * can still be read. Words: Twilio Docs, outbound message status in status callbacks. Callbacks come out of order and
 * twice, so that only forward steps count (common practice).
 */
const ALONG: Readonly<Record<string, number>> = {
  scheduled: 0,
  accepted: 1,
  queued: 2,
  sending: 3,
  sent: 4,
  partially_delivered: 5,
  delivered: 6,
  undelivered: 6,
  failed: 6,
  canceled: 6,
  read: 7,
};
const FINAL = new Set(['delivered', 'undelivered', 'failed', 'canceled', 'read']);

/** The state after an event. A word that we do not know changes nothing (it is logged by the caller). */
export function afterStatus(have: string | null, event: string): string | null {
  const to = ALONG[event];
  if (to === undefined) return have;
  const from = have === null ? undefined : ALONG[have];
  if (from === undefined) return event;
  if (FINAL.has(have!)) return have === 'delivered' && event === 'read' ? event : have;
  return to > from ? event : have;
}

export const isKnownStatus = (event: string): boolean => ALONG[event] !== undefined;

/** What a carrier's state is as the state of an attempt. `sent` is no promise that it arrived. */
export function attemptStateOf(status: string): Extract<AttemptState, 'accepted' | 'delivered' | 'failed'> {
  if (status === 'delivered' || status === 'read') return 'delivered';
  return FINAL.has(status) ? 'failed' : 'accepted';
}
