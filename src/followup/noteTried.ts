import { addAudit } from '../store/audit.ts';
import { findShop } from '../store/shops.ts';
import { noteTick } from '../store/shopTicks.ts';
import { consentWords } from './consentWords.ts';
import { type NamedOutside, WITHOUT } from './readyToGoLive.ts';
import type { Shell } from './shell.ts';

/** Which ways were tried just now and worked, or are left out on purpose. */
export type Worked = { readonly address: boolean; readonly sender: boolean; readonly mailbox: boolean };

/** Keeps what a try of the world outside has shown, with the settings that it was tried with. */
export async function noteTried(
  shell: Pick<Shell, 'db' | 'clock'>,
  shopId: string,
  named: NamedOutside,
  worked: Worked,
  by: string,
): Promise<void> {
  const now = shell.clock.now();
  await shell.db.transaction().execute(async (trx) => {
    for (const tick of ['address', 'sender', 'mailbox'] as const) {
      const detail = named[tick] ?? (tick === 'address' ? WITHOUT : undefined);
      if (worked[tick] && detail !== undefined) await noteTick(trx, shopId, tick, by, detail, now);
    }
    await addAudit(trx, shopId, { by, act: 'tried before going live', subject: shopId, detail: worked }, now);
  });
}

/** Somebody has read the words in which staff ask for consent, as they stand with the shop's name now. */
export async function noteConsentWords(
  shell: Pick<Shell, 'db' | 'clock'>,
  shopId: string,
  by: string,
): Promise<void> {
  const now = shell.clock.now();
  await shell.db.transaction().execute(async (trx) => {
    const words = consentWords(await findShop(trx, shopId));
    await noteTick(trx, shopId, 'consent words', by, words, now);
    await addAudit(trx, shopId, { by, act: 'consent words read', subject: shopId, detail: { words } }, now);
  });
}
