import { z } from 'zod';
import { sortReply } from '../replies/sortReply.ts';
import { type AskedQuestion, LABELS, LOCALES } from '../replies/types.ts';
import { eachJsonLine } from './jsonLines.ts';
import type { Command } from './run.ts';

const asked = z
  .union([
    z.object({ kind: z.literal('check-in') }),
    z.object({ kind: z.literal('yes-no'), id: z.string() }),
    z.object({
      kind: z.literal('choices'),
      id: z.string(),
      answers: z.array(z.object({ key: z.string(), words: z.string() })),
    }),
  ])
  .describe('The newest question that was put before the reply; a bare answer is read against it.');

const input = z.object({
  text: z.string().describe('The reply in the wearer’s own words.'),
  asked: asked.nullish(),
  locale: z
    .enum(LOCALES)
    .nullish()
    .describe('Language of the wearer; told from the words when it is left out.'),
});

const output = z.object({
  labels: z.array(z.enum(LABELS)),
  urgent: z.boolean(),
  stop: z.boolean(),
  asks: z.array(z.string()),
  spans: z.array(z.object({ label: z.string(), start: z.number().int(), end: z.number().int() })),
});

export const sortCommand: Command = {
  help: `afterfit sort < replies.jsonl

Reads one JSON object a line: {"text": "…", "asked"?: {…}, "locale"?: "en" | "es"}
Writes one a line: {"labels":[], "urgent":bool, "stop":bool, "asks":[], "spans":[{"label","start","end"}]}
start and end count UTF-16 units of the text. A line that cannot be read is answered by {"error":{…}}; exit code 2.

  --schema   print the JSON Schema of a line in and a line out`,
  async run(args) {
    if (args.includes('--schema')) return printSchemas(input, output);
    return eachJsonLine(input, ({ text, asked: question, locale }) => {
      const reading = sortReply({
        text,
        asked: (question ?? undefined) as AskedQuestion | undefined,
        locale: locale ?? undefined,
      });
      const { labels, urgent, stop, asks, spans, bareAnswer } = reading;
      return { labels, urgent, stop, asks, spans, ...(bareAnswer ? { bareAnswer } : {}) };
    });
  },
};

/** What is read in may be written in several ways (a number or its text); the schema tells what is taken. */
const READ_AS = { io: 'input', unrepresentable: 'any' } as const;

export function printSchemas(lineIn: z.ZodType, lineOut: z.ZodType): number {
  process.stdout.write(
    `${JSON.stringify({ in: z.toJSONSchema(lineIn, READ_AS), out: z.toJSONSchema(lineOut, READ_AS) }, null, 2)}\n`,
  );
  return 0;
}
