import { readConfig } from '../config.ts';
import { type AlarmTested, testAlarm } from '../followup/alarmTest.ts';
import { openDatabase, openRoom, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { bad, type Checked, good } from '../problems.ts';
import { lockFolder, ownerOf } from '../store/lock.ts';
import { chosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

export const alarmTestCommand: Command = {
  help: `afterfit alarm-test

Sends everyone on call an alarm that says that it is a test, by text and email, and tells how each went. With a server
running on the same data folder the work is done through that server.

Exit code: 0 everyone was reached in some way, 1 nobody is on call or somebody was not reached.`,
  async run() {
    const tested = await test();
    if (!tested.ok) {
      for (const { what, mend } of tested.problems) process.stderr.write(`${what} ${mend}\n`);
      return 1;
    }
    for (const one of tested.value) {
      const how = one.state === 'accepted' ? 'taken by the carrier' : `NOT sent: ${one.why ?? one.state}`;
      process.stdout.write(`${one.person_name}, ${one.channel} to ${one.address}: ${how}\n`);
    }
    const people = new Set(tested.value.map((one) => one.person_name));
    const reached = new Set(
      tested.value.filter((one) => one.state === 'accepted').map((one) => one.person_name),
    );
    process.stdout.write(`${reached.size} of ${people.size} on call reached. Ask them whether it came.\n`);
    return reached.size === people.size ? 0 : 1;
  },
};

async function test(): Promise<Checked<AlarmTested[]>> {
  const config = readConfig();
  if (!config.ok) return config;
  const { dataFolder, databaseUrl } = config.value;
  const owner = databaseUrl === undefined ? ownerOf(dataFolder) : undefined;
  if (owner?.address !== undefined) return someone(await throughServer(owner.address, owner.key ?? ''));
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  const noShop = trouble('There is no shop yet.', 'Run “npm start” once and choose.');
  if (kind === undefined) return noShop;
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok) {
    return trouble(
      `Another command works on the data folder (process ${lock.owner.pid}).`,
      'Wait for it, then try again.',
    );
  }
  try {
    const log = openLog(config.value.log);
    const source = sourceOf(config.value);
    const opened = await openDatabase(source, kind, log, (words) => process.stderr.write(`${words}\n`));
    const outside = { carriers: config.value.carriers };
    const room = await openRoom(opened, kind, undefined, log, undefined, outside);
    if (!room) return noShop;
    const tested = await testAlarm(room.shell, room.shopId);
    await room.close();
    return someone(good(tested));
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

const trouble = (what: string, mend: string) => bad({ code: 'alarm-test', what, where: 'alarm', mend });

const someone = (tested: Checked<AlarmTested[]>): Checked<AlarmTested[]> =>
  tested.ok && tested.value.length === 0
    ? trouble(
        'Nobody can be told of danger: no one on call has a number or an address that can be reached from here.',
        'Put people on call, and switch a carrier on.',
      )
    : tested;

async function throughServer(address: string, key: string): Promise<Checked<AlarmTested[]>> {
  process.stderr.write(`A server is running on this folder (${address}); it does the work.\n`);
  const answer = await fetch(`${address}/api/alarm-test`, {
    method: 'POST',
    headers: { 'x-afterfit-key': key },
  });
  if (answer.ok) return good((await answer.json()) as AlarmTested[]);
  return trouble(`The server at ${address} refused (${answer.status}).`, 'Look at its page, then try again.');
}
