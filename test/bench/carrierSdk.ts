import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Channel } from '../../src/channels/channel.ts';
import { textChannel, textSender } from '../../src/channels/text.ts';
import { deliver } from '../../src/followup/deliver.ts';
import { sendDue } from '../../src/followup/sendDue.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { makeDue } from './dueCheckIns.ts';
import type { Ground } from './ground.ts';
import { openBenchShop, phoneOf } from './people.ts';
import { type BenchRow, inTurn, secondsOf } from './row.ts';

export const ACCOUNT = `AC${'0'.repeat(32)}`;
export const TOKEN = 'a token of nobody';
const FROM = '+12025550111';
const SHOP = 'bench';
const RUNS = 3;
const EACH = 2_000;
/** As many as `deliver` has with a quick carrier at the most. */
const AT_ONCE = 256;

/**
 * Due check-ins claimed, rendered, recorded and handed by the carrier's own package over sockets to a stand-in of the carrier in
 * another process; beside a bare loop that does nothing but hand over texts by the same package, with as many at once.
 */
export async function benchCarrierSdk(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  const carrier = await startCarrier();
  try {
    const settings = {
      accountSid: ACCOUNT,
      authToken: TOKEN,
      from: FROM,
      perSecond: 1_000_000,
      origin: carrier.origin,
      onlyThisMachine: true,
    };
    const texts = textChannel(settings, shell.clock, async () => undefined);
    let taken = 0;
    const counted: Channel = {
      ...texts,
      async send(message) {
        const result = await texts.send(message);
        if (result.state === 'accepted') taken += 1;
        return result;
      },
    };
    const sending: Shell = { ...shell, carrier: () => counted };
    const bare = textSender(settings).client;
    const ours = async (run: number): Promise<number> => {
      await makeDue(ground, shell, run, EACH);
      const before = taken;
      const seconds = await secondsOf(async () => {
        while ((await sendDue(sending)) + (await deliver(sending)) > 0);
      });
      const sent = taken - before;
      if (sent !== EACH) throw new Error(`${sent} of ${EACH} check-ins went out`);
      return sent / seconds;
    };
    const theirs = async (): Promise<number> => {
      let next = 0;
      const hand = async () => {
        while (next < EACH) {
          const to = phoneOf(next++);
          await bare.messages.create({ from: FROM, to, body: WORDS });
        }
      };
      const seconds = await secondsOf(() => Promise.all(Array.from({ length: AT_ONCE }, hand)));
      return EACH / seconds;
    };
    await theirs();
    const got = await inTurn(RUNS, ours, theirs);
    return [
      {
        what: 'due check-ins through the carrier’s package over sockets',
        on: ground.on,
        beside: `a bare loop of the package, ${AT_ONCE} at once`,
        unit: 'per s',
        ours: got.ours,
        theirs: got.theirs,
        goal: { of: 'ratio', least: 0.9 },
      },
    ];
  } finally {
    carrier.stop();
  }
}

/** About as long as a first question with its words on how to stop. */
const WORDS =
  'Shop bench (invented): how are the new glasses? Reply 1 all fine, 2 not yet, or in your own words. Reply STOP to stop.';

async function startCarrier(): Promise<{ origin: string; stop(): void }> {
  const { PATH, HOME } = process.env;
  const child = fork(fileURLToPath(new URL('./standInProcess.ts', import.meta.url)), {
    execArgv: ['--import', 'tsx'],
    env: { PATH, HOME, TZ: 'UTC', NODE_ENV: 'test' },
  });
  const origin = await new Promise<string>((ready, failed) => {
    child.once('message', (message) => ready((message as { origin: string }).origin));
    child.once('exit', () => failed(new Error('the stand-in of the carrier did not start')));
  });
  return { origin, stop: () => child.disconnect() };
}
