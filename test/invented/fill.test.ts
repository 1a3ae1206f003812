import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { reservedEmail } from '../../src/intake/emailAddress.ts';
import { reservedForFiction } from '../../src/intake/phone.ts';
import { fillInventedShop } from '../../src/invented/fill.ts';
import { seeded } from '../../src/invented/seeded.ts';
import { inventedWearers } from '../../src/invented/wearers.ts';
import { type Log, silentLog } from '../../src/log.ts';
import { type Database, migrate, openEmbedded } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';

/* The invented shop is played through the real use cases; these hold that every page of it has something honest to show. */

const NOW = new Date('2026-06-10T16:00:00Z');

describe('the invented shop', () => {
  let database: Database;
  const refused: unknown[] = [];
  const log: Log = {
    ...silentLog,
    warn: (detail: unknown) => refused.push(detail),
    error: (detail: unknown) => refused.push(detail),
  } as never;
  const told: { words: string; done: number; of: number }[] = [];
  const rows = async <Row>(query: string): Promise<Row[]> =>
    (await sql.raw<Row>(query).execute(database.db)).rows;
  const count = async (query: string): Promise<number> =>
    (await rows<{ n: number }>(`select count(*) as n from ${query}`))[0]!.n;

  beforeAll(async () => {
    database = await openEmbedded();
    await migrate(database.db);
    await fillInventedShop(
      { database, journal: noJournal },
      log,
      (words, done, of) => {
        told.push({ words, done, of });
      },
      NOW,
    );
  }, 120_000);
  afterAll(() => database?.close());

  test('sixty wearers by the seed, twice the same', () => {
    const once = inventedWearers(seeded(1));
    expect(once).toHaveLength(60);
    expect(inventedWearers(seeded(1))).toEqual(once);
    expect(inventedWearers(seeded(2))).not.toEqual(once);
    expect(new Set(once.map(({ name }) => name)).size).toBe(60);
  });

  test('every step of every story is one that the use cases take', () => {
    expect(refused).toEqual([]);
  });

  test('ten weeks, counter and post: the first pair left 70 days ago, the last this week', async () => {
    const [span] = await rows<{ first: string; last: string; ways: string }>(
      `select min(p.handed_over_on)::text as first, max(p.handed_over_on)::text as last,
        string_agg(distinct j.way, ' ' order by j.way) as ways
      from pair p join job j using (shop_id, job_id) where j.job_key like 'L-%'`,
    );
    expect(span).toEqual({ first: '2026-04-01', last: '2026-06-07', ways: 'counter post' });
  });

  test('nobody is real: every number is reserved for fiction, every address stands at a reserved domain', async () => {
    const addresses = await rows<{ channel: string; address: string }>(
      `select channel, address from contact_point
      union select 'text', phone_e164 from person where phone_e164 is not null
      union select 'email', email from person where email is not null`,
    );
    expect(addresses.length).toBeGreaterThan(60);
    const real = addresses.filter(({ channel, address }) =>
      channel === 'text' ? !reservedForFiction(address) : !reservedEmail(address),
    );
    expect(real).toEqual([]);
    const [shop] = await rows<{ name: string; kind: string }>('select name, kind from shop');
    expect(shop).toEqual({ name: 'Lantern Street Opticians (invented)', kind: 'invented' });
  });

  test('the bench has one danger of the last half hour on top, and eight cases or more', async () => {
    const standing = await rows<{ danger: boolean; name: string }>(
      'select f.danger, w.name from case_file f join wearer w using (shop_id, wearer_id) where f.closed_at is null',
    );
    expect(standing.filter(({ danger }) => danger)).toEqual([{ danger: true, name: 'Ruth Calder' }]);
    expect(standing.length).toBeGreaterThanOrEqual(8);
    expect(await count("alarm where kind = 'danger' and ended_at is null")).toBe(1);
  });

  test('the tray has a stranger, a number of two, and words that nobody has accounted for', async () => {
    const lying = await rows<{ why: string }>(
      "select tray_why as why from inbound_standing where state = 'tray'",
    );
    expect(new Set(lying.map(({ why }) => why)).size).toBeGreaterThanOrEqual(2);
  });

  test('designs: two with twenty ripe pairs or more, others with too few', async () => {
    const ripe = await rows<{ name: string; n: number }>(
      `select d.name, count(*) filter (where p.handed_over_on <= '2026-06-10'::date - 60) as n
      from pair p join job j using (shop_id, job_id) join lens_design d using (shop_id, design_id) group by d.name`,
    );
    expect(
      ripe
        .filter(({ n }) => n >= 20)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['short 11', 'soft 15']);
    expect(ripe.filter(({ n }) => n > 0 && n < 20).length).toBeGreaterThanOrEqual(1);
  });

  test('claims on the lab at each step, papers signed, a pair held back, people with and without a licence', async () => {
    const claims = await rows<{ state: string }>('select distinct state from claim_on_lab order by state');
    expect(claims.map(({ state }) => state)).toEqual(['asked', 'credited', 'promised']);
    expect(await count("signature s join paper p using (shop_id, paper_id) where p.kind = 'remake'")).toBe(2);
    expect(
      await count("signature s join paper p using (shop_id, paper_id) where p.kind = 'prescriber'"),
    ).toBe(1);
    expect(await count("bench_hold_event where kind = 'held'")).toBe(1);
    expect(await count("person where licensed_until > '2026-06-10'")).toBe(2);
    expect(await count("person where licensed_until < '2026-06-10'")).toBe(1);
    expect(await count('person where licence_number is null')).toBe(1);
  });

  test('no message went out in the night of its wearer, and none twice', async () => {
    const hours = await rows<{ hour: number }>(
      `select distinct extract(hour from i.at at time zone w.zone_candidates[1])::int as hour
      from rehearsal_item i join attempt a using (shop_id, attempt_id) join message m using (shop_id, message_id)
      join wearer w using (shop_id, wearer_id) where m.unasked`,
    );
    expect(Math.min(...hours.map(({ hour }) => hour))).toBeGreaterThanOrEqual(9);
    expect(Math.max(...hours.map(({ hour }) => hour))).toBeLessThan(19);
    expect(
      await count(
        '(select check_in_id from message where check_in_id is not null group by 1 having count(*) > 1) x',
      ),
    ).toBe(0);
  });

  test('each week that is played is told once, with how far it is', () => {
    expect(told[0]!.words).toBe('Playing the invented shop: 11 weeks ago…');
    expect(told.at(-1)).toMatchObject({ words: 'The invented shop is filled.', done: told.at(-1)!.of });
    expect(new Set(told.map(({ words }) => words)).size).toBe(told.length);
    expect(told.map(({ done }) => done)).toEqual([...told.map(({ done }) => done)].sort((a, b) => a - b));
  });

  test('a filled shop is left as it is', async () => {
    const before = await count('message');
    await fillInventedShop(
      { database, journal: noJournal },
      silentLog,
      () => {},
      new Date('2026-06-11T16:00:00Z'),
    );
    expect(await count('message')).toBe(before);
  });
});
