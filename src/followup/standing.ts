import { holds } from '../store/holds.ts';
import { mailboxFaults } from '../store/mailboxes.ts';
import type { Shop } from '../store/shops.ts';
import { reachablePeople } from './alarmPeople.ts';
import { copyIsLate } from './keepBackup.ts';
import type { Shell } from './shell.ts';

/** What stands on every page until it is mended: what keeps danger from reaching a person, and what keeps messages back. */
export async function standingTroubles(shell: Shell, shop: Shop): Promise<string[]> {
  const lines: string[] = [];
  if ((shop.settings.localNumbers ?? []).length === 0) {
    lines.push(
      'No local numbers are set: after a danger sign the wearer gets no caution. Set them before you go live.',
    );
  }
  if ((await reachablePeople(shell.db, shell.carrier, shop.shop_id)).length === 0) {
    lines.push(
      'Nobody is told of danger: no one on call has a number or an address that can be reached from here. Somebody must watch the bench.',
    );
  }
  for (const hold of await holds(shell.db)) {
    if (hold.shop_id !== shop.shop_id) continue;
    const all = hold.channel === 'text' ? 'All texts wait' : 'All emails wait';
    lines.push(
      `${all}: ${hold.why}. Put it right with the carrier; one message an hour tries, and the rest follow by themselves.`,
    );
  }
  for (const fault of await mailboxFaults(shell.db, shop.shop_id)) {
    lines.push(`The mailbox cannot be read: ${fault}. Replies by email, also of danger, do not come in.`);
  }
  const late = copyIsLate(shell);
  if (late !== undefined) lines.push(late);
  return lines;
}
