import { readConfig } from '../config.ts';
import { ownerLink } from '../followup/signInLink.ts';
import { openDatabase, openRoom, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { bad, type Checked, good } from '../problems.ts';
import { lockFolder, ownerOf } from '../store/lock.ts';
import { chosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

export const ownerLinkCommand: Command = {
  help: `afterfit owner-link [--second-factor-lost]

Prints a link by which the owner sets a new password. It works once, for a day. With a server running on the same data
folder the work is done through that server.

  --second-factor-lost   take the owner's second factor away too; it is set up anew

Exit code: 0 printed, 1 there is no shop or no way to it.`,
  async run(args) {
    const made = await make(args.includes('--second-factor-lost'));
    if (!made.ok) {
      for (const { what, mend } of made.problems) process.stderr.write(`${what} ${mend}\n`);
      return 1;
    }
    process.stdout.write(`${made.value}\n`);
    return 0;
  },
};

async function make(dropsFactor: boolean): Promise<Checked<string>> {
  const config = readConfig();
  if (!config.ok) return config;
  const { dataFolder, databaseUrl, pagesUrl } = config.value;
  const server = databaseUrl === undefined ? ownerOf(dataFolder) : undefined;
  if (server?.address !== undefined) return throughServer(server.address, server.key ?? '', dropsFactor);
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  if (kind !== 'own')
    return trouble('There is no shop of your own here.', 'Run “npm start” once and choose.');
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok)
    return trouble(`Process ${lock.owner.pid} works on the data folder.`, 'Wait for it, then try again.');
  try {
    const log = openLog(config.value.log);
    const opened = await openDatabase(sourceOf(config.value), kind, log, (words) =>
      process.stderr.write(`${words}\n`),
    );
    const room = await openRoom(opened, kind, undefined, log);
    const path = room && (await ownerLink(room.shell, room.shopId, { onlyFirst: false, dropsFactor }));
    await room?.close();
    if (path === undefined) return trouble('There is no shop yet.', 'Run “npm start” once and choose.');
    return good(
      pagesUrl === undefined ? `Behind the address that “npm start” prints: ${path}` : `${pagesUrl}${path}`,
    );
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

const trouble = (what: string, mend: string) => bad({ code: 'owner-link', what, where: 'owner', mend });

async function throughServer(address: string, key: string, dropsFactor: boolean): Promise<Checked<string>> {
  const asked = `${address}/api/owner-link${dropsFactor ? '?second_factor_lost=yes' : ''}`;
  const answer = await fetch(asked, { method: 'POST', headers: { 'x-afterfit-key': key } });
  if (!answer.ok)
    return trouble(
      `The server at ${address} refused (${answer.status}).`,
      'Is its shop your own? Look at its page.',
    );
  const { link } = (await answer.json()) as { link: string };
  return good(link.startsWith('/') ? `${address}${link}` : link);
}
