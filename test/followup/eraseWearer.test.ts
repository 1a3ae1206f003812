import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { eraseWearer } from '../../src/followup/eraseWearer.ts';
import { exportWearer, readableExport } from '../../src/followup/exportWearer.ts';
import { replayJournal } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { openJournal } from '../../src/store/journal.ts';
import { tablesOfWearers } from '../../src/store/wearerRecords.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

/* One wearer's records taken out whole, and erased so that nothing of them can be found anywhere. */

const NAME = 'Quilla Unusualname';
const PHONE = '+12025550177';
const EMAIL = 'quilla@unusual.example';
/** The shop's own, its staff's, its books'; the log (emptied of details); what is worked out from the others again. */
const OF_NO_WEARER = [
  'api_token',
  'audit',
  'channel_hold',
  'erased_trace',
  'kysely_migration',
  'kysely_migration_lock',
  'lab',
  'lens_design',
  'mailbox_reading',
  'morning_list',
  'on_call_hours',
  'person',
  'recovery_code',
  'review_block',
  'review_change',
  'session',
  'shop',
  'shop_tick',
  'sign_in',
  'sign_in_link',
  'sign_in_try',
];
const WORDS = 'zebracrossing swims when I look down';

describe.each(DATABASES)('one wearer’s records, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  let folder: string;
  let wearerId: string;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    const opened = await openWorld(database);
    folder = mkdtempSync(join(tmpdir(), 'afterfit-erase-'));
    world = { ...opened, shell: Object.assign(opened.shell, { journal: openJournal(folder) }) };
    await world.job({ name: 'Someone Else' });
    const taken = await world.job({
      name: NAME,
      phone: PHONE,
      email: EMAIL,
      number: 'Q-1',
      facts: [
        {
          key: 'fitting_height',
          eye: 'R',
          value: 17.123,
          unit: 'mm',
          how: 'marks',
          by: 'x',
          source: 'order',
          from: 'test',
        },
      ],
    });
    wearerId = taken.wearerId;
    await world.playTo('2026-03-05T20:00:00Z');
    await world.says(PHONE, WORDS);
    await world.playTo('2026-03-12T20:00:00Z');
  });

  /** Every text of every table, as one string: what a thief of the disk would search. */
  const everything = async (): Promise<string> => {
    const tables = await sql<{ name: string }>`select relname as name from pg_class
      where relkind = 'r' and relnamespace = 'public'::regnamespace`.execute(database.db);
    const parts: string[] = [];
    for (const { name } of tables.rows) {
      const found = await sql<{ row: string }>`select t::text as row from ${sql.table(name)} t`.execute(
        database.db,
      );
      parts.push(...found.rows.map((one) => one.row));
    }
    return parts.join('\n');
  };
  const inJournal = () =>
    readdirSync(folder)
      .map((name) => readFileSync(join(folder, name), 'utf8'))
      .join('\n');
  const erase = (name = NAME) => eraseWearer(world.shell, SHOP, wearerId, name, 'Owner');

  test('what is taken out has their name, addresses, words and facts, and nothing of anybody else; the log says so', async () => {
    const all = (await exportWearer(world.shell, SHOP, wearerId, 'Owner'))!;
    const json = JSON.stringify(all);
    for (const one of [NAME, PHONE, EMAIL, WORDS, '17.123']) expect(json).toContain(one);
    expect(json).not.toContain('Someone Else');
    expect(Object.keys(all.records)).toEqual(
      expect.arrayContaining([
        'wearer',
        'job',
        'pair',
        'fact',
        'message',
        'attempt',
        'inbound',
        'consent_event',
        'case_file',
      ]),
    );
    const text = readableExport(all);
    expect(text).toContain(`name: ${NAME}`);
    expect(text).toContain(`body: ${WORDS}`);
    expect(await everything()).toContain('wearer exported');
  });

  test('erased, nothing of them is found in any table nor in the journal; other wearers keep theirs', async () => {
    const before = await everything();
    for (const one of [NAME, PHONE, EMAIL, WORDS, '17.123']) expect(before, one).toContain(one);
    expect(inJournal()).toContain(WORDS);
    const done = await erase();
    expect(done.ok && done.value.rows).toBeGreaterThan(10);
    const after = await everything();
    for (const one of [NAME, 'Unusualname', PHONE, PHONE.slice(2), EMAIL, 'zebracrossing', '17.123'])
      expect(after, one).not.toContain(one);
    expect(inJournal()).not.toContain('zebracrossing');
    expect(after).toContain('Someone Else');
  });

  test('the pair still counts with its design and days', async () => {
    await erase();
    const pairs = await database.inShop(SHOP).selectFrom('pair').select('first_worn_on').execute();
    expect(pairs.length).toBe(2);
    const jobs = await database
      .inShop(SHOP)
      .selectFrom('job')
      .select('design_id')
      .where('job_key', '=', 'Q-1')
      .execute();
    expect(jobs.length).toBe(1);
  });

  test('the journal, the carrier’s list and the same file bring nothing back', async () => {
    const farId = (
      await database.inShop(SHOP).selectFrom('inbound').select('far_id').executeTakeFirstOrThrow()
    ).far_id;
    await erase();
    await replayJournal(world.shell);
    const again = {
      shopId: SHOP,
      channel: 'text' as const,
      farId,
      from: PHONE,
      to: null,
      body: WORDS,
      raw: null,
    };
    world.shell.journal.append({ ...again, receivedAt: '2026-03-12T20:00:00Z' });
    expect(await replayJournal(world.shell)).toBe(0);
    expect(await everything()).not.toContain('zebracrossing');
  });

  test('in another file they are taken in, and not messaged: their stop stands', async () => {
    await erase();
    await world.job({ name: NAME, phone: PHONE, email: EMAIL, number: 'Q-2', handedOverOn: '2026-03-12' });
    const contacts = await database
      .inShop(SHOP)
      .selectFrom('wearer_contact')
      .innerJoin('contact_point', 'contact_point.contact_id', 'wearer_contact.contact_id')
      .select(['address', 'consent'])
      .where('address', 'in', [PHONE, EMAIL])
      .orderBy('address')
      .execute();
    expect(contacts).toEqual([
      { address: PHONE, consent: 'withdrawn' },
      { address: EMAIL, consent: 'withdrawn' },
    ]);
    await world.playTo('2026-04-20T20:00:00Z');
    expect(await world.sent(PHONE)).toEqual([]);
  });

  test('a name that is not typed out as it stands erases nothing', async () => {
    const done = await erase('Quilla');
    expect(done.ok).toBe(false);
    expect(await everything()).toContain(PHONE);
  });

  test('a couple’s shared number stays with the other, who goes on being asked', async () => {
    const other = await world.job({
      name: 'Partner Example',
      phone: PHONE,
      number: 'Q-3',
      handedOverOn: '2026-03-12',
    });
    await erase();
    const left = await database
      .inShop(SHOP)
      .selectFrom('wearer_contact')
      .select(['wearer_id', 'consent'])
      .where('channel', '=', 'text')
      .where('wearer_id', '=', other.wearerId)
      .execute();
    expect(left).toEqual([{ wearer_id: other.wearerId, consent: 'given' }]);
    const after = await everything();
    expect(after).toContain(PHONE);
    expect(after).not.toContain(EMAIL);
    expect(after).not.toContain(NAME);
  });

  test('every table carries an id by which it is erased, or is named here as one that tells nothing of wearers', async () => {
    const found = await sql<{ name: string }>`select relname as name from pg_class
      where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace`.execute(database.db);
    const erased = new Set((await tablesOfWearers(database.db)).map((table) => table.name));
    expect(erased.size).toBeGreaterThan(25);
    for (const { name } of found.rows) {
      if (!erased.has(name)) expect(OF_NO_WEARER, name).toContain(name);
    }
  });
});
