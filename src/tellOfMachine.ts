import { WallRefused } from '../migrations/shopWalls.ts';

/**
 * What the machine or the database server is to blame for, and what to do; undefined when it is our own fault and the stack is
 * wanted.
 */
export function tellOfMachine(error: unknown): { what: string; mend: string } | undefined {
  if (error instanceof WallRefused) return { what: error.message, mend: '' };
  const { code, path, message } = error as NodeJS.ErrnoException;
  const where = path === undefined ? '' : ` (${path})`;
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
    case '53100':
      return {
        what: `The disk is full${where}: nothing was changed.`,
        mend: 'Make room and try again. Replies that came in before are kept, others come again from carrier and mailbox.',
      };
    case 'EROFS':
    case 'EACCES':
    case 'EPERM':
    case '25006':
      return {
        what: `Nothing may be written there${where}: nothing was changed.`,
        mend: 'See whether the disk is read-only or belongs to another user; AFTERFIT_DATA names another folder.',
      };
    case 'ECONNREFUSED':
    case 'ECONNRESET':
    case 'ETIMEDOUT':
    case 'ENOTFOUND':
    case '57P01':
    case '57P02':
    case '57P03':
      return NOT_ANSWERING;
    case '28P01':
    case '28000':
    case '3D000':
      return {
        what: `The database server does not let us in: ${message}.`,
        mend: 'Check user, password and database in DATABASE_URL.',
      };
    default:
      return SILENT.test(message ?? '') ? NOT_ANSWERING : undefined;
  }
}

/** The driver's words, where it gives no code. */
const SILENT = /^(Connection terminated|timeout exceeded when trying to connect|Query read timeout)/;

const NOT_ANSWERING = {
  what: 'The database server does not answer: nothing was changed.',
  mend: 'Try again in a moment. If it stays, see whether it runs and whether DATABASE_URL is right.',
};
