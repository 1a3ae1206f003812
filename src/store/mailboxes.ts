import type { Selectable } from 'kysely';
import type { Db } from './database.ts';
import type { Tables } from './tables.ts';

export type MailboxReading = Selectable<Tables['mailbox_reading']>;

export async function mailboxReading(
  db: Db,
  shopId: string,
  mailbox: string,
): Promise<MailboxReading | undefined> {
  return db
    .selectFrom('mailbox_reading')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('mailbox', '=', mailbox)
    .executeTakeFirst();
}

export async function keepReadingOf(db: Db, reading: MailboxReading): Promise<void> {
  const { shop_id: _shop, mailbox: _mailbox, ...change } = reading;
  await db
    .insertInto('mailbox_reading')
    .values(reading)
    .onConflict((clash) => clash.columns(['shop_id', 'mailbox']).doUpdateSet(change))
    .execute();
}

/** What is wrong with the mailboxes of a shop just now. */
export async function mailboxFaults(db: Db, shopId: string): Promise<string[]> {
  const rows = await db
    .selectFrom('mailbox_reading')
    .select('fault')
    .where('shop_id', '=', shopId)
    .where('fault', 'is not', null)
    .execute();
  return rows.map((row) => row.fault!);
}

export async function isWearersAddress(db: Db, shopId: string, address: string): Promise<boolean> {
  const row = await db
    .selectFrom('contact_point')
    .select('contact_id')
    .where('shop_id', '=', shopId)
    .where('channel', '=', 'email')
    .where('address', '=', address.toLowerCase())
    .executeTakeFirst();
  return row !== undefined;
}

/** Of these reply tokens, told by their hashes, the first that we gave out, with the message that it belongs to. */
export async function messageOfToken(
  db: Db,
  shopId: string,
  hashes: readonly string[],
): Promise<{ hash: string; messageId: string } | undefined> {
  for (const hash of hashes) {
    const row = await db
      .selectFrom('token')
      .select('subject_id')
      .where('shop_id', '=', shopId)
      .where('token_hash', '=', hash)
      .where('purpose', '=', 'reply')
      .executeTakeFirst();
    if (row) return { hash, messageId: row.subject_id };
  }
  return undefined;
}
