import { UNSEND_MS } from '../followup/unsend.ts';
import type { Room } from '../house.ts';

/** What a person sends leaves ten seconds later: a tick then, so that it need not wait for the next minute. */
export function workWhenItLeaves(room: Pick<Room, 'work'>): void {
  setTimeout(() => void room.work(), UNSEND_MS + 50).unref();
}
