import type { TestProject } from 'vitest/node';
import { migrate, openServer } from '../../src/store/database.ts';
import { startPostgres } from './postgres.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    postgresUrl: string;
  }
}

/** One server for the whole run; a migrated template that each test file clones. `TEST_DATABASE_URL` names another server. */
export default async function setup(project: TestProject): Promise<() => void> {
  const given = process.env.TEST_DATABASE_URL;
  const server = given ? undefined : await startPostgres();
  const base = given ?? server!.url('postgres');
  await withServer(base, async (db) => {
    await db.query('drop database if exists afterfit_template');
    await db.query('create database afterfit_template');
  });
  const template = openServer(named(base, 'afterfit_template'));
  await migrate(template.db);
  await template.close();
  project.provide('postgresUrl', base);
  return () => server?.stop();
}

export function named(url: string, database: string): string {
  const parsed = new URL(url);
  parsed.pathname = `/${database}`;
  return parsed.toString();
}

export async function withServer<T>(
  url: string,
  work: (client: { query(sql: string): Promise<unknown> }) => Promise<T>,
): Promise<T> {
  const pg = (await import('pg')).default;
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}
