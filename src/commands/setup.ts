import { systemClock } from '../clock.ts';
import { readConfig } from '../config.ts';
import { noteTried } from '../followup/noteTried.ts';
import { keepsOff } from '../followup/readyToGoLive.ts';
import { openDatabase, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { realCarriers } from '../realCarriers.ts';
import {
  checkCarriers,
  checkZones,
  namedOutside,
  REAL_WORLD,
  type SetupCheck,
  whatWorked,
} from '../setupChecks.ts';
import { lockFolder } from '../store/lock.ts';
import { firstShop } from '../store/shops.ts';
import { chosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

export const setupCommand: Command = {
  help: `afterfit setup

Checks the settings, the database, the data of time zones, sign-in at the carriers of texts and emails, whether the public
address comes to this shop, SPF and DMARC of the mail domain, and what keeps carriers off. Sends nothing. What works here is
ticked on page Shop.
With a server running on the same data folder the public address can be checked, and the server's pages tell of the rest.

Exit code: 0 nothing is wrong, 1 something is.`,
  async run() {
    const config = readConfig();
    if (!config.ok) {
      for (const { what, mend } of config.problems)
        tell({ what: 'settings', how: 'wrong', told: `${what}. ${mend}` });
      return 1;
    }
    const outside = await checkCarriers(config.value.carriers, systemClock, REAL_WORLD);
    const checks: SetupCheck[] = [
      { what: 'settings', how: 'well', told: 'all can be read' },
      checkZones(process.versions.tz),
      ...outside,
      ...(await checkShop(config.value, outside)),
    ];
    checks.forEach(tell);
    return checks.some((one) => one.how === 'wrong') ? 1 : 0;
  },
};

type Config = Extract<ReturnType<typeof readConfig>, { ok: true }>['value'];

async function checkShop(config: Config, outside: readonly SetupCheck[]): Promise<SetupCheck[]> {
  const { dataFolder, databaseUrl, carriers } = config;
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  if (kind === undefined) {
    return [{ what: 'database', how: 'look', told: 'there is no shop yet; run “npm start” once and choose' }];
  }
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok) {
    const told = `a server works on it (process ${lock.owner.pid}); its pages tell what keeps carriers off`;
    return [{ what: 'database', how: 'well', told }];
  }
  try {
    const source = sourceOf(config);
    const opened = await openDatabase(source, kind, openLog(config.log), () => {});
    const { db } = opened.database;
    const shop = await firstShop(db);
    const checks: SetupCheck[] = [
      { what: 'database', how: 'well', told: 'opens, and its tables are up to date' },
    ];
    if (shop?.kind === 'own') {
      const real = realCarriers(carriers, async () => undefined, systemClock, shop);
      const named = namedOutside(carriers);
      const shell = { db, clock: systemClock };
      await noteTried(shell, shop.shop_id, named, whatWorked(outside), 'afterfit setup');
      const missing = await keepsOff(shell, real.carrier, shop.shop_id, named);
      real.close();
      checks.push(
        missing.length === 0
          ? {
              what: 'before you go live',
              how: 'well',
              told: 'all nine ticks are there: carriers may be used',
            }
          : {
              what: 'before you go live',
              how: 'look',
              told: `carriers stay off; open on page Shop: ${missing.join(', ')}`,
            },
      );
    }
    opened.journal.close();
    await opened.database.close();
    return checks;
  } catch (error) {
    return [{ what: 'database', how: 'wrong', told: error instanceof Error ? error.message : String(error) }];
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

const MARKS = { well: 'ok    ', off: 'off   ', look: 'look  ', wrong: 'WRONG ' } as const;

const tell = ({ what, how, told }: SetupCheck): void => {
  process.stdout.write(`${MARKS[how]}${what}: ${told}\n`);
};
