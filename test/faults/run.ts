import { randomBytes } from 'node:crypto';
import { migrate, openServer } from '../../src/store/database.ts';
import { named, withServer } from '../setup/global.ts';
import { startPostgres } from '../setup/postgres.ts';
import type { FaultTold, FaultWorld } from './suite.ts';
import { FAULT_SUITES } from './suites.ts';

/*
 * `npm run faults [name …]`: plays every suite whole and prints what it counted. FAULT_SEED replays a run; TEST_DATABASE_URL
 * names a server that may be written to; FAULT_SIZE=short plays the piece that `npm test` plays. Exit code 1 when a promise was broken.
 */
const seed = Number(process.env.FAULT_SEED ?? 20261125);
const size = process.env.FAULT_SIZE === 'short' ? 'short' : 'whole';
const wanted = process.argv.slice(2);
const given = process.env.TEST_DATABASE_URL;
const server = given ? undefined : await startPostgres();
const base = given ?? server!.url('postgres');
const template = `faults_${randomBytes(6).toString('hex')}`;

const world: FaultWorld = {
  seed,
  async database() {
    const name = `fault_${randomBytes(6).toString('hex')}`;
    await withServer(base, (client) => client.query(`create database ${name} template ${template}`));
    return {
      url: named(base, name),
      drop: async () => {
        await withServer(base, (client) => client.query(`drop database if exists ${name} with (force)`));
      },
    };
  },
};

const table = ({ figures, broken }: FaultTold): string =>
  [
    ...Object.entries(figures).map(([what, figure]) => `  ${what.padEnd(58)} ${String(figure).padStart(9)}`),
    `  ${'promises broken'.padEnd(58)} ${String(broken.length).padStart(9)}`,
    ...broken.slice(0, 20).map((line) => `    BROKEN ${line}`),
  ].join('\n');

let worst = 0;
try {
  await withServer(base, (client) => client.query(`create database ${template}`));
  const opened = openServer(named(base, template));
  await migrate(opened.db);
  await opened.close();
  for (const suite of FAULT_SUITES) {
    if (wanted.length > 0 && !wanted.includes(suite.name)) continue;
    process.stdout.write(`${suite.name} (seed ${seed})\n  ${suite.says}\n`);
    const told = await suite.run(world, size);
    process.stdout.write(`${table(told)}\n\n`);
    if (told.broken.length > 0) worst = 1;
  }
} finally {
  await withServer(base, (client) => client.query(`drop database if exists ${template} with (force)`));
  server?.stop();
}
process.exitCode = worst;
