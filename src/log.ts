import pino from 'pino';

/** Structured lines on standard error. Never a wearer's words, name, address or prescription: ids and counts only. */
export type Log = {
  info(detail: Readonly<Record<string, unknown>>, what: string): void;
  warn(detail: Readonly<Record<string, unknown>>, what: string): void;
  error(detail: Readonly<Record<string, unknown>>, what: string): void;
};

const LONGEST_LINE = 4_000;

/** The embedded engine prints tens of kilobytes when it aborts, so every line is capped. */
export function openLog(level: 'info' | 'warn' | 'silent'): Log {
  return pino(
    { level, base: null },
    {
      write(line: string) {
        process.stderr.write(line.length > LONGEST_LINE ? `${line.slice(0, LONGEST_LINE)}…\n` : line);
      },
    },
  );
}

export const silentLog: Log = { info() {}, warn() {}, error() {} };
