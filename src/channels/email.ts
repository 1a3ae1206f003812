import nodemailer from 'nodemailer';
import type { Channel, OutgoingMessage, RefusalAct, SendResult } from './channel.ts';
import { domainOf } from './emailHeaders.ts';
import { subAddress } from './tokens.ts';

export type SmtpSettings = {
  readonly host: string;
  readonly port: number;
  /** TLS from the first byte; else it is asked for as soon as the server offers it. */
  readonly secure: boolean;
  readonly user?: string | undefined;
  readonly password?: string | undefined;
  /** The name beside the address: the shop's. */
  readonly fromName: string;
  /** Where replies are read, and what stands in From: its domain is the one that is signed for. */
  readonly mailbox: string;
  readonly bounceMailbox: string;
  /** Tests set this: any other host than this machine is refused at once. */
  readonly onlyThisMachine?: boolean | undefined;
  readonly deadlineMs?: number | undefined;
};

export type EmailChannel = Channel & {
  /** Signs in and leaves again, for the check of the settings: undefined when all is well, else what is wrong. */
  verify(): Promise<string | undefined>;
  close(): void;
};

const DEADLINE_MS = 20_000;

/**
 * Email out by SMTP. Message-ID, Reply-To and the thread come in the message's headers (`headersFor` in emailHeaders.ts),
 * `Return-Path` among them as the envelope's sender, so that a repeat is the same message and a bounce finds its own way
 * home. A line that fails after the words have gone out leaves the message `unsure`.
 */
export function emailChannel(settings: SmtpSettings): EmailChannel {
  if (settings.onlyThisMachine && !['127.0.0.1', '::1', 'localhost'].includes(settings.host)) {
    throw new Error(`Tests may not write to real people: ${settings.host} is not this machine.`);
  }
  const deadlineMs = settings.deadlineMs ?? DEADLINE_MS;
  const transport = nodemailer.createTransport({
    host: settings.host,
    port: settings.port,
    secure: settings.secure,
    ...(settings.user ? { auth: { user: settings.user, pass: settings.password ?? '' } } : {}),
    connectionTimeout: deadlineMs,
    greetingTimeout: deadlineMs,
    socketTimeout: deadlineMs,
    disableFileAccess: true,
    disableUrlAccess: true,
  });

  // The package names the same step for a line that failed before and after the words; so we note when they begin to go.
  const begun = new Set<unknown>();
  transport.use('stream', (mail, done) => {
    mail.message.processFunc((words) => {
      begun.add(mail.data.messageId);
      return words;
    });
    done();
  });

  async function send(message: OutgoingMessage): Promise<SendResult> {
    const {
      'Message-ID': messageId,
      'Reply-To': replyTo,
      'Return-Path': path,
      ...headers
    } = message.headers ?? {};
    const id = messageId ?? `<${message.attemptId}@${domainOf(settings.mailbox)}>`;
    try {
      const sent = await transport.sendMail({
        from: { name: settings.fromName, address: settings.mailbox },
        to: message.to,
        replyTo: replyTo ?? settings.mailbox,
        envelope: {
          from: path ?? subAddress(settings.bounceMailbox, message.attemptId),
          to: message.to,
        },
        messageId: id,
        subject: message.subject ?? '',
        text: message.text,
        ...(message.html === undefined ? {} : { html: message.html }),
        headers,
      });
      return { state: 'accepted', farId: sent.messageId };
    } catch (error) {
      return afterSmtpError(error, begun.has(id));
    } finally {
      begun.delete(id);
    }
  }

  return {
    name: 'smtp',
    kind: 'email',
    send,
    // A mail server cannot be asked what it took; a bounce or a reply tells.
    find: async () => 'unknown',
    async verify() {
      try {
        await transport.verify();
        return undefined;
      } catch (error) {
        return error instanceof Error ? error.message : String(error);
      }
    },
    close: () => transport.close(),
  };
}

type SmtpError = {
  code?: string;
  command?: string;
  responseCode?: number;
  response?: string;
  message?: string;
};

function afterSmtpError(thrown: unknown, wordsBegan: boolean): SendResult {
  const error = thrown as SmtpError;
  const reply = error.responseCode;
  if (error.code === 'EAUTH') {
    return {
      state: 'refused',
      code: 'EAUTH',
      why: 'the mail server does not accept our sign-in',
      act: 'hold all',
    };
  }
  if (reply !== undefined && reply >= 400) {
    const status = /\b[45]\.\d{1,3}\.\d{1,3}\b/.exec(error.response ?? '')?.[0];
    const code = status ? `${reply} ${status}` : String(reply);
    return {
      state: 'refused',
      code,
      why: `the mail server answered ${code}`,
      act: actOnReply(reply, status),
    };
  }
  const why = error.code ?? error.message ?? 'unknown';
  if (wordsBegan) return { state: 'unsure', why: `no answer from the mail server (${why})` };
  return { state: 'refused', code: error.code ?? 'no line', why: 'no line to the mail server', act: 'later' };
}

/** Class 4: later. 5.1.x or a plain 550 to the address: bad. 5.2.2 full: later. 5.7.x policy: ours to mend. */
function actOnReply(reply: number, status: string | undefined): RefusalAct {
  if (reply < 500) return 'later';
  if (status === undefined)
    return reply === 550 || reply === 551 || reply === 553 ? 'bad address' : 'tell staff';
  if (status === '5.2.2') return 'later';
  if (status.startsWith('5.1.') && status !== '5.1.7' && status !== '5.1.8') return 'bad address';
  return status === '5.2.1' || status === '5.0.0' ? 'bad address' : 'tell staff';
}
