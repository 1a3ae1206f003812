import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import type { Channel, OutgoingMessage, RefusalAct, SendResult } from '../../src/channels/channel.ts';
import { tokenHash } from '../../src/channels/tokens.ts';
import { playUntil } from '../../src/followup/playUntil.ts';
import type { Shell } from '../../src/followup/shell.ts';
import type { Database } from '../../src/store/database.ts';
import type { ChannelKind } from '../../src/store/tables.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

/* What follows when a carrier says no, on both databases. */

const EMAIL = 'ida.quill@mail.example';

describe.each(DATABASES)('refusals, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  let refuses: Partial<Record<ChannelKind, RefusalAct>>;
  let taken: (OutgoingMessage & { kind: ChannelKind; at: string })[];
  let asked: string[];
  let shell: Shell;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
    refuses = {};
    taken = [];
    asked = [];
    shell = { ...world.shell, carrier: (_shop, channel) => carrier(channel) };
  });
  afterAll(() => database.close());

  const carrier = (channel: ChannelKind): Channel => ({
    name: 'refusing',
    kind: channel,
    async send(message): Promise<SendResult> {
      const at = world.clock.now().toISOString().slice(5, 16);
      asked.push(`${channel} ${at}`);
      const act = refuses[channel];
      if (act !== undefined) return { state: 'refused', code: '1', why: `refused: ${act}`, act };
      taken.push({ ...message, kind: channel, at });
      return { state: 'accepted', farId: message.attemptId };
    },
    find: async () => 'unknown',
  });
  const play = (to: string) =>
    playUntil(database.db, world.clock.now(), new Date(to), async (at) => {
      world.clock.moveTo(at);
      await tick(shell);
    });
  const consents = async () =>
    Object.fromEntries(
      (await database.db.selectFrom('wearer_contact').select(['channel', 'consent']).execute()).map((one) => [
        one.channel,
        one.consent,
      ]),
    );
  const contact = (channel: ChannelKind) =>
    database.db
      .selectFrom('contact_point')
      .select('unusable_why')
      .where('channel', '=', channel)
      .executeTakeFirstOrThrow();

  test('the number has opted out at the carrier: consent to texts is withdrawn, and emails go on', async () => {
    refuses = { text: 'stop' };
    await world.job({ email: EMAIL });
    await play('2026-03-05T16:00:00Z');
    expect(await consents()).toEqual({ text: 'withdrawn', email: 'given' });
    const event = await database.db
      .selectFrom('consent_event')
      .selectAll()
      .where('act', '=', 'withdrawn')
      .executeTakeFirstOrThrow();
    expect(event).toMatchObject({ channel: 'text', recorded_by: 'the carrier' });
    expect(asked.filter((one) => one.startsWith('text'))).toHaveLength(1);
    expect(taken.map((one) => one.to)).toEqual([EMAIL, EMAIL]);
  });

  test('a number that takes no texts is marked, and the same message goes once by email', async () => {
    refuses = { text: 'bad address' };
    await world.job({ email: EMAIL });
    await play('2026-03-02T20:00:00Z');
    expect((await contact('text')).unusable_why).toBe('refused: bad address');
    expect(taken.map((one) => [one.kind, one.to])).toEqual([['email', EMAIL]]);
    await play('2026-03-04T20:00:00Z');
    expect(asked).toHaveLength(2);
  });

  test('no other channel: the check-in becomes a call to make', async () => {
    refuses = { text: 'other channel' };
    const { pairId } = await world.job();
    await play('2026-03-05T20:00:00Z');
    const rows = await database.db
      .selectFrom('check_in')
      .select(['slot', 'state', 'why'])
      .where('pair_id', '=', pairId)
      .where('slot', '=', 'day 3')
      .execute();
    expect(rows).toEqual([{ slot: 'day 3', state: 'to ring', why: 'refused: other channel' }]);
  });

  test('later: three attempts with growing waits, then the other channel', async () => {
    refuses = { text: 'later' };
    await world.job({ email: EMAIL });
    await play('2026-03-02T20:00:00Z');
    expect(asked).toEqual(['text 03-02T15:00', 'text 03-02T15:02', 'text 03-02T15:17', 'email 03-02T15:17']);
  });

  test('the other channel refuses as well: there is no third way', async () => {
    refuses = { text: 'other channel', email: 'other channel' };
    await world.job({ email: EMAIL });
    await play('2026-03-04T20:00:00Z');
    expect(asked).toHaveLength(2);
  });

  test('our own set-up is at fault: all texts wait, one an hour tries, and the first that is taken ends the wait', async () => {
    refuses = { text: 'hold all' };
    await world.job({ phone: '+12025550161' });
    await play('2026-03-02T15:00:00Z');
    await world.job({ phone: '+12025550162' });
    await world.job({ phone: '+12025550163' });
    await play('2026-03-02T17:30:00Z');
    expect(asked).toEqual(['text 03-02T15:00', 'text 03-02T16:00', 'text 03-02T17:00']);
    const hold = await database.db.selectFrom('channel_hold').selectAll().executeTakeFirstOrThrow();
    expect(hold).toMatchObject({ shop_id: SHOP, channel: 'text', why: 'refused: hold all' });
    refuses = {};
    await play('2026-03-02T20:00:00Z');
    expect(await database.db.selectFrom('channel_hold').selectAll().execute()).toEqual([]);
    expect(new Set(taken.map((one) => one.to))).toEqual(
      new Set(['+12025550161', '+12025550162', '+12025550163']),
    );
  });

  test('a caution that is refused as a text goes by email at once', async () => {
    const { phone } = await world.job({ email: EMAIL });
    await play('2026-03-05T15:00:00Z');
    refuses = { text: 'hold all' };
    await world.says(phone, 'since this morning lots of new floaters and flashes in my left eye');
    taken = [];
    await play('2026-03-05T15:01:00Z');
    expect(taken.map((one) => one.kind)).toEqual(['email']);
    expect(taken[0]!.text).toContain('911');
    expect(taken[0]!.html).toContain('911');
  });

  test('an email carries its own message id, a reply address and a bounce address that are on record', async () => {
    const key = { version: 1, secret: 'a secret for tests only' };
    shell = {
      ...shell,
      mail: () => ({ mailbox: 'care@shop.example', bounceMailbox: 'bounce@shop.example', key }),
    };
    await world.job({ email: EMAIL, prefers: 'email' });
    await play('2026-03-02T15:00:00Z');
    const { headers, attemptId } = taken.find((one) => one.kind === 'email')!;
    const token = /^care\+([a-z2-7]{21})@shop\.example$/.exec(headers!['Reply-To']!)![1]!;
    expect(headers!['Message-ID']).toBe(`<ci-${attemptId}.${token}@shop.example>`);
    expect(headers!['Auto-Submitted']).toBe('auto-generated');
    const row = await database.db.selectFrom('token').selectAll().executeTakeFirstOrThrow();
    expect(row).toMatchObject({ token_hash: tokenHash(token), purpose: 'reply' });
  });
});
