import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const LAUNCHER = fileURLToPath(new URL('../../src/afterfit.mjs', import.meta.url));

export type Ran = { readonly code: number | null; readonly out: string; readonly err: string };

/** Runs the command to its end. Nothing of the caller's settings reaches it. */
export function runAfterfit(
  args: readonly string[],
  over: { folder?: string; input?: string; nodeArgs?: readonly string[] } = {},
): Promise<Ran> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [...(over.nodeArgs ?? []), LAUNCHER, ...args], {
      env: cleanEnv(over.folder),
    });
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      err += chunk.toString();
    });
    child.on('exit', (code) => resolve({ code, out, err }));
    child.stdin.end(over.input ?? '');
  });
}

export type Running = {
  readonly address: string;
  readonly folder: string;
  readonly pid: number;
  readonly out: () => string;
  /** Asks it to stop and waits until it has. */
  stop(signal?: NodeJS.Signals): Promise<void>;
};

/** Starts the server and waits until it has said that it is ready. */
export async function startAfterfit(args: readonly string[], folder = newFolder()): Promise<Running> {
  const child = spawn(process.execPath, [LAUNCHER, 'start', ...args], { env: cleanEnv(folder) });
  let out = '';
  const address = await new Promise<string>((resolve, reject) => {
    const look = (chunk: Buffer) => {
      out += chunk.toString();
      const found = /ready at (http:\/\/\S+)/.exec(out);
      if (found) resolve(found[1]!);
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    child.once('exit', (code) => reject(new Error(`it stopped with ${code}:\n${out}`)));
  });
  return {
    address,
    folder,
    pid: child.pid!,
    out: () => out,
    async stop(signal = 'SIGTERM') {
      const gone = new Promise((resolve) => child.once('exit', resolve));
      child.kill(signal);
      await gone;
    },
  };
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'afterfit-test-'));

function cleanEnv(folder: string | undefined): NodeJS.ProcessEnv {
  const { PATH, HOME } = process.env;
  return { PATH, HOME, NODE_ENV: 'test', ...(folder ? { AFTERFIT_DATA: folder } : {}) };
}
