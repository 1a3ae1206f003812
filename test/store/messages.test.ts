import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Database } from '../../src/store/database.ts';
import {
  claimAttempts,
  LEASE_MS,
  leaveUnsure,
  markHandedOver,
  type NewMessage,
  settleAttempt,
  writeMessage,
} from '../../src/store/messages.ts';
import { openWorld, SHOP, type TestWorld } from '../followup/world.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';

describe.each(DATABASES)('messages and attempts, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  let base: Omit<NewMessage, 'onceKey' | 'localDay' | 'sendAt'>;
  const now = () => world.clock.now();
  const write = (onceKey: string, over: Partial<NewMessage> = {}) =>
    database.db
      .transaction()
      .execute((trx) =>
        writeMessage(trx, SHOP, { ...base, onceKey, localDay: '2026-03-02', sendAt: now(), ...over }, now()),
      );
  const stateOf = async (messageId: string) =>
    (
      await database.db
        .selectFrom('attempt')
        .select('state')
        .where('message_id', '=', messageId)
        .executeTakeFirstOrThrow()
    ).state;

  beforeAll(async () => {
    database = await freshDatabase(kind);
    world = await openWorld(database);
    const { wearerId } = await world.job({ consent: false });
    const contact = await database.db
      .selectFrom('contact_point')
      .select('contact_id')
      .where('channel', '=', 'text')
      .executeTakeFirstOrThrow();
    base = {
      wearerId,
      purpose: 'answer',
      unasked: false,
      automatic: true,
      channel: 'text',
      contactId: contact.contact_id,
      body: 'x',
    };
  });
  afterAll(() => database.close());

  test('one key makes one message, however often it is written', async () => {
    expect(await write('answer:1')).toBeDefined();
    expect(await write('answer:1')).toBeUndefined();
  });

  test('a second unasked message on one local day is refused by the schema, one on the next day is taken', async () => {
    expect(await write('check-in:1', { unasked: true, localDay: '2026-03-05' })).toBeDefined();
    expect(await write('check-in:2', { unasked: true, localDay: '2026-03-05' })).toBeUndefined();
    expect(await write('check-in:2', { unasked: true, localDay: '2026-03-06' })).toBeDefined();
  });

  test('of many who claim at once each attempt goes to exactly one', async () => {
    for (let n = 0; n < 30; n += 1) await write(`many:${n}`);
    const claims = await Promise.all(Array.from({ length: 5 }, () => claimAttempts(database.db, now(), 10)));
    const ids = claims.flat().map((one) => one.attempt_id);
    expect(ids.length).toBeGreaterThanOrEqual(30);
    for (const claim of claims) expect(claim.length).toBeLessThanOrEqual(10);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('a claim that ran out before the hand-over is taken again, one that was handed over is not', async () => {
    const lost = (await write('lost'))!;
    const handed = (await write('handed'))!;
    const claimed = await claimAttempts(database.db, now(), 100);
    const of = (messageId: string) => claimed.find((one) => one.message_id === messageId)!;
    expect(await markHandedOver(database.db, [of(handed)], now())).toEqual(new Set([of(handed).attempt_id]));
    const later = new Date(now().getTime() + LEASE_MS + 1);
    const again = (await claimAttempts(database.db, later, 100)).map((one) => one.message_id);
    expect(again).toContain(lost);
    expect(again).not.toContain(handed);
  });

  test('what was delivered never goes back, and an unsure one can still be settled late', async () => {
    const messageId = (await write('late'))!;
    const [claimed] = (await claimAttempts(database.db, now(), 100)).filter(
      (one) => one.message_id === messageId,
    );
    await markHandedOver(database.db, [claimed!], now());
    await leaveUnsure(database.db, SHOP, claimed!.attempt_id, 'may not have arrived', null);
    expect(await stateOf(messageId)).toBe('unsure');
    await settleAttempt(database.db, SHOP, claimed!.attempt_id, { state: 'delivered', farId: 'SM9' }, now());
    expect(await stateOf(messageId)).toBe('delivered');
    await settleAttempt(database.db, SHOP, claimed!.attempt_id, { state: 'accepted' }, now());
    expect(await stateOf(messageId)).toBe('delivered');
  });
});
