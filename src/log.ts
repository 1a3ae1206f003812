import { AsyncLocalStorage } from 'node:async_hooks';
import pino from 'pino';

/** Structured lines on standard error. Never a wearer's words, name, address or prescription: ids and counts only. */
export type Log = {
  info(detail: Readonly<Record<string, unknown>>, what: string): void;
  warn(detail: Readonly<Record<string, unknown>>, what: string): void;
  error(detail: Readonly<Record<string, unknown>>, what: string): void;
};

const requests = new AsyncLocalStorage<string>();

/** What is logged while `work` runs carries the request's id. */
export const withRequest = <T>(id: string, work: () => T): T => requests.run(id, work);

const LONGEST_LINE = 4_000;

/** The embedded engine prints tens of kilobytes when it aborts, so every line is capped. */
export function openLog(level: 'info' | 'warn' | 'silent'): Log {
  return pino(
    {
      level,
      base: null,
      mixin() {
        const request = requests.getStore();
        return request === undefined ? {} : { request };
      },
    },
    {
      write(line: string) {
        process.stderr.write(line.length > LONGEST_LINE ? `${line.slice(0, LONGEST_LINE)}…\n` : line);
      },
    },
  );
}

export const silentLog: Log = { info() {}, warn() {}, error() {} };
