import { createInterface } from 'node:readline';
import type { z } from 'zod';
import type { Problem } from '../problems.ts';

/**
 * Reads JSON lines from standard input and writes one JSON line for each. A line that cannot be read is answered by
 * `{"error":…}` in its place and the rest goes on; the exit code is then 2.
 */
export async function eachJsonLine<T>(schema: z.ZodType<T>, answer: (input: T) => unknown): Promise<number> {
  let number = 0;
  let refused = false;
  const lines = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  for await (const line of lines) {
    number += 1;
    if (line.trim() === '') continue;
    const result = answerLine(line, number, schema, answer);
    if (!result.ok) refused = true;
    await write(`${JSON.stringify(result.ok ? result.value : { error: result.error })}\n`);
  }
  return refused ? 2 : 0;
}

type Answered = { ok: true; value: unknown } | { ok: false; error: Problem };

function answerLine<T>(
  line: string,
  number: number,
  schema: z.ZodType<T>,
  answer: (input: T) => unknown,
): Answered {
  let json: unknown;
  try {
    json = JSON.parse(line.replace(/^\uFEFF/, ''));
  } catch {
    return refuse('not-json', 'The line is not JSON.', `line ${number}`, 'Write one JSON object a line.');
  }
  const read = schema.safeParse(json);
  if (!read.success) {
    const issue = read.error.issues[0]!;
    const where = issue.path.length > 0 ? `, ${issue.path.join('.')}` : '';
    return refuse('not-allowed', issue.message, `line ${number}${where}`, 'Compare the line with --schema.');
  }
  return { ok: true, value: answer(read.data) };
}

const refuse = (code: string, what: string, where: string, mend: string): Answered => ({
  ok: false,
  error: { code, what, where, mend },
});

function write(text: string): Promise<void> {
  return new Promise((resolve) => {
    if (process.stdout.write(text)) resolve();
    else process.stdout.once('drain', resolve);
  });
}
