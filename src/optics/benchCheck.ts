import { bad, type Checked, good } from '../problems.ts';
import type {
  BenchJob,
  BenchLine,
  BenchReport,
  EyeAsWorn,
  EyeOrder,
  EyeReading,
  Verdict,
} from './benchJob.ts';
import { benchLayoutLines, heightPairLines } from './benchLayout.ts';
import { benchPowerLines, readSwapped } from './benchPowers.ts';
import { pairLines, prismLines } from './benchPrism.ts';
import { checkInput, type EyeNumbers } from './checkInput.ts';

/**
 * Bench check of a finished, mounted pair before it leaves: each reading against the lab's as-worn powers, and against
 * order and layout, by the chosen standard. Dioptres, degrees, mm, prism dioptres; minus cylinder form. Where a
 * compensated lens came without its as-worn powers, its power lines say cannot-judge and never out; so does what was
 * not read. The pair is out if any line is, else cannot-judge if any line is. Limits and their sources: `limitsAnsi`,
 * `limitsIso`. Support for a licensed person, to be confirmed at the bench.
 */
export const benchCheck = (job: BenchJob): Checked<BenchReport> => {
  const problems = inputProblems(job);
  if (problems.length > 0) return bad(...problems);
  const lines = [
    ...benchPowerLines(job, 'R'),
    ...benchLayoutLines(job, 'R'),
    ...benchPowerLines(job, 'L'),
    ...benchLayoutLines(job, 'L'),
    ...prismLines(job),
    ...heightPairLines(job),
    ...pairLines(job),
  ];
  return good({
    standard: job.standard,
    verdict: wholeVerdict(lines),
    lines,
    readSwapped: readSwapped(job),
    cautions: [...new Set(lines.flatMap(({ caution }) => (caution === null ? [] : [caution])))],
  });
};

const wholeVerdict = (lines: readonly BenchLine[]): Verdict => {
  if (lines.some(({ verdict }) => verdict === 'out')) return 'out';
  return lines.some(({ verdict }) => verdict === 'cannot-judge') ? 'cannot-judge' : 'pass';
};

const inputProblems = (job: BenchJob) =>
  (
    [
      ['order', job.order],
      ['as-worn', job.asWorn ?? {}],
      ['read', job.read],
    ] as const
  ).flatMap(([where, eyes]) => {
    const checked = checkInput({
      ...(eyes.R ? { R: numbersOf(eyes.R) } : {}),
      ...(eyes.L ? { L: numbersOf(eyes.L) } : {}),
      ...(job.frame ? { frame: job.frame } : {}),
    });
    if (checked.ok) return [];
    // The frame is looked at with each of the three; its own trouble is told once, with the order.
    return checked.problems
      .filter((problem) => where === 'order' || !problem.where.startsWith('frame '))
      .map((problem) => ({ ...problem, where: `${where} ${problem.where}` }));
  });

const numbersOf = ({ lens, prism, ...rest }: EyeOrder | EyeAsWorn | EyeReading): EyeNumbers => ({
  ...rest,
  ...(lens ?? {}),
  ...(prism ? { prismUpPd: prism.upPd, prismInPd: prism.inPd } : {}),
});
