import { z } from 'zod';
import { bad, type Checked, good, type Problem } from './problems.ts';

/** Every setting from the environment: name, default, what it is for. The README's table is compared with this in a test. */
export const SETTINGS = {
  AFTERFIT_DATA: {
    schema: z.string().min(1).default('data'),
    byDefault: 'data',
    about: 'Folder of the embedded database, the journal of replies and the lock.',
  },
  AFTERFIT_HOST: {
    schema: z
      .union([z.enum(['localhost']), z.ipv4(), z.ipv6()], 'an address such as 0.0.0.0, or localhost')
      .default('127.0.0.1'),
    byDefault: '127.0.0.1',
    about:
      'Address to listen on. Another than this machine’s own only once an owner signs in with a second factor.',
  },
  AFTERFIT_PORT: {
    schema: z.coerce.number().int().min(0).max(65535).optional(),
    byDefault: 'the first free one from 4310',
    about: 'Port to listen on; when it is given and taken, the start is refused.',
  },
  AFTERFIT_PAGES_URL: {
    schema: z
      .string()
      .regex(/^https:\/\/[^/?#]+$/, 'https:// and a host, nothing after it')
      .optional(),
    byDefault: 'none: only this machine',
    about:
      'Address under which people of the shop open the pages from elsewhere, by a proxy with a certificate.',
  },
  AFTERFIT_TRUSTED_PROXIES: {
    schema: z
      .string()
      .regex(/^[0-9a-f.:]+(, *[0-9a-f.:]+)*$/i, 'addresses with commas between')
      .optional(),
    byDefault: 'none: nobody’s word is taken',
    about:
      'Addresses of proxies that are believed when they say who asks (X-Forwarded-For, X-Forwarded-Proto).',
  },
  DATABASE_URL: {
    schema: z
      .string()
      .regex(/^postgres(ql)?:\/\//, 'starts with postgres:// or postgresql://')
      .optional(),
    byDefault: 'none: the embedded database',
    about: 'Address of a PostgreSQL server (15 or newer) to use instead of the embedded database.',
  },
  DATABASE_OWNER_URL: {
    schema: z
      .string()
      .regex(/^postgres(ql)?:\/\//, 'starts with postgres:// or postgresql://')
      .optional(),
    byDefault: 'DATABASE_URL',
    about:
      'Address with the sign-in of the tables’ owner, for schema and backup; DATABASE_URL may then sign in as a user who can only work for shops.',
  },
  AFTERFIT_DATABASE_ROLE: {
    schema: z
      .string()
      .regex(/^[a-z_][a-z0-9_]{0,62}$/, 'small letters, digits and _')
      .default('afterfit_app'),
    byDefault: 'afterfit_app',
    about:
      'Role that works for shops on a server: no superuser, no bypassrls. It is made where that is allowed.',
  },
  AFTERFIT_BACKUP_PASSPHRASE: {
    schema: z.string().min(12, 'at least 12 letters').optional(),
    byDefault: 'none',
    about:
      'What backups are sealed with and opened by. Keep it away from the machine: without it none opens.',
  },
  AFTERFIT_LOG: {
    schema: z.enum(['info', 'warn', 'silent']).default('warn'),
    byDefault: 'warn',
    about: 'How much is written to standard error.',
  },
  AFTERFIT_FACTOR_KEY: {
    schema: z.string().min(32, 'at least 32 letters').optional(),
    byDefault: 'keys.secret in the data folder; on a server none',
    about:
      'Key under which secrets of second factors lie in the database, the same for all processes. Keep it apart from backups; without it the factors are set up anew.',
  },
  AFTERFIT_METRICS_TOKEN: {
    schema: z.string().min(24, 'at least 24 letters').optional(),
    byDefault: 'none: only from this machine',
    about: 'Asked of whoever reads /metrics, as Authorization: Bearer TOKEN.',
  },
  AFTERFIT_TEXT_ACCOUNT: {
    schema: z
      .string()
      .regex(/^AC[0-9a-f]{32}$/i, 'AC and 32 digits or letters a to f')
      .optional(),
    byDefault: 'none: no texts',
    about: 'Account at the carrier of texts (Twilio). With token and sender it switches texts on.',
  },
  AFTERFIT_TEXT_TOKEN: {
    schema: z.string().min(16).optional(),
    byDefault: 'none',
    about: 'The account’s auth token; also what the carrier signs its calls to us with.',
  },
  AFTERFIT_TEXT_FROM: {
    schema: z
      .string()
      .regex(
        /^(\+[1-9]\d{6,14}|MG[0-9a-f]{32})$/i,
        'a number such as +12025550100, or a messaging service (MG…)',
      )
      .optional(),
    byDefault: 'none',
    about: 'The registered number that texts come from.',
  },
  AFTERFIT_TEXT_RATE: {
    schema: z.coerce.number().positive().max(100).default(1),
    byDefault: '1',
    about: 'Texts a second that the carrier allows this sender.',
  },
  AFTERFIT_PUBLIC_URL: {
    schema: z
      .string()
      .regex(/^https:\/\/[^/?#]+$/, 'https:// and a host, nothing after it')
      .optional(),
    byDefault: 'none: the carrier is asked each minute, letters go without links',
    about:
      'Address under which the carrier reaches /hooks/ and wearers reach /w/ and /style.css here, by a proxy with a certificate. With the secret it puts links into letters.',
  },
  AFTERFIT_SMTP_HOST: {
    schema: z.string().min(1).optional(),
    byDefault: 'none: no emails',
    about: 'Mail server for emails out. With mailbox, its sign-in and secret it switches emails on.',
  },
  AFTERFIT_SMTP_PORT: {
    schema: z.coerce.number().int().min(1).max(65535).default(587),
    byDefault: '587',
    about: 'Its port; on 465 the line is encrypted from the first byte.',
  },
  AFTERFIT_SMTP_USER: {
    schema: z.string().min(1).optional(),
    byDefault: 'none: no sign-in',
    about: 'User name at the mail server.',
  },
  AFTERFIT_SMTP_PASSWORD: {
    schema: z.string().min(1).optional(),
    byDefault: 'none',
    about: 'Password at the mail server.',
  },
  AFTERFIT_IMAP_HOST: {
    schema: z.string().min(1).optional(),
    byDefault: 'none',
    about:
      'Mail server that the mailbox is read from; without it emails stay off, since replies would not come in.',
  },
  AFTERFIT_IMAP_PORT: {
    schema: z.coerce.number().int().min(1).max(65535).default(993),
    byDefault: '993',
    about: 'Its port; on 993 the line is encrypted from the first byte.',
  },
  AFTERFIT_IMAP_USER: {
    schema: z.string().min(1).optional(),
    byDefault: 'none',
    about: 'User name of the mailbox.',
  },
  AFTERFIT_IMAP_PASSWORD: {
    schema: z.string().min(1).optional(),
    byDefault: 'none',
    about: 'Password of the mailbox.',
  },
  AFTERFIT_MAILBOX: {
    schema: z.email('an address such as care@shop.example').optional(),
    byDefault: 'none',
    about:
      'Address that emails come from and replies go to; the part before the @ must take +something behind it.',
  },
  AFTERFIT_BOUNCE_MAILBOX: {
    schema: z.email('an address such as bounce@shop.example').optional(),
    byDefault: 'the mailbox',
    about: 'Address that bounces come back to.',
  },
  AFTERFIT_SECRET: {
    schema: z.string().min(32, 'at least 32 letters').optional(),
    byDefault: 'none',
    about:
      'Secret of this shop’s reply addresses and links; keep it, or replies to older emails go to the tray and older links end.',
  },
} as const;

/** What switches real carriers on; undefined where nothing is set. */
export type CarrierSettings = {
  /** What links in letters are made with; undefined: letters go without. */
  readonly links?: { readonly base: string; readonly secret: string } | undefined;
  readonly text:
    | {
        readonly accountSid: string;
        readonly authToken: string;
        readonly from: string;
        readonly perSecond: number;
        readonly publicBase: string | undefined;
      }
    | undefined;
  readonly mail:
    | {
        readonly host: string;
        readonly port: number;
        readonly user: string | undefined;
        readonly password: string | undefined;
        readonly mailbox: string;
        readonly bounceMailbox: string;
        readonly secret: string;
        readonly imap: {
          readonly host: string;
          readonly port: number;
          readonly user: string;
          readonly password: string;
        };
      }
    | undefined;
};

export type Config = {
  readonly dataFolder: string;
  readonly host: string;
  readonly port: number | undefined;
  readonly pagesUrl: string | undefined;
  readonly trustedProxies: readonly string[];
  readonly databaseUrl: string | undefined;
  readonly databaseOwnerUrl: string | undefined;
  readonly databaseRole: string;
  readonly backupPassphrase: string | undefined;
  readonly log: 'info' | 'warn' | 'silent';
  readonly metricsToken: string | undefined;
  readonly factorKey: string | undefined;
  readonly carriers: CarrierSettings;
};

/** The only place that reads the environment. All faults are told together. */
export function readConfig(
  environment: Readonly<Record<string, string | undefined>> = process.env,
): Checked<Config> {
  const problems: Problem[] = [];
  const read = <T>(name: keyof typeof SETTINGS, schema: z.ZodType<T>): T => {
    const raw = environment[name] === '' ? undefined : environment[name];
    const result = schema.safeParse(raw);
    if (result.success) return result.data;
    problems.push({
      code: 'setting',
      what: `${name} is set to “${raw ?? ''}”, which is not allowed`,
      where: 'environment',
      mend: `${result.error.issues[0]?.message ?? 'see the README'}; unset it to use ${SETTINGS[name].byDefault}.`,
    });
    return undefined as T;
  };
  const config: Config = {
    dataFolder: read('AFTERFIT_DATA', SETTINGS.AFTERFIT_DATA.schema),
    host: read('AFTERFIT_HOST', SETTINGS.AFTERFIT_HOST.schema),
    port: read('AFTERFIT_PORT', SETTINGS.AFTERFIT_PORT.schema),
    pagesUrl: read('AFTERFIT_PAGES_URL', SETTINGS.AFTERFIT_PAGES_URL.schema),
    trustedProxies:
      read('AFTERFIT_TRUSTED_PROXIES', SETTINGS.AFTERFIT_TRUSTED_PROXIES.schema)?.split(/, */) ?? [],
    databaseUrl: read('DATABASE_URL', SETTINGS.DATABASE_URL.schema),
    databaseOwnerUrl: read('DATABASE_OWNER_URL', SETTINGS.DATABASE_OWNER_URL.schema),
    backupPassphrase: read('AFTERFIT_BACKUP_PASSPHRASE', SETTINGS.AFTERFIT_BACKUP_PASSPHRASE.schema),
    databaseRole: read('AFTERFIT_DATABASE_ROLE', SETTINGS.AFTERFIT_DATABASE_ROLE.schema),
    log: read('AFTERFIT_LOG', SETTINGS.AFTERFIT_LOG.schema),
    metricsToken: read('AFTERFIT_METRICS_TOKEN', SETTINGS.AFTERFIT_METRICS_TOKEN.schema),
    factorKey: read('AFTERFIT_FACTOR_KEY', SETTINGS.AFTERFIT_FACTOR_KEY.schema),
    carriers: {
      links: readLinks(read),
      text: readText(read, problems),
      mail: readMailOut(read, problems),
    },
  };
  return problems.length > 0 ? bad(...problems) : good(config);
}

type Read = <T>(name: keyof typeof SETTINGS, schema: z.ZodType<T>) => T;

function readLinks(read: Read): CarrierSettings['links'] {
  const base = read('AFTERFIT_PUBLIC_URL', SETTINGS.AFTERFIT_PUBLIC_URL.schema);
  const secret = read('AFTERFIT_SECRET', SETTINGS.AFTERFIT_SECRET.schema);
  return base && secret ? { base, secret } : undefined;
}

function readText(read: Read, problems: Problem[]): CarrierSettings['text'] {
  const accountSid = read('AFTERFIT_TEXT_ACCOUNT', SETTINGS.AFTERFIT_TEXT_ACCOUNT.schema);
  const authToken = read('AFTERFIT_TEXT_TOKEN', SETTINGS.AFTERFIT_TEXT_TOKEN.schema);
  const from = read('AFTERFIT_TEXT_FROM', SETTINGS.AFTERFIT_TEXT_FROM.schema);
  const perSecond = read('AFTERFIT_TEXT_RATE', SETTINGS.AFTERFIT_TEXT_RATE.schema);
  const publicBase = read('AFTERFIT_PUBLIC_URL', SETTINGS.AFTERFIT_PUBLIC_URL.schema);
  if (accountSid && authToken && from) return { accountSid, authToken, from, perSecond, publicBase };
  const missing = {
    AFTERFIT_TEXT_ACCOUNT: accountSid,
    AFTERFIT_TEXT_TOKEN: authToken,
    AFTERFIT_TEXT_FROM: from,
  };
  tellHalf(missing, problems);
  return undefined;
}

function readMailOut(read: Read, problems: Problem[]): CarrierSettings['mail'] {
  const host = read('AFTERFIT_SMTP_HOST', SETTINGS.AFTERFIT_SMTP_HOST.schema);
  const mailbox = read('AFTERFIT_MAILBOX', SETTINGS.AFTERFIT_MAILBOX.schema);
  const secret = read('AFTERFIT_SECRET', SETTINGS.AFTERFIT_SECRET.schema);
  const port = read('AFTERFIT_SMTP_PORT', SETTINGS.AFTERFIT_SMTP_PORT.schema);
  const user = read('AFTERFIT_SMTP_USER', SETTINGS.AFTERFIT_SMTP_USER.schema);
  const password = read('AFTERFIT_SMTP_PASSWORD', SETTINGS.AFTERFIT_SMTP_PASSWORD.schema);
  const bounces = read('AFTERFIT_BOUNCE_MAILBOX', SETTINGS.AFTERFIT_BOUNCE_MAILBOX.schema);
  const imapHost = read('AFTERFIT_IMAP_HOST', SETTINGS.AFTERFIT_IMAP_HOST.schema);
  const imapPort = read('AFTERFIT_IMAP_PORT', SETTINGS.AFTERFIT_IMAP_PORT.schema);
  const imapUser = read('AFTERFIT_IMAP_USER', SETTINGS.AFTERFIT_IMAP_USER.schema);
  const imapPassword = read('AFTERFIT_IMAP_PASSWORD', SETTINGS.AFTERFIT_IMAP_PASSWORD.schema);
  if (host && mailbox && secret && imapHost && imapUser && imapPassword) {
    const imap = { host: imapHost, port: imapPort, user: imapUser, password: imapPassword };
    return { host, port, user, password, mailbox, bounceMailbox: bounces ?? mailbox, secret, imap };
  }
  tellHalf(
    {
      AFTERFIT_SMTP_HOST: host,
      AFTERFIT_MAILBOX: mailbox,
      AFTERFIT_SECRET: secret,
      AFTERFIT_IMAP_HOST: imapHost,
      AFTERFIT_IMAP_USER: imapUser,
      AFTERFIT_IMAP_PASSWORD: imapPassword,
    },
    problems,
  );
  return undefined;
}

/** A carrier that is set by half is a slip and not a choice. */
function tellHalf(values: Readonly<Record<string, string | undefined>>, problems: Problem[]): void {
  const missing = Object.keys(values).filter((name) => values[name] === undefined);
  if (missing.length === 0 || missing.length === Object.keys(values).length) return;
  // What was refused above has been told already.
  if (problems.some((one) => missing.some((name) => one.what.startsWith(`${name} `)))) return;
  problems.push({
    code: 'setting',
    what: `${missing.join(' and ')} must be set too`,
    where: 'environment',
    mend: 'Set it, or unset the others: the carrier then stays off.',
  });
}
