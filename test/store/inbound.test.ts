import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Database } from '../../src/store/database.ts';
import { claimRaw, storeRaw, unsorted } from '../../src/store/inbound.ts';
import { openShop } from '../../src/store/shops.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';

const at = new Date('2026-03-02T10:00:00Z');

describe.each(DATABASES)('replies on record, %s database', (kind) => {
  let database: Database;
  beforeAll(async () => {
    database = await freshDatabase(kind);
    await openShop(
      database.db,
      {
        shopId: 's',
        name: 'Test shop',
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: {},
        owner: { name: 'Owner' },
      },
      at,
    );
  });
  afterAll(() => database.close());

  const message = (farId: string, body: string) => ({
    shopId: 's',
    channel: 'text' as const,
    farId,
    from: '+12025550101',
    to: null,
    body,
    receivedAt: at.toISOString(),
    raw: { body },
  });

  test('the same message of the carrier is stored once, and not twice', async () => {
    const first = await storeRaw(database.db, [message('SM1', 'the floor sways')]);
    const second = await storeRaw(database.db, [message('SM1', 'the floor sways')]);
    expect(first).toHaveLength(1);
    expect(second).toHaveLength(0);
    expect(await unsorted(database.db, 10)).toEqual([{ shop_id: 's', inbound_id: first[0] }]);
  });

  test('a stored reply cannot be changed or removed', async () => {
    const [inboundId] = await storeRaw(database.db, [message('SM2', 'all good')]);
    const change = database.db
      .updateTable('inbound')
      .set({ body: 'x' })
      .where('inbound_id', '=', inboundId!)
      .execute();
    await expect(change).rejects.toThrow(/never changed or removed/);
    const remove = database.db.deleteFrom('inbound').where('inbound_id', '=', inboundId!).execute();
    await expect(remove).rejects.toThrow(/never changed or removed/);
  });

  test('a raw reply is handed to one sorter only', async () => {
    const [inboundId] = await storeRaw(database.db, [message('SM3', 'x')]);
    await database.db.transaction().execute(async (trx) => {
      const row = await claimRaw(trx, 's', inboundId!);
      expect(row?.body).toBe('x');
      await trx
        .updateTable('inbound_standing')
        .set({ state: 'sorted' })
        .where('inbound_id', '=', inboundId!)
        .execute();
    });
    await database.db.transaction().execute(async (trx) => {
      expect(await claimRaw(trx, 's', inboundId!)).toBeUndefined();
    });
  });
});
