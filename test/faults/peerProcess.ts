import { serve } from '@hono/node-server';
import { tick } from '../../jobs/index.ts';
import type { Channel } from '../../src/channels/channel.ts';
import type { OffsetClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import { openDatabase, openRoom, type Room } from '../../src/house.ts';
import { openLog } from '../../src/log.ts';
import type { RawInbound } from '../../src/store/journal.ts';
import { createApp } from '../../src/web/app.tsx';
import { serveParent } from './childProcess.ts';

/*
 * One of several processes that work for the same shop on one PostgreSQL. Its clock is the parent's, and so is its carrier: a line on
 * a port, which takes down every message that it was handed.
 */
export type ToPeer =
  | {
      readonly do: 'open';
      readonly databaseUrl: string;
      readonly port: number;
      readonly line: string;
      readonly at: string;
    }
  | { readonly do: 'tick'; readonly at: string }
  | { readonly do: 'reply'; readonly raw: RawInbound };
export type FromPeer = { readonly did: ToPeer['do'] } | { readonly failed: string };

let now = new Date(0);
let room: Room;
let shell: Shell;
const clock: OffsetClock = { now: () => now, offsetMs: () => 0, setOffsetMs() {} };

serveParent<ToPeer, FromPeer>(
  async (message) => {
    await act(message);
    return { did: message.do };
  },
  (error) => ({ failed: error.message }),
);

async function act(message: ToPeer): Promise<void> {
  switch (message.do) {
    case 'open': {
      now = new Date(message.at);
      const log = openLog('silent');
      const opened = await openDatabase({ databaseUrl: message.databaseUrl }, 'own', log, () => {});
      room = (await openRoom(opened, 'own', undefined, log, () => clock))!;
      shell = { ...room.shell, carrier: (_shop, kind) => lineOf(message.line, kind) };
      const app = createApp(
        {
          room: () => room,
          hosts: new Set(['127.0.0.1']),
          key: 'k',
          filling: null,
          choose: async () => [],
        } as never,
        log,
      );
      await new Promise<void>((ready) => {
        serve({ fetch: app.fetch, hostname: '127.0.0.1', port: message.port }, () => ready());
      });
      return;
    }
    case 'tick':
      now = new Date(message.at);
      await tick(shell);
      return;
    case 'reply':
      await takeReply(shell, message.raw);
  }
}

const lineOf = (line: string, kind: 'text' | 'email'): Channel => ({
  name: 'line',
  kind,
  async send({ attemptId, to }) {
    const answer = await fetch(`${line}/send`, {
      method: 'POST',
      body: JSON.stringify({ attemptId, to, atMs: now.getTime() }),
    }).catch(() => undefined);
    return answer?.ok
      ? { state: 'accepted', farId: attemptId }
      : { state: 'unsure', why: 'the line was cut' };
  },
  async find(attemptId) {
    const answer = await fetch(`${line}/find/${attemptId}`).catch(() => undefined);
    return answer === undefined ? 'unknown' : answer.status === 200 ? 'accepted' : 'not there';
  },
});
