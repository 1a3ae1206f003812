import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { raiseShopWalls, TABLES_WITHOUT_SHOP, WORKING_ROLE } from '../../migrations/shopWalls.ts';
import { type Database, migrate, openServer } from '../../src/store/database.ts';
import { accountsOfAddress, allShopIds, shopOfSecret, shopsOfSender } from '../../src/store/shopDoors.ts';
import { openShop } from '../../src/store/shops.ts';
import { checkWall } from '../../src/store/shopWall.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { named, withServer } from '../setup/global.ts';

/* The walls between shops are the database's own: every query here leaves the shop out on purpose. */

const AT = new Date('2026-03-02T15:00:00Z');

async function twoShops(database: Database): Promise<void> {
  for (const shopId of ['left', 'right']) {
    await openShop(
      database.inShop(shopId),
      {
        shopId,
        name: `Shop ${shopId}`,
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: {},
        owner: { name: `Owner ${shopId}`, email: `owner@${shopId}.example` },
      },
      AT,
    );
    await database
      .inShop(shopId)
      .insertInto('contact_point')
      .values({
        shop_id: shopId,
        contact_id: `c-${shopId}`,
        channel: 'text',
        address: '+12025550101',
        unusable_why: null,
        created_at: AT,
      })
      .execute();
  }
}

describe.each(DATABASES)('walls between shops on the %s database', (kind) => {
  let database: Database;
  beforeAll(async () => {
    database = await freshDatabase(kind);
    await twoShops(database);
  });
  afterAll(() => database.close());

  test('a query without a shop in it finds the rows of the handle’s shop only, outside and inside a transaction', async () => {
    const names = (await database.inShop('left').selectFrom('person').select('name').execute()).map(
      (r) => r.name,
    );
    expect(names).toEqual(['Owner left']);
    const inside = await database
      .inShop('right')
      .transaction()
      .execute((trx) => trx.selectFrom('person').select('name').execute());
    expect(inside.map((row) => row.name)).toEqual(['Owner right']);
  });

  test('asked for another shop by name, the database answers with nothing', async () => {
    const found = await database
      .inShop('left')
      .selectFrom('person')
      .selectAll()
      .where('shop_id', '=', 'right')
      .execute();
    expect(found).toEqual([]);
  });

  test('a change without a shop in it stays within the walls', async () => {
    const changed = await database
      .inShop('left')
      .updateTable('contact_point')
      .set({ unusable_why: 'x' })
      .execute();
    expect(changed[0]?.numUpdatedRows).toBe(1n);
    const right = await database.inShop('right').selectFrom('contact_point').select('unusable_why').execute();
    expect(right).toEqual([{ unusable_why: null }]);
    const removed = await database
      .inShop('left')
      .deleteFrom('contact_point')
      .where('contact_id', '=', 'c-right')
      .execute();
    expect(removed[0]?.numDeletedRows).toBe(0n);
  });

  test('a row cannot be put into another shop, nor moved there', async () => {
    const row = {
      contact_id: 'c-2',
      channel: 'text' as const,
      address: '+12025550102',
      unusable_why: null,
      created_at: AT,
    };
    const left = database.inShop('left');
    await expect(
      left
        .insertInto('contact_point')
        .values({ ...row, shop_id: 'right' })
        .execute(),
    ).rejects.toThrow(/row-level security/);
    await expect(left.updateTable('contact_point').set({ shop_id: 'right' }).execute()).rejects.toThrow(
      /row-level security/,
    );
  });

  test('without a shop there are the doors, and they give ids only', async () => {
    expect(await database.outside.selectFrom('shop').selectAll().execute()).toEqual([]);
    expect(await database.outside.selectFrom('person').selectAll().execute()).toEqual([]);
    expect(await allShopIds(database.outside)).toEqual(['left', 'right']);
    expect(await shopsOfSender(database.outside, 'text', '+12025550101')).toEqual(['left', 'right']);
    expect(await shopsOfSender(database.outside, 'text', '+12025550199')).toEqual([]);
    await database
      .inShop('right')
      .insertInto('api_token')
      .values({
        shop_id: 'right',
        token_id: 't',
        token_hash: 'hash of a secret',
        name: 'a program',
        scopes: ['import'],
        made_by: 'Owner right',
        made_at: AT,
        used_at: null,
        ended_at: null,
      })
      .execute();
    expect(await shopOfSecret(database.outside, 'hash of a secret')).toBe('right');
    expect(await shopOfSecret(database.outside, 'hash of another')).toBeUndefined();
    const accounts = await accountsOfAddress(database.outside, 'OWNER@right.example');
    expect(accounts.map((row) => [Object.keys(row), row.shop_id])).toEqual([
      [['shop_id', 'person_id'], 'right'],
    ]);
  });

  test('nothing of a shop is left on a connection for whoever has it next', async () => {
    await database.inShop('left').selectFrom('person').select('name').execute();
    await database
      .inShop('left')
      .transaction()
      .execute((trx) => trx.selectFrom('person').select('name').execute());
    for (let round = 0; round < 12; round += 1) {
      expect(await database.outside.selectFrom('person').selectAll().execute()).toEqual([]);
    }
  });

  test('an error inside a transaction leaves the next one its own walls', async () => {
    const left = database.inShop('left');
    await expect(left.transaction().execute((trx) => sql`select 1 / 0`.execute(trx))).rejects.toThrow(/zero/);
    await expect(sql`select 1 / 0`.execute(left)).rejects.toThrow(/zero/);
    expect(await left.selectFrom('person').select('shop_id').execute()).toEqual([{ shop_id: 'left' }]);
    expect(await database.inShop('right').selectFrom('person').select('shop_id').execute()).toEqual([
      { shop_id: 'right' },
    ]);
  });

  test('the working role is no superuser, passes no policy, owns nothing and cannot see what is not a shop’s', async () => {
    await checkWall(database.outside);
    await expect(checkWall(database.db)).rejects.toThrow(/every shop/);
    const role = await sql<{ passes: boolean; signs_in: boolean; owns: number }>`
      select rolsuper or rolbypassrls or rolcreaterole or rolcreatedb as passes, rolcanlogin as signs_in,
        (select count(*) from pg_class where relowner = r.oid) as owns
      from pg_roles r where rolname = ${WORKING_ROLE}`.execute(database.db);
    expect(role.rows).toEqual([{ passes: false, signs_in: false, owns: 0 }]);
    for (const table of TABLES_WITHOUT_SHOP) {
      await expect(sql`select * from ${sql.table(table)}`.execute(database.inShop('left'))).rejects.toThrow(
        /permission denied/,
      );
    }
  });

  test('every table of the catalogue has row security, forced, with the wall; those without a shop are named', async () => {
    const found = await sql<{ name: string; secured: boolean; walls: string[]; shop: boolean }>`
      select c.relname as name, c.relrowsecurity and c.relforcerowsecurity as secured,
        array(select p.polname::text from pg_policy p where p.polrelid = c.oid order by 1) as walls,
        exists (select from pg_attribute a where a.attrelid = c.oid and a.attname = 'shop_id' and not attisdropped) as shop
      from pg_class c where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace`.execute(
      database.db,
    );
    expect(found.rows.length).toBeGreaterThan(35);
    for (const table of found.rows) {
      expect(table.secured, table.name).toBe(true);
      if (table.shop) expect(table.walls, table.name).toEqual(['owner_maintains', 'shop_wall']);
      else expect(TABLES_WITHOUT_SHOP, table.name).toContain(table.name);
    }
  });

  test('a new table is shut to the working role until the walls are raised, then stands behind them', async () => {
    await sql`create table pantry (shop_id text not null, jar text)`.execute(database.db);
    await sql`insert into pantry values ('left', 'a'), ('right', 'b')`.execute(database.db);
    const ask = () => sql<{ jar: string }>`select jar from pantry`.execute(database.inShop('left'));
    await expect(ask()).rejects.toThrow(/permission denied/);
    await migrate(database.db);
    expect((await ask()).rows).toEqual([{ jar: 'a' }]);
    await sql`drop table pantry`.execute(database.db);
  });
});

describe('a server whose owner is an ordinary user', () => {
  const owner = 'walls_owner';
  const base = () => inject('postgresUrl');
  const as = (user: string, database: string) => {
    const url = new URL(named(base(), database));
    url.username = user;
    url.password = 'secret';
    return url.toString();
  };
  const open = async (name: string, rights: string): Promise<Database> => {
    await withServer(base(), async (client) => {
      await client.query(`drop database if exists ${name} with (force)`);
      await client.query(`drop role if exists ${owner}`);
      await client.query(`create role ${owner} login password 'secret' ${rights}`);
      await client.query(`create database ${name} owner ${owner}`);
    });
    return openServer(as(owner, name));
  };
  const drop = async (database: Database, name: string) => {
    await database.close();
    await withServer(base(), async (client) => {
      await client.query(`drop database if exists ${name} with (force)`);
      await client.query(`drop role if exists walls_other`);
      await client.query(`drop role if exists ${owner}`);
    });
  };

  test('the owner is behind the walls too until it says that it maintains; doors and references go on working', async () => {
    const database = await open('walls_plain', 'createrole');
    try {
      await withServer(base(), (client) =>
        client.query(`grant ${WORKING_ROLE} to ${owner} with admin option`),
      );
      await migrate(database.db);
      await twoShops(database);
      await checkWall(database.outside);
      expect(await allShopIds(database.outside)).toEqual(['left', 'right']);
      expect((await database.db.selectFrom('person').selectAll().execute()).length).toBe(2);
      await withServer(as(owner, 'walls_plain'), async (client) => {
        const found = (await client.query('select * from person')) as { rows: unknown[] };
        expect(found.rows).toEqual([]);
      });
    } finally {
      await drop(database, 'walls_plain');
    }
  });

  test('where a role may not be made, the words say what to ask the administrator for; once it is there it is used', async () => {
    const database = await open('walls_strict', '');
    try {
      await expect(migrate(database.db, 'walls_other')).rejects.toThrow(
        /Ask its administrator for: create role walls_other nologin; grant walls_other to/,
      );
      await withServer(base(), async (client) => {
        await client.query('create role walls_other nologin bypassrls');
        await client.query(`grant walls_other to ${owner}`);
      });
      await expect(raiseShopWalls(database.db as never, 'walls_other')).rejects.toThrow(/let past the walls/);
      await withServer(base(), (client) => client.query('alter role walls_other nobypassrls'));
      await migrate(database.db, 'walls_other');
      const given = openServer(as(owner, 'walls_strict'), undefined, { role: 'walls_other' });
      await twoShops(given);
      expect(await given.inShop('left').selectFrom('shop').select('shop_id').execute()).toEqual([
        { shop_id: 'left' },
      ]);
      await given.close();
    } finally {
      await drop(database, 'walls_strict');
    }
  });
});
