import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { newFolder, runAfterfit, startAfterfit } from '../setup/process.ts';
import type { BenchRow } from './row.ts';

const RUNS = 3;

/** From the command to the first page, and memory once it is there; beside it a bare server of the same library. */
export async function benchStarting(): Promise<BenchRow[]> {
  const first: number[] = [];
  const again: number[] = [];
  const memory: number[] = [];
  const bare: number[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    const folder = newFolder();
    await runAfterfit(['--help'], { folder });
    first.push((await secondsToPage(folder)).seconds);
    const reopened = await secondsToPage(folder);
    again.push(reopened.seconds);
    memory.push(reopened.megabytes);
    bare.push(await bareSeconds());
  }
  const row = { on: 'embedded', unit: 's' } as const;
  return [
    {
      ...row,
      what: 'first start to first page',
      beside: 'a bare hono server',
      ours: first,
      theirs: bare,
      goal: { of: 'figure', most: 8 },
    },
    {
      ...row,
      what: 'start again to first page',
      beside: 'a bare hono server',
      ours: again,
      theirs: bare,
      goal: { of: 'figure', most: 2 },
    },
    {
      ...row,
      what: 'memory after the first page',
      beside: '–',
      unit: 'MB',
      ours: memory,
      theirs: [],
      goal: { of: 'figure', most: 400 },
    },
  ];
}

async function secondsToPage(folder: string): Promise<{ seconds: number; megabytes: number }> {
  const began = performance.now();
  const running = await startAfterfit(['--port', '0'], folder);
  const page = await fetch(running.address);
  await page.text();
  const seconds = (performance.now() - began) / 1000;
  const megabytes = residentMegabytes(running.pid);
  await running.stop();
  return { seconds, megabytes };
}

/** Resident memory of a process as Linux tells it. */
function residentMegabytes(pid: number): number {
  const line = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(line?.[1] ?? Number.NaN) / 1024;
}

const BARE = `
import { serve } from '@hono/node-server';
import { Hono } from 'hono';
const app = new Hono().get('/', (c) => c.text('ready'));
serve({ fetch: app.fetch, port: 0, hostname: '127.0.0.1' }, (at) => console.log(at.port));
`;

async function bareSeconds(): Promise<number> {
  const began = performance.now();
  const child = spawn(process.execPath, ['--input-type=module', '--eval', BARE], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const port = await new Promise<string>((ready) =>
    child.stdout.once('data', (chunk: Buffer) => ready(String(chunk).trim())),
  );
  await (await fetch(`http://127.0.0.1:${port}/`)).text();
  const seconds = (performance.now() - began) / 1000;
  child.kill();
  return seconds;
}
