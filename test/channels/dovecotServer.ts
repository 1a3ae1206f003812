import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createConnection, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const BINARY = '/usr/sbin/dovecot';

export type DovecotServer = {
  readonly port: number;
  readonly user: string;
  readonly password: string;
  stop(): void;
};

/** Whether Debian's IMAP server is on this machine; `.ci/run` installs it. */
export const hasDovecot = (): boolean => existsSync(BINARY) && process.getuid?.() === 0;

/**
 * Debian's Dovecot on a loopback port with one mailbox, from one file of settings, under accounts that it finds on the machine.
 * It is started detached, with nothing of ours for its output to hang on, and ends with the test.
 */
export async function startDovecot(): Promise<DovecotServer> {
  const home = mkdtempSync(join(tmpdir(), 'afterfit-dovecot-'));
  const port = await freePort();
  const [uid, gid] = [65534, 65534];
  const mail = join(home, 'mail');
  for (const folder of ['run', 'state']) mkdirSync(join(home, folder));
  mkdirSync(mail);
  chownSync(mail, uid, gid);
  execFileSync('chmod', ['755', home]);
  const settings = join(home, 'dovecot.conf');
  writeFileSync(settings, settingsFor({ home, port, mail, uid, gid }));
  const server: ChildProcess = spawn(BINARY, ['-F', '-c', settings], { detached: true, stdio: 'ignore' });
  server.unref();
  try {
    await answers(port, server);
  } catch (error) {
    const log = join(home, 'log');
    throw new Error(`${String(error)}\n${existsSync(log) ? readFileSync(log, 'utf8') : ''}`);
  }
  return {
    port,
    user: 'care',
    password: 'right',
    stop() {
      server.kill('SIGTERM');
      server.once('exit', () => rmSync(home, { recursive: true, force: true }));
    },
  };
}

const settingsFor = (of: { home: string; port: number; mail: string; uid: number; gid: number }) => `
base_dir = ${of.home}/run
state_dir = ${of.home}/state
log_path = ${of.home}/log
protocols = imap
listen = 127.0.0.1
ssl = no
disable_plaintext_auth = no
mail_location = maildir:${of.mail}/%u
first_valid_uid = ${of.uid}
default_internal_user = nobody
default_internal_group = nogroup
default_login_user = nobody
service imap-login {
  chroot =
  inet_listener imap {
    port = ${of.port}
  }
  inet_listener imaps {
    port = 0
  }
}
service anvil {
  chroot =
}
passdb {
  driver = static
  args = password=right
}
userdb {
  driver = static
  args = uid=${of.uid} gid=${of.gid} home=${of.mail}/%u
}
`;

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      const port = typeof address === 'object' && address ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}

/** Waits until the server greets. */
async function answers(port: number, server: ChildProcess): Promise<void> {
  for (let tries = 0; tries < 200; tries++) {
    if (server.exitCode !== null) throw new Error(`dovecot stopped at once with ${server.exitCode}`);
    if (await greets(port)) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('dovecot did not answer');
}

function greets(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const line = createConnection(port, '127.0.0.1');
    const end = (well: boolean) => {
      line.destroy();
      resolve(well);
    };
    line.once('data', (greeting) => end(greeting.toString().startsWith('* OK')));
    line.once('error', () => end(false));
    line.once('close', () => end(false));
  });
}
