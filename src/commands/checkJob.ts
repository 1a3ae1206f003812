import { checkedJob, checkJob, jobToCheck } from '../followup/checkJob.ts';
import { eachJsonLine } from './jsonLines.ts';
import type { Command } from './run.ts';
import { printSchemas } from './sort.ts';

export const checkJobCommand: Command = {
  help: `afterfit check-job < jobs.jsonl

Reads one finished job a line: {"standard": "ANSI Z80.1" | "ISO 21987",
  "order": {"R": {"sphere_D": 1.25, "cylinder_D": -0.5, "axis_deg": 90, "add_D": 2}, "L": {…}},
  "layout"?: {"R": {"monocular_pd_mm": 31.5, "fitting_height_mm": 18}, "L": {…}, "frame": {"a_mm", "b_mm", "dbl_mm"}},
  "as_worn"?: {"R": {…}, "L": {…}}, "read": {"R": {"sphere_D": 1.25, …}, "L": {…}}}
Writes one a line: {"standard", "verdict": "pass" | "out" | "cannot-judge", "lines": [{"quantity", "eye", "compared_with",
  "expected", "found", "error", "allowed", "margin_left", "unit", "verdict", "reason", "read_at", "source", "caution"}],
  "read_swapped": bool, "cautions": []}
Compensated powers without the lab’s as-worn powers cannot be judged and are never called out. It is support for a licensed
person: confirm at the bench. A line that cannot be read is answered by {"error":{…}}; exit code 2.

  --schema   print the JSON Schema of a line in and a line out`,
  async run(args) {
    if (args.includes('--schema')) return printSchemas(jobToCheck, checkedJob);
    return eachJsonLine(jobToCheck, checkJob);
  },
};
