// Forty small faults of the kinds that optics code really has (a sign, a constant, a unit, an edge), each put into a copy
// of the room while its tests run. A fault that no test notices is named. `npm run mutants:optics`.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const LEAST_CAUGHT = 38;

/** Name of the fault, file in src/optics, what stands there (once), what stands there instead. */
const MUTANTS = [
  ['transposition keeps the cylinder sign', 'spheroCyl.ts', 'cylinderD === 0 ? 0 : -cylinderD', 'cylinderD'],
  [
    'transposition turns the axis by 45',
    'spheroCyl.ts',
    'axisDeg: asAxis(axisDeg + 90),\n});\n\n/** Minus',
    'axisDeg: asAxis(axisDeg + 45),\n});\n\n/** Minus',
  ],
  ['axis 180 written as 0', 'angle.ts', '? 180 : turned', '? 0 : turned'],
  ['axis difference not taken round the circle', 'angle.ts', 'Math.min(apart, 180 - apart)', 'apart'],
  [
    'power vector J45 with the wrong sign',
    'powerVector.ts',
    'j45D: -(cylinderD / 2)',
    'j45D: (cylinderD / 2)',
  ],
  [
    'power vector without the doubled axis',
    'powerVector.ts',
    'Math.cos(2 * radians(axisDeg))',
    'Math.cos(radians(axisDeg))',
  ],
  ['plain arc tangent for the axis', 'powerVector.ts', 'Math.atan2(j45D, j0D)', 'Math.atan(j45D / j0D)'],
  [
    'power matrix cross term with the wrong sign',
    'powerMatrix.ts',
    'xyD: -cylinderD * sin * cos',
    'xyD: cylinderD * sin * cos',
  ],
  [
    'cosine for the power in a meridian',
    'meridianPower.ts',
    'Math.sin(radians(fromAxisDeg)) ** 2',
    'Math.cos(radians(fromAxisDeg)) ** 2',
  ],
  [
    'difference lens turned round',
    'differenceLens.ts',
    'meanD: one.meanD - other.meanD',
    'meanD: other.meanD - one.meanD',
  ],
  [
    'vertex compensation with the wrong sign',
    'vertexCompensation.ts',
    '(1 - (movedCloserMm / 1000) * powerD)',
    '(1 + (movedCloserMm / 1000) * powerD)',
  ],
  ['vertex distance in centimetres', 'vertexCompensation.ts', 'movedCloserMm / 1000', 'movedCloserMm / 100'],
  [
    'effective power moved the wrong way',
    'vertexCompensation.ts',
    'compensateForVertexD(powerD, wornVertexMm - refractedVertexMm)',
    'compensateForVertexD(powerD, refractedVertexMm - wornVertexMm)',
  ],
  ['wrap turned the same way before both eyes', 'lensTilt.ts', "eye === 'R' ? -wrapDeg : wrapDeg", 'wrapDeg'],
  ['Martin with n for 2n', 'lensTilt.ts', '** 2 / (2 * index)', '** 2 / index'],
  [
    'tilt induces its cylinder at 90',
    'lensTilt.ts',
    "about === 'tilt' ? 180 : 90",
    "about === 'tilt' ? 90 : 180",
  ],
  [
    'exact tilt factor without its cosine',
    'lensTilt.ts',
    '(1 - cos * cos)) - cos) / (index - 1)',
    '(1 - cos * cos)) - 1) / (index - 1)',
  ],
  [
    'prism in millimetres for centimetres',
    'prismAtPoint.ts',
    'const yCm = aboveMm / 10',
    'const yCm = aboveMm',
  ],
  [
    'prism of the left eye with the nose on the wrong side',
    'prismAtPoint.ts',
    "const noseX = eye === 'R' ? 1 : -1",
    'const noseX = 1',
  ],
  [
    'gaze point taken for decentration',
    'decentration.ts',
    'aboveMm: -centreMovedUpMm',
    'aboveMm: centreMovedUpMm',
  ],
  [
    'PD error with the wrong sign',
    'centringError.ts',
    'nasalMm: madePdMm - wearerPdMm',
    'nasalMm: wearerPdMm - madePdMm',
  ],
  [
    'vertical imbalance added and not subtracted',
    'prismSum.ts',
    'verticalPd: right.upPd - left.upPd',
    'verticalPd: right.upPd + left.upPd',
  ],
  [
    'base angle of the left eye as of the right',
    'prismSum.ts',
    "const x = eye === 'R' ? inPd : -inPd",
    'const x = inPd',
  ],
  [
    'slab-off on the other lens',
    'readingImbalance.ts',
    "rightD < leftD ? 'R' : 'L'",
    "rightD < leftD ? 'L' : 'R'",
  ],
  [
    'thinning shares the larger part',
    'thinningPrism.ts',
    'Math.min(Math.abs(right.upPd)',
    'Math.max(Math.abs(right.upPd)',
  ],
  [
    'shape factor without the index',
    'imageSize.ts',
    'centreThicknessMm / 1000 / index',
    'centreThicknessMm / 1000',
  ],
  ['entrance pupil left out', 'imageSize.ts', 'lens.vertexMm + entrancePupilMm', 'lens.vertexMm'],
  [
    'corridor astigmatism once for twice the gradient',
    'corridor.ts',
    '2 * powerGradientDPerMm',
    'powerGradientDPerMm',
  ],
  [
    'cross too low blurs far',
    'crossHeight.ts',
    'Math.max(0, crossAbovePupilMm / corridorMm)',
    'Math.abs(crossAbovePupilMm / corridorMm)',
  ],
  [
    'inset grows with minus',
    'inset.ts',
    '1 / stopDistanceMm - power180D / 1000',
    '1 / stopDistanceMm + power180D / 1000',
  ],
  [
    'amplitude may fall under nothing',
    'accommodation.ts',
    'Math.max(0, 18.5 - 0.3 * ageYears)',
    '18.5 - 0.3 * ageYears',
  ],
  [
    'colour fringe divided by half the V number',
    'colourFringe.ts',
    'Math.abs(prismPd) / abbe',
    '(2 * Math.abs(prismPd)) / abbe',
  ],
  [
    'progressives held to the single vision sphere limit',
    'limitsAnsi.ts',
    "kind === 'progressive' ? [8, 0.16] : [6.5, 0.13]",
    '[6.5, 0.13]',
  ],
  [
    'axis band edge belongs to the upper band',
    'limitsAnsi.ts',
    'value <= edge + READING_EPSILON_D + 1e-9',
    'value < edge',
  ],
  [
    'axis of the international standard never tight',
    'limitsIso.ts',
    '[Infinity, 2],\n];',
    '[Infinity, 4],\n];',
  ],
  [
    'night driving from 70 per cent',
    'tintCategory.ts',
    'NIGHT_DRIVING_PERCENT = 75',
    'NIGHT_DRIVING_PERCENT = 70',
  ],
  [
    'fading with base e for base 2',
    'tintKinetics.ts',
    '2 ** (-timeS / halfLifeS)',
    'Math.exp(-timeS / halfLifeS)',
  ],
  [
    'missing as-worn powers are called out',
    'benchPowers.ts',
    '(isCompensated(job) ? null : job.order[eye].lens)',
    'job.order[eye].lens',
  ],
  ['fitting height over B taken in', 'checkInput.ts', 'fittingHeightMm > bMm', 'fittingHeightMm > bMm + 10'],
  ['corridor runs away from the nose', 'lensPicture.ts', 'cross.xMm - outward *', 'cross.xMm + outward *'],
];

const root = fileURLToPath(new URL('../..', import.meta.url));
const copy = mkdtempSync(join(tmpdir(), 'optics-mutants-'));

const layOut = () => {
  for (const path of [
    'src/optics',
    'src/intake',
    'src/problems.ts',
    'test/optics',
    'package.json',
    'tsconfig.json',
  ]) {
    cpSync(join(root, path), join(copy, path), { recursive: true });
  }
  mkdirSync(join(copy, 'test/checks'));
  for (const name of ['optics.json', 'optics-own.json', 'optics.adapters.ts', 'optics.test.ts']) {
    cpSync(join(root, 'test/checks', name), join(copy, 'test/checks', name));
  }
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  writeFileSync(
    join(copy, 'vitest.config.ts'),
    "export default { test: { include: ['test/**/*.test.ts'], maxWorkers: 2, isolate: false, bail: 1 } };\n",
  );
};

const failedTests = () => {
  const report = join(copy, 'report.json');
  rmSync(report, { force: true });
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const { CHECKS_DIR: _elsewhere, ...env } = process.env;
  spawnSync(process.execPath, [vitest, 'run', '--reporter=json', `--outputFile=${report}`], {
    cwd: copy,
    env,
  });
  const { numTotalTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'));
  if (numTotalTests === 0) throw new Error('no test ran: the copy is broken');
  const first = testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .find(({ status }) => status === 'failed');
  return { failed: numFailedTests, first: first?.fullName ?? '' };
};

try {
  layOut();
  if (failedTests().failed > 0) throw new Error('the tests fail without any fault put in: mend them first');
  let caught = 0;
  for (const [name, file, from, to] of MUTANTS) {
    const path = join(copy, 'src/optics', file);
    const right = readFileSync(path, 'utf8');
    if (right.split(from).length !== 2) throw new Error(`"${name}" no longer fits ${file}: mend the list`);
    writeFileSync(
      path,
      right.replace(from, () => to),
    );
    const { failed, first } = failedTests();
    writeFileSync(path, right);
    if (failed > 0) caught += 1;
    console.log(failed > 0 ? `caught  ${name} (${file}), by: ${first}` : `MISSED  ${name} (${file})`);
  }
  console.log(`${caught} of ${MUTANTS.length} caught; ${LEAST_CAUGHT} wanted`);
  process.exitCode = caught >= LEAST_CAUGHT ? 0 : 1;
} finally {
  rmSync(copy, { recursive: true, force: true });
}
