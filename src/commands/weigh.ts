import { z } from 'zod';
import { jobSchema } from '../causes/jobFacts.ts';
import { weigh } from '../causes/weigh.ts';
import { eachJsonLine } from './jsonLines.ts';
import type { Command } from './run.ts';
import { printSchemas } from './sort.ts';

const input = z.object({
  reply_labels: z.array(z.string()).describe('Labels as the sorter writes them.'),
  job: z.record(z.string(), z.unknown()),
});

const output = z.object({
  causes: z.array(
    z.object({
      id: z.string(),
      share: z.number(),
      evidence: z.array(
        z.object({
          fact: z.string(),
          value: z.unknown(),
          toward: z.enum(['for', 'against']),
          times: z.number(),
        }),
      ),
    }),
  ),
  act: z.object({ id: z.string(), way: z.string(), why: z.string() }),
  question: z.unknown().optional(),
});

export const weighCommand: Command = {
  help: `afterfit weigh < cases.jsonl

Reads one JSON object a line: {"reply_labels": ["near-too-low"], "job": {"day": 6, "cross_above_pupil_mm": {"R": -2, "L": -2}}}
Writes one a line: {"causes":[{"id","share","evidence":[{"fact","value","toward","times"}]}],
                    "act":{"id","way","why"}, "question"?}
Facts that are unknown or not possible are told in "problems" and left out. It is support for a licensed person: confirm at
the bench. A line that cannot be read is answered by {"error":{…}}; exit code 2.

  --schema   print the JSON Schema of a line in and a line out`,
  async run(args) {
    if (args.includes('--schema')) return printSchemas(input.extend({ job: jobSchema }), output);
    return eachJsonLine(input, weigh);
  },
};
