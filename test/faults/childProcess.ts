import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** A process that is told what to do, one thing at a time or several at once, and may be killed in the middle of it. */
export type Child<To, From> = {
  /** What it answers to this; `died` when it was killed before. */
  ask(message: To): Promise<From | 'died'>;
  signal(signal: NodeJS.Signals): void;
  kill(): Promise<void>;
  readonly dead: boolean;
};

type Asked<To> = { readonly number: number; readonly message: To };
type Answered<From> = { readonly to: number; readonly answer: From };

/** The child's side: does what it is told, several things at once, and answers each. */
export function serveParent<To, From>(
  act: (message: To) => Promise<From>,
  failed: (error: NodeJS.ErrnoException) => From,
): void {
  process.on('message', ({ number, message }: Asked<To>) => {
    act(message)
      .catch(failed)
      .then((answer) => process.connected && process.send!({ to: number, answer } satisfies Answered<From>));
  });
  // A parent that is gone leaves nobody to work for.
  process.on('disconnect', () => process.exit(0));
}

/** `launcher` is a command that starts the process in surroundings of its own, with node and its arguments behind it. */
export function startChild<To extends object, From>(
  file: string,
  launcher: readonly string[] = [],
): Child<To, From> {
  const { PATH, HOME } = process.env;
  const [command, ...rest] = launcher;
  const child: ChildProcess = fork(fileURLToPath(new URL(file, import.meta.url)), {
    execArgv: [...rest, ...(command === undefined ? [] : [process.execPath]), '--import', 'tsx'],
    ...(command === undefined ? {} : { execPath: command }),
    env: { PATH, HOME, TZ: 'UTC', NODE_ENV: 'test' },
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  });
  let dead = false;
  const gone = new Promise<'died'>((resolve) => {
    const end = () => {
      dead = true;
      resolve('died');
    };
    child.once('exit', end);
    child.once('error', end);
  });
  const waiting = new Map<number, (answer: From) => void>();
  let asked = 0;
  child.on('message', ({ to, answer }: Answered<From>) => {
    waiting.get(to)?.(answer);
    waiting.delete(to);
  });
  return {
    ask(message) {
      const answered = new Promise<From>((resolve) => {
        asked += 1;
        waiting.set(asked, resolve);
      });
      child.send({ number: asked, message } satisfies Asked<To>, () => {});
      return Promise.race([answered, gone]);
    },
    signal: (signal) => void child.kill(signal),
    async kill() {
      child.kill('SIGKILL');
      await gone;
    },
    get dead() {
      return dead;
    },
  };
}
