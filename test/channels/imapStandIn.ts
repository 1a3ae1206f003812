import type { AddressInfo } from 'node:net';
import { createServer, type Socket } from 'node:net';

type StoredMail = { uid: number; raw: Buffer; flags: Set<string> };

/**
 * As much of IMAP4rev1 (RFC 3501) as reading one mailbox takes: sign-in, select, search by UID, fetch of header fields and of the
 * whole, flags. New mail is told of at NOOP or at the next select, as real servers may.
 */
export async function startImapStandIn(sign: { readonly user: string; readonly password: string }) {
  const mails: StoredMail[] = [];
  const commands: string[] = [];
  const sockets = new Set<Socket>();
  let uidValidity = 1;
  let dropAfter: string | undefined;

  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('error', () => {});
    socket.write('* OK [CAPABILITY IMAP4rev1] stand-in ready\r\n');
    let pending = '';
    socket.on('data', (piece) => {
      pending += piece.toString('latin1');
      for (;;) {
        const end = pending.indexOf('\r\n');
        if (end < 0) return;
        const line = pending.slice(0, end);
        const literal = /\{(\d+)\+?\}$/.exec(line);
        if (literal) {
          const size = Number(literal[1]);
          const rest = pending.slice(end + 2);
          if (rest.length < size) {
            if (!line.endsWith('+}')) socket.write('+ go on\r\n');
            pending = `${line.replace(/\{(\d+)\+?\}$/, '{$1+}')}\r\n${rest}`;
            return;
          }
          pending = `${line.slice(0, literal.index)}"${rest.slice(0, size)}"${rest.slice(size)}`;
          continue;
        }
        pending = pending.slice(end + 2);
        obey(socket, line);
      }
    });
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));

  function obey(socket: Socket, line: string): void {
    const [tag = '*', ...rest] = line.split(' ');
    const command = rest.join(' ');
    commands.push(command.replace(sign.password, '…'));
    const say = (text: string | Buffer) => socket.write(text);
    const ok = (words = 'done') => say(`${tag} OK ${words}\r\n`);
    if (dropAfter !== undefined && command.toUpperCase().includes(dropAfter)) {
      dropAfter = undefined;
      socket.destroy();
      return;
    }
    const verb = command.toUpperCase();
    if (verb.startsWith('CAPABILITY')) {
      say('* CAPABILITY IMAP4rev1\r\n');
      return void ok();
    }
    if (verb.startsWith('LOGIN')) {
      const right = command.includes(sign.user) && command.includes(sign.password);
      return void (right ? ok('[CAPABILITY IMAP4rev1] in') : say(`${tag} NO [AUTHENTICATIONFAILED] no\r\n`));
    }
    if (verb.startsWith('LIST') || verb.startsWith('LSUB')) {
      say(`* ${verb.slice(0, 4)} (\\HasNoChildren) "/" "INBOX"\r\n`);
      return void ok();
    }
    if (verb.startsWith('SELECT')) {
      say(`* FLAGS (\\Seen \\Deleted)\r\n* ${mails.length} EXISTS\r\n* 0 RECENT\r\n`);
      say(`* OK [UIDVALIDITY ${uidValidity}] ok\r\n* OK [UIDNEXT ${nextUid()}] ok\r\n`);
      return void ok('[READ-WRITE] selected');
    }
    if (verb.startsWith('UID SEARCH')) {
      const from = Number(/UID (\d+):\*/.exec(verb)?.[1] ?? 1);
      const found = mails.filter((mail, at) => mail.uid >= from || at === mails.length - 1);
      say(`* SEARCH${found.map((mail) => ` ${mail.uid}`).join('')}\r\n`);
      return void ok();
    }
    if (verb.startsWith('UID FETCH')) {
      const uid = Number(/UID FETCH (\d+)/.exec(verb)?.[1]);
      const at = mails.findIndex((mail) => mail.uid === uid);
      if (at >= 0) say(fetched(at, command));
      return void ok();
    }
    if (verb.startsWith('UID STORE')) {
      const uid = Number(/UID STORE (\d+)/.exec(verb)?.[1]);
      mails.find((mail) => mail.uid === uid)?.flags.add('\\Seen');
      return void ok();
    }
    if (verb.startsWith('LOGOUT')) {
      say('* BYE\r\n');
      ok();
      socket.end();
      return;
    }
    ok();
  }

  function fetched(at: number, command: string): Buffer {
    const { uid, raw } = mails[at]!;
    const names = /HEADER\.FIELDS \(([^)]*)\)/i
      .exec(command)?.[1]
      ?.toLowerCase()
      .replaceAll('"', '')
      .split(' ');
    const body = names ? headerFields(raw, names) : raw;
    const item = names ? /BODY(?:\.PEEK)?(\[HEADER\.FIELDS \([^)]*\)\])/i.exec(command)![1]! : '[]<0>';
    return Buffer.concat([
      Buffer.from(`* ${at + 1} FETCH (UID ${uid} BODY${item} {${body.length}}\r\n`),
      body,
      Buffer.from(')\r\n'),
    ]);
  }

  const nextUid = () => (mails.at(-1)?.uid ?? 0) + 1;

  return {
    port: (server.address() as AddressInfo).port,
    mails: mails as readonly StoredMail[],
    commands: commands as readonly string[],
    arrive(raw: string) {
      const mail = {
        uid: nextUid(),
        raw: Buffer.from(raw.replace(/\r?\n/g, '\r\n')),
        flags: new Set<string>(),
      };
      mails.push(mail);
      return mail;
    },
    /** The server numbers its mailbox anew, as after a restore. */
    renumber() {
      uidValidity += 1;
      for (const [at, mail] of mails.entries()) mail.uid = at + 1;
    },
    dropLineAt(verb: string) {
      dropAfter = verb;
    },
    stop: () =>
      new Promise<void>((done) => {
        for (const socket of sockets) socket.destroy();
        server.close(() => done());
      }),
  };
}

function headerFields(raw: Buffer, names: readonly string[]): Buffer {
  const head = raw.toString('latin1').split('\r\n\r\n')[0]!;
  const fields = head
    .split(/\r\n(?![ \t])/)
    .filter((field) => names.includes(field.split(':')[0]!.toLowerCase()));
  return Buffer.from(`${fields.join('\r\n')}\r\n\r\n`, 'latin1');
}
