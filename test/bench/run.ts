import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { startPostgres } from '../setup/postgres.ts';
import { benchCarrierSdk } from './carrierSdk.ts';
import { benchDueCheckIns } from './dueCheckIns.ts';
import { embeddedGround, type Ground, serverGround } from './ground.ts';
import { benchImporting } from './importing.ts';
import { benchLensDesigns } from './lensDesigns.ts';
import { benchManyShops } from './manyShops.ts';
import { benchPages } from './pages.ts';
import { benchRanking } from './ranking.ts';
import { benchReplies } from './replies.ts';
import { type BenchRow, judge, tableOf } from './row.ts';
import { benchSorting } from './sorting.ts';
import { benchStarting } from './starting.ts';

/**
 * `npm run bench [-- NAME…] [--json FILE]`: every performance figure of this project, each beside what it is compared with in
 * the same run. Without names all of them.
 */
type Bench = {
  readonly name: string;
  /** Databases that it is taken on; none: it needs no database. */
  readonly on: readonly ('server' | 'embedded')[];
  run(ground: Ground | undefined, base: string): Promise<readonly BenchRow[]>;
};

const benches: readonly Bench[] = [
  { name: 'due', on: ['server', 'embedded'], run: (ground) => benchDueCheckIns(ground!) },
  { name: 'sdk', on: ['server'], run: (ground) => benchCarrierSdk(ground!) },
  { name: 'shops', on: ['server'], run: (ground) => benchManyShops(ground!) },
  { name: 'replies', on: ['server', 'embedded'], run: (ground) => benchReplies(ground!) },
  { name: 'sorting', on: [], run: benchSorting },
  { name: 'ranking', on: [], run: benchRanking },
  { name: 'designs', on: ['server'], run: (ground) => benchLensDesigns(ground!) },
  { name: 'pages', on: ['server', 'embedded'], run: (ground) => benchPages(ground!) },
  { name: 'import', on: ['server', 'embedded'], run: (ground) => benchImporting(ground!) },
  { name: 'start', on: [], run: benchStarting },
];

const args = process.argv.slice(2);
const jsonAt = args.indexOf('--json');
const jsonFile = jsonAt < 0 ? undefined : args[jsonAt + 1];
const wanted = args.filter((_, at) => jsonAt < 0 || (at !== jsonAt && at !== jsonAt + 1));
const unknown = wanted.filter((name) => !benches.some((bench) => bench.name === name));
if (unknown.length > 0) {
  console.error(
    `No bench is called ${unknown.join(', ')}. There are: ${benches.map((one) => one.name).join(', ')}.`,
  );
  process.exit(2);
}

const began = performance.now();
const server = await startPostgres({ durable: true });
const rows: BenchRow[] = [];
const failed: string[] = [];
try {
  for (const bench of benches.filter((one) => wanted.length === 0 || wanted.includes(one.name))) {
    for (const on of bench.on.length === 0 ? [undefined] : bench.on) {
      process.stderr.write(`${bench.name}${on === undefined ? '' : `, ${on}`}…`);
      const start = performance.now();
      const ground =
        on === undefined
          ? undefined
          : on === 'server'
            ? await serverGround(server.url('postgres'))
            : await embeddedGround();
      try {
        rows.push(...(await bench.run(ground, server.url('postgres'))));
      } catch (error) {
        failed.push(`${bench.name}: ${error instanceof Error ? (error.stack ?? error.message) : error}`);
      } finally {
        await ground?.close();
      }
      process.stderr.write(` ${((performance.now() - start) / 1000).toFixed(0)} s\n`);
    }
  }
} finally {
  server.stop();
}
const minutes = (performance.now() - began) / 60_000;
console.log(tableOf(rows));
console.log(
  `\n${rows.filter((row) => judge(row).met).length} of ${rows.length} goals met · ${cpus().length} cores · ${minutes.toFixed(1)} min · node ${process.version}`,
);
for (const one of failed) console.error(`\nNOT MEASURED ${one}`);
if (jsonFile !== undefined) {
  writeFileSync(
    jsonFile,
    `${JSON.stringify({ minutes, cores: cpus().length, rows: rows.map((row) => ({ ...row, ...judge(row), runs: row.ours })) }, null, 2)}\n`,
  );
}
process.exit(failed.length > 0 ? 1 : 0);
