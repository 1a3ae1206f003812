import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { type Database, openEmbedded, openServer } from '../../src/store/database.ts';
import { checkDump, loadDump } from '../../src/store/dump.ts';
import { isSealed, linesOfDump, sealFile, writeDumpFile } from '../../src/store/dumpFile.ts';
import { checkWall } from '../../src/store/shopWall.ts';
import { openWorld, SHOP } from '../followup/world.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { named, withServer } from '../setup/global.ts';

/* A backup is what can be put back: every test here puts it back, from either database into the other. */

const AT = new Date('2026-03-02T15:00:00Z');
const PASSPHRASE = 'four plain garden words';

describe.each(DATABASES)('a copy of the %s database', (kind) => {
  let database: Database;
  let folder: string;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'afterfit-dump-'));
    database = await freshDatabase(kind);
    const world = await openWorld(database);
    for (let count = 0; count < 3; count += 1) await world.job({ name: `Zoë “Wearer” ${count}\nnew line` });
    const { phone } = await world.job();
    await world.playTo('2026-03-04T20:00:00Z');
    await world.says(phone, 'The edges swim, and stairs are odd 😀');
    await world.playTo('2026-03-05T20:00:00Z');
    // What JSON could spoil: bytes, an instant finer than a millisecond, a number with many places.
    await sql`insert into picture (shop_id, picture_id, inbound_id, number, state, bytes, at)
      select shop_id, 'p', inbound_id, 1, 'kept', decode('00ff10805c', 'hex'), '2026-03-02 15:00:00.123457+00'
      from inbound limit 1`.execute(database.db);
  });
  afterAll(async () => {
    await database.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const other = kind === 'embedded' ? 'server' : 'embedded';
  /** An empty database of a kind, without any table. */
  const empty = async (of: typeof kind): Promise<Database> => {
    if (of === 'embedded') return openEmbedded();
    const name = `empty_${kind}_${Math.trunc(performance.now() * 1000)}`;
    await withServer(inject('postgresUrl'), (client) => client.query(`create database ${name}`));
    return openServer(named(inject('postgresUrl'), name));
  };

  test(`sealed, put back into the ${other} database it has the same rows, byte for byte, behind the same walls`, async () => {
    const file = join(folder, 'sealed');
    const told = await writeDumpFile(database.db, file, { at: AT, kind: 'own', passphrase: PASSPHRASE });
    expect(told.get('wearer')?.rows).toBe(4);
    expect(told.get('inbound')?.rows).toBe(1);
    expect([...told.values()].filter((tally) => tally.rows > 0).length).toBeGreaterThan(10);
    const target = await empty(other);
    const loaded = await loadDump(target.db, linesOfDump(file, PASSPHRASE));
    expect(loaded.tallies).toEqual(told);
    const names = (db: Database) =>
      db.inShop(SHOP).selectFrom('wearer').select(['wearer_id', 'name']).orderBy('wearer_id').execute();
    expect(await names(target)).toEqual(await names(database));
    const picture = await sql<{ hex: string; at: string }>`
      select encode(bytes, 'hex') as hex, (at at time zone 'UTC')::text as at from picture`.execute(
      target.db,
    );
    expect(picture.rows).toEqual([{ hex: '00ff10805c', at: '2026-03-02 15:00:00.123457' }]);
    await checkWall(target.outside);
    await target.close();
  });

  test('nothing of it can be read without the passphrase, and the wrong one is refused', async () => {
    const file = join(folder, 'secret');
    await writeDumpFile(database.db, file, { at: AT, kind: 'own', passphrase: PASSPHRASE });
    expect(isSealed(file)).toBe(true);
    expect(readFileSync(file).includes('Wearer')).toBe(false);
    const target = await openEmbedded();
    await expect(loadDump(target.db, linesOfDump(file, `${PASSPHRASE}!`))).rejects.toThrow(/passphrase/);
    await target.close();
  });

  test('a byte changed, an end cut off or a row taken out is found, and nothing is put back', async () => {
    const open = join(folder, 'open.gz');
    await writeDumpFile(database.db, open, { at: AT, kind: 'own' });
    const sealed = join(folder, 'whole');
    await sealFile(open, sealed, PASSPHRASE);
    const bytes = readFileSync(sealed);
    const target = await openEmbedded();
    const refused = async (changed: Buffer) => {
      writeFileSync(join(folder, 'changed'), changed);
      await expect(loadDump(target.db, linesOfDump(join(folder, 'changed'), PASSPHRASE))).rejects.toThrow(
        /cut off/,
      );
    };
    const flipped = Buffer.from(bytes);
    flipped[bytes.length >> 1]! ^= 1;
    await refused(flipped);
    await refused(bytes.subarray(0, -40));
    const lines: string[] = [];
    for await (const line of linesOfDump(open, undefined)) lines.push(line);
    const without = async function* () {
      yield* lines.filter((line) => !line.includes('"name": "Zoë “Wearer” 1'));
    };
    await expect(loadDump(target.db, without())).rejects.toThrow(/damaged in the table wearer/);
    expect(await target.db.selectFrom('wearer').selectAll().execute()).toEqual([]);
    await expect(checkDump(without())).rejects.toThrow(/damaged in the table wearer/);
    await target.close();
  });

  test('a database that is not empty is refused and left as it is', async () => {
    const file = join(folder, 'again.gz');
    const told = await writeDumpFile(database.db, file, { at: AT, kind: 'own' });
    await expect(loadDump(database.db, linesOfDump(file, undefined))).rejects.toThrow(/not empty/);
    expect(await writeDumpFile(database.db, join(folder, 'after.gz'), { at: AT, kind: 'own' })).toEqual(told);
  });

  test('a copy of a newer program is refused by name', async () => {
    const newer = async function* () {
      yield JSON.stringify({ 'afterfit dump': 1, at: '', kind: 'own', migrations: ['9999_not_yet'] });
    };
    await expect(loadDump(database.db, newer())).rejects.toThrow(/newer Afterfit \(9999_not_yet\)/);
  });

  if (kind === 'server') {
    test('while a copy is written others go on, and it holds one moment’s state', async () => {
      const rows = async () => {
        const found = await database.db
          .selectFrom('audit')
          .select((eb) => eb.fn.countAll<number>().as('rows'))
          .executeTakeFirstOrThrow();
        return found.rows;
      };
      const before = await rows();
      const trx = writeDumpFile(database.db, join(folder, 'busy.gz'), { at: AT, kind: 'own' });
      const busy = (async () => {
        for (let count = 0; count < 50; count += 1) {
          await sql`insert into audit values (${SHOP}, ${`busy-${count}`}, 'x', 'x', 'x', '{}', now())`.execute(
            database.inShop(SHOP),
          );
          await sql`insert into shop_tick values (${SHOP}, ${`busy-${count}`}, now(), 'x', 'x')`.execute(
            database.inShop(SHOP),
          );
        }
      })();
      const [told] = await Promise.all([trx, busy]);
      const audits = told.get('audit')!.rows - before;
      const ticks = told.get('shop_tick')!.rows;
      // Each round writes an audit first: in any one moment there are as many ticks, or one less.
      expect([audits, audits - 1]).toContain(ticks);
      expect(await rows()).toBe(before + 50);
    });
  }
});
