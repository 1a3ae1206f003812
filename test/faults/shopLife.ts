import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { FromShop, Opening, ToShop } from './shopProcess.ts';

const PROCESS = fileURLToPath(new URL('./shopProcess.ts', import.meta.url));

/** One life of the shop's process, from its start until it is killed. */
export type ShopLife = {
  /** One tick at an instant; `died` when it was killed before it was done. */
  tick(at: Date): Promise<'done' | 'died'>;
  /** SIGKILL: nothing is finished, nothing is said. Waits until it is gone. */
  kill(): Promise<void>;
  readonly dead: boolean;
};

export async function startShop(opening: Opening): Promise<ShopLife> {
  const { PATH, HOME } = process.env;
  const child = fork(PROCESS, {
    execArgv: ['--import', 'tsx'],
    env: { PATH, HOME, TZ: 'UTC', NODE_ENV: 'test' },
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  let dead = false;
  const gone = new Promise<void>((resolve) => {
    child.once('exit', () => {
      dead = true;
      resolve();
    });
  });
  if ((await ask(child, gone, { do: 'open', opening })) === 'died') throw new Error('the shop did not start');
  return {
    tick: (at) => ask(child, gone, { do: 'tick', at: at.toISOString() }),
    async kill() {
      child.kill('SIGKILL');
      await gone;
    },
    get dead() {
      return dead;
    },
  };
}

function ask(child: ChildProcess, gone: Promise<void>, message: ToShop): Promise<'done' | 'died'> {
  const answered = new Promise<'done'>((resolve, reject) => {
    child.once('message', (answer: FromShop) =>
      'failed' in answer ? reject(new Error(answer.failed)) : resolve('done'),
    );
  });
  child.send(message, () => {});
  return Promise.race([answered, gone.then(() => 'died' as const)]);
}
