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
    schema: z.enum(['127.0.0.1', 'localhost', '::1']).default('127.0.0.1'),
    byDefault: '127.0.0.1',
    about: 'Address to listen on. Only this machine until sign-in exists.',
  },
  AFTERFIT_PORT: {
    schema: z.coerce.number().int().min(0).max(65535).optional(),
    byDefault: 'the first free one from 4310',
    about: 'Port to listen on; when it is given and taken, the start is refused.',
  },
  DATABASE_URL: {
    schema: z
      .string()
      .regex(/^postgres(ql)?:\/\//, 'starts with postgres:// or postgresql://')
      .optional(),
    byDefault: 'none: the embedded database',
    about: 'Address of a PostgreSQL server (15 or newer) to use instead of the embedded database.',
  },
  AFTERFIT_LOG: {
    schema: z.enum(['info', 'warn', 'silent']).default('warn'),
    byDefault: 'warn',
    about: 'How much is written to standard error.',
  },
} as const;

export type Config = {
  readonly dataFolder: string;
  readonly host: string;
  readonly port: number | undefined;
  readonly databaseUrl: string | undefined;
  readonly log: 'info' | 'warn' | 'silent';
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
    databaseUrl: read('DATABASE_URL', SETTINGS.DATABASE_URL.schema),
    log: read('AFTERFIT_LOG', SETTINGS.AFTERFIT_LOG.schema),
  };
  return problems.length > 0 ? bad(...problems) : good(config);
}
