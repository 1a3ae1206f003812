import { copyFileSync, existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { openEmbedded } from '../../src/store/database.ts';
import { newFolder, type Running, runAfterfit, startAfterfit } from '../setup/process.ts';

const JOBS = `job number,name,phone,email,consent,handed over on,lens design,first multifocal
B-1,Ada Example,+1 202-555-0150,,text,2026-03-02,soft 15,yes
B-2,Ben Example,+1 202-555-0151,,text,2026-03-02,soft 15,yes
`;

describe('afterfit backup and restore', () => {
  let place: string;
  let secret: string[];
  let server: Running;
  beforeAll(async () => {
    place = newFolder();
    writeFileSync(join(place, 'words'), 'four plain garden words\n');
    writeFileSync(join(place, 'jobs.csv'), JOBS);
    secret = ['--passphrase-file', join(place, 'words')];
    server = await startAfterfit(['--own']);
    await runAfterfit(['import', join(place, 'jobs.csv')], { folder: server.folder });
  }, 300_000);

  test('with the server running the copy is made by it, sealed, opened again', async () => {
    const ran = await runAfterfit(['backup', join(place, 'running'), ...secret], { folder: server.folder });
    expect(ran.err).toContain('it makes the copy');
    expect(ran.out).toMatch(/opened again and compared: \d+ tables, \d+ rows/);
    expect(ran.code).toBe(0);
  });

  test('the first tick of a shop has put an hourly copy beside the database', () => {
    const copies = readdirSync(join(server.folder, 'own', 'copies'));
    expect(copies.filter((name) => /^copy-.*\.gz$/.test(name)).length).toBeGreaterThan(0);
    expect(copies.filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('put back into an empty folder, the same jobs are here; a folder that is not empty is refused', async () => {
    const fresh = newFolder();
    const put = await runAfterfit(['restore', join(place, 'running'), ...secret], { folder: fresh });
    expect(`${put.out}${put.err}`).toContain('compared');
    expect(put.code).toBe(0);
    const again = await runAfterfit(['restore', join(place, 'running'), ...secret], { folder: fresh });
    expect(again.err).toMatch(/is not empty.*Nothing was changed/s);
    expect(again.code).toBe(1);
    const known = await runAfterfit(['import', join(place, 'jobs.csv')], { folder: fresh });
    expect(known.out).toContain('0 taken in, 2 already here unchanged');
  });

  test('an hourly copy is put back without a passphrase', async () => {
    const copies = join(server.folder, 'own', 'copies');
    const newest = readdirSync(copies)
      .filter((name) => name.endsWith('.gz'))
      .sort()
      .at(-1)!;
    copyFileSync(join(copies, newest), join(place, newest));
    const fresh = newFolder();
    const put = await runAfterfit(['restore', join(place, newest)], { folder: fresh });
    expect(put.code).toBe(0);
    expect(existsSync(join(fresh, 'own', 'database', 'PG_VERSION'))).toBe(true);
  });

  test('a wrong passphrase, no passphrase and a file that is there are told in a line, and nothing is left', async () => {
    writeFileSync(join(place, 'other'), 'not these words at all\n');
    const fresh = newFolder();
    const wrong = await runAfterfit(
      ['restore', join(place, 'running'), '--passphrase-file', join(place, 'other')],
      { folder: fresh },
    );
    expect(wrong.err).toMatch(/passphrase does not open it/);
    expect(readdirSync(fresh)).toEqual([]);
    const none = await runAfterfit(['backup', join(place, 'more')], { folder: server.folder });
    expect(none.err).toContain('AFTERFIT_BACKUP_PASSPHRASE');
    const there = await runAfterfit(['backup', join(place, 'running'), ...secret], { folder: server.folder });
    expect(there.err).toContain('is there already');
    const nowhere = await runAfterfit(['backup', join(place, 'no', 'such'), ...secret], {
      folder: server.folder,
    });
    expect(nowhere.err).toMatch(/could not be written/);
    mkdirSync(join(place, 'no'));
    expect(existsSync(join(place, 'no', 'such'))).toBe(false);
    expect([wrong.code, none.code, there.code, nowhere.code]).toEqual([1, 1, 1, 1]);
  });

  test('a backup that was proven is on record, as one of the ticks before going live', async () => {
    await server.stop();
    const database = await openEmbedded(join(server.folder, 'own', 'database'));
    const ticks = await database.inShop('own').selectFrom('shop_tick').select(['tick', 'detail']).execute();
    await database.close();
    expect(ticks).toEqual([
      { tick: 'backup tried', detail: expect.stringMatching(/^\d+ rows came back whole$/) },
    ]);
  });
});
