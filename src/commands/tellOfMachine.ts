import { WallRefused } from '../../migrations/shopWalls.ts';

/**
 * What the machine or the database server is to blame for, in a sentence with what to do; undefined when it is our own fault and
 * the stack is wanted.
 */
export function tellOfMachine(error: unknown): string | undefined {
  if (error instanceof WallRefused) return error.message;
  const { code, path, message } = error as NodeJS.ErrnoException;
  const where = path === undefined ? '' : ` (${path})`;
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
    case '53100':
      return `The disk is full${where}. Make room and start again: replies that came in before are kept, others come again from carrier and mailbox.`;
    case 'EROFS':
    case 'EACCES':
    case 'EPERM':
    case '25006':
      return `Nothing may be written there${where}. See whether the disk is read-only or belongs to another user; AFTERFIT_DATA names another folder.`;
    case 'ECONNREFUSED':
    case 'ECONNRESET':
    case 'ETIMEDOUT':
    case 'ENOTFOUND':
    case '57P03':
      return `The database server does not answer (${message}). See whether it runs and whether DATABASE_URL is right, then start again.`;
    case '28P01':
    case '28000':
    case '3D000':
      return `The database server does not let us in: ${message}. Check user, password and database in DATABASE_URL.`;
    default:
      return undefined;
  }
}
