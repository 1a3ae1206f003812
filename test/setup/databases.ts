import { randomBytes } from 'node:crypto';
import { inject } from 'vitest';
import { type Database, migrate, openEmbedded, openServer } from '../../src/store/database.ts';
import { named, withServer } from './global.ts';

/** The two databases that every store test runs on. */
export const DATABASES = ['embedded', 'server'] as const;

/** A fresh, migrated database of a kind: in memory, or cloned from the template on the test server. */
export async function freshDatabase(kind: (typeof DATABASES)[number]): Promise<Database> {
  if (kind === 'embedded') {
    const database = await openEmbedded();
    await migrate(database.db);
    return database;
  }
  const base = inject('postgresUrl');
  const name = `t_${randomBytes(6).toString('hex')}`;
  await withServer(base, (client) => client.query(`create database ${name} template afterfit_template`));
  const opened = openServer(named(base, name));
  return {
    ...opened,
    async close() {
      await opened.close();
      await withServer(base, (client) => client.query(`drop database if exists ${name} with (force)`));
    },
  };
}
