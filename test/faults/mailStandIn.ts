import type { AddressInfo } from 'node:net';
import { simpleParser } from 'mailparser';
import { SMTPServer } from 'smtp-server';

export type GotMail = {
  readonly to: readonly string[];
  readonly subject: string;
  readonly text: string;
  /** The id of the call or attempt, as it stands in the Message-ID. */
  readonly callId: string;
};

/** A mail server on this machine that takes everything, by a real dialogue. */
export async function startMailStandIn() {
  const got: GotMail[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData(stream, session, done) {
      const pieces: Buffer[] = [];
      stream.on('data', (piece: Buffer) => pieces.push(piece));
      stream.on('end', async () => {
        const mail = await simpleParser(Buffer.concat(pieces));
        got.push({
          to: session.envelope.rcptTo.map((one) => one.address),
          subject: mail.subject ?? '',
          text: mail.text ?? '',
          callId: /^<([^@.>]+)@/.exec(mail.messageId ?? '')?.[1] ?? '',
        });
        done();
      });
    },
  });
  server.on('error', () => {});
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  return {
    port: (server.server.address() as AddressInfo).port,
    got: got as readonly GotMail[],
    stop: () => new Promise<void>((done) => server.close(() => done())),
  };
}
