#!/usr/bin/env node
// Plain JavaScript, so that a Node that is too old says so in one line instead of failing on the first type.
const major = Number(process.versions.node.split('.')[0]);
if (major < 20) {
  process.stderr.write(
    `Afterfit needs Node 20 or newer; this is ${process.versions.node}. Install a newer Node and start again.\n`,
  );
  process.exit(1);
}
process.env.TZ = 'UTC';
// The compiler settings of this folder, wherever the command is started.
process.env.TSX_TSCONFIG_PATH = new URL('../tsconfig.json', import.meta.url).pathname;
const command = process.argv[2] ?? 'help';
if (command === 'start') process.stdout.write('Afterfit is starting…\n');
const { register } = await import('tsx/esm/api');
register();
const { run } = await import('./commands/run.ts');
process.exitCode = await run(process.argv.slice(2));
