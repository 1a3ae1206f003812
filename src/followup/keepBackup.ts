import type { Shell } from './shell.ts';

const HOUR_MS = 3_600_000;
const KEPT_HOURS = 48;
/** A copy that is so late is said on every page. */
const LATE_HOURS = 3;

/** Each hour a copy of all records beside the embedded database, for 48 hours. A server keeps its own. */
export async function keepBackup({ copies, clock }: Shell): Promise<boolean> {
  if (!copies) return false;
  const now = clock.now();
  const newest = copies.newest();
  if (newest && newest <= now && now.getTime() - newest.getTime() < HOUR_MS) return false;
  // Room first: on a full disk the oldest make way for the newest.
  copies.dropOlderThan(new Date(now.getTime() - KEPT_HOURS * HOUR_MS));
  await copies.put(now);
  return true;
}

/** Said on every page while hourly copies fail: a power cut would then cost more than an hour. */
export function copyIsLate({ copies, clock }: Pick<Shell, 'copies' | 'clock'>): string | undefined {
  if (!copies) return undefined;
  const newest = copies.newest();
  if (newest && clock.now().getTime() - newest.getTime() < LATE_HOURS * HOUR_MS) return undefined;
  return 'No hourly copy of the records could be made of late. See whether the disk is full or read-only.';
}
