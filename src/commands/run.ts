import { importCommand } from './import.ts';
import { sortCommand } from './sort.ts';
import { startCommand } from './start.ts';
import { weighCommand } from './weigh.ts';

export type Command = {
  readonly name: string;
  readonly about: string;
  readonly help: string;
  run(args: readonly string[]): Promise<number>;
};

const commands: readonly Command[] = [startCommand, importCommand, sortCommand, weighCommand];

const help = (): string => `afterfit: follow-up for new multifocal and light-reactive glasses

${commands.map((command) => `  afterfit ${command.name.padEnd(8)} ${command.about}`).join('\n')}

  afterfit COMMAND --help tells more. From a checkout: npm run -s afterfit -- COMMAND
`;

/** Runs one command; returns the exit code: 0 done, 1 could not run, 2 something in the input was refused. */
export async function run(argv: readonly string[]): Promise<number> {
  const [name, ...args] = argv;
  const command = commands.find((one) => one.name === name);
  if (!command) {
    const asked = name === undefined || name === 'help' || name === '--help' || name === '-h';
    (asked ? process.stdout : process.stderr).write(
      asked ? help() : `There is no command “${name}”.\n\n${help()}`,
    );
    return asked ? 0 : 2;
  }
  if (args.includes('--help') || args.includes('-h')) {
    process.stdout.write(`${command.help}\n`);
    return 0;
  }
  return command.run(args);
}
