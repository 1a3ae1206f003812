import { tellOfMachine } from '../tellOfMachine.ts';

export type Command = {
  readonly help: string;
  run(args: readonly string[]): Promise<number>;
};

/** Each command is loaded when it is asked for: sorting a line does not wait for a web server to load. */
const COMMANDS: Readonly<Record<string, { readonly about: string; load(): Promise<Command> }>> = {
  start: {
    about: 'start the server and print its address',
    load: async () => (await import('./start.ts')).startCommand,
  },
  import: {
    about: 'take jobs in from a CSV file',
    load: async () => (await import('./import.ts')).importCommand,
  },
  sort: {
    about: 'sort replies (JSON lines in, JSON lines out)',
    load: async () => (await import('./sort.ts')).sortCommand,
  },
  lessons: {
    about: 'list what staff corrected, as candidates for the lexicon',
    load: async () => (await import('./lessons.ts')).lessonsCommand,
  },
  weigh: {
    about: 'rank the causes of a complaint from the job’s numbers (JSON lines)',
    load: async () => (await import('./weigh.ts')).weighCommand,
  },
  setup: {
    about: 'check settings, database, time zones, carriers and what keeps them off',
    load: async () => (await import('./setup.ts')).setupCommand,
  },
  backup: {
    about: 'write all records to a sealed file, and prove that it opens',
    load: async () => (await import('./backup.ts')).backupCommand,
  },
  restore: {
    about: 'fill an empty folder or database from a backup or an hourly copy',
    load: async () => (await import('./restore.ts')).restoreCommand,
  },
  'owner-link': {
    about: 'print a link by which the owner sets a new password',
    load: async () => (await import('./ownerLink.ts')).ownerLinkCommand,
  },
  'alarm-test': {
    about: 'send everyone on call an alarm that says that it is a test',
    load: async () => (await import('./alarmTest.ts')).alarmTestCommand,
  },
  'check-job': {
    about: 'hold a finished pair’s readings against order, as-worn powers and layout (JSON lines)',
    load: async () => (await import('./checkJob.ts')).checkJobCommand,
  },
};

const help = (): string => `afterfit: follow-up for new multifocal and light-reactive glasses

${Object.entries(COMMANDS)
  .map(([name, { about }]) => `  afterfit ${name.padEnd(10)} ${about}`)
  .join('\n')}

  afterfit COMMAND --help tells more. From a checkout: npm run -s afterfit -- COMMAND
`;

/** Runs one command; returns the exit code: 0 done, 1 could not run, 2 something in the input was refused. */
export async function run(argv: readonly string[]): Promise<number> {
  const [name, ...args] = argv;
  const known = name === undefined ? undefined : COMMANDS[name];
  if (!known) {
    const asked = name === undefined || name === 'help' || name === '--help' || name === '-h';
    (asked ? process.stdout : process.stderr).write(
      asked ? help() : `There is no command “${name}”.\n\n${help()}`,
    );
    return asked ? 0 : 2;
  }
  const command = await known.load();
  if (args.includes('--help') || args.includes('-h')) {
    process.stdout.write(`${command.help}\n`);
    return 0;
  }
  try {
    return await command.run(args);
  } catch (error) {
    const told = tellOfMachine(error);
    if (told === undefined) throw error;
    process.stderr.write(`${told.what} ${told.mend}\n`);
    return 1;
  }
}
