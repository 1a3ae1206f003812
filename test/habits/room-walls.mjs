// Holds the table of rooms. A checker that saw fewer modules than there are has checked nothing, and is a failure too.
import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folders = ['src', 'jobs', 'templates', 'migrations', 'dashboard'];
const files = folders.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true }).filter((name) => /\.(ts|tsx|mjs)$/.test(name)),
);

let output;
try {
  output = execFileSync(
    process.execPath,
    [
      join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'),
      ...folders,
      '--config',
      '.dependency-cruiser.cjs',
      '--output-type',
      'json',
    ],
    { cwd: root, maxBuffer: 256 * 1024 * 1024, encoding: 'utf8' },
  );
} catch (error) {
  output = error.stdout;
}
const { modules, summary } = JSON.parse(output);
const own = modules.filter((one) => folders.some((folder) => one.source.startsWith(`${folder}/`)));
for (const { rule, from, to } of summary.violations) console.error(`${rule.name}: ${from} → ${to}`);
if (own.length < files.length) {
  console.error(
    `The checker saw ${own.length} modules; there are ${files.length}. It has not checked the house.`,
  );
  process.exit(1);
}
if (summary.error > 0) process.exit(1);
console.log(`Room walls hold: ${own.length} modules, ${summary.totalDependenciesCruised} imports.`);
