import { addAudit } from '../store/audit.ts';
import { rowsOfWearer } from '../store/wearerRecords.ts';
import { findWearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';

/** Everything that is on record of one wearer, table by table, as it stands; on the log that it was taken. */
export type WearerExport = {
  readonly wearer: string;
  readonly at: string;
  readonly records: Readonly<Record<string, readonly Readonly<Record<string, unknown>>[]>>;
};

export async function exportWearer(
  shell: Pick<Shell, 'db' | 'clock'>,
  shopId: string,
  wearerId: string,
  by: string,
): Promise<WearerExport | undefined> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const wearer = await findWearer(trx, shopId, wearerId);
    if (!wearer) return undefined;
    const rows = await rowsOfWearer(trx, shopId, wearerId);
    await addAudit(trx, shopId, { by, act: 'wearer exported', subject: wearerId, detail: {} }, now);
    return { wearer: wearer.name, at: now.toISOString(), records: Object.fromEntries(rows) };
  });
}

/** The same for reading: a heading for each kind of record in plain words, a line for each value that is there. */
export function readableExport({ wearer, at, records }: WearerExport): string {
  const parts = Object.entries(records).map(([table, rows]) => {
    const heading = `${table.replaceAll('_', ' ')} (${rows.length})`;
    const told = rows.map((row) =>
      Object.entries(row)
        .filter(([key, value]) => key !== 'shop_id' && value !== null && value !== '')
        .map(([key, value]) => `  ${key.replaceAll('_', ' ')}: ${wordsOf(value)}`)
        .join('\n'),
    );
    return `${heading}\n${'-'.repeat(heading.length)}\n${told.join('\n\n')}\n`;
  });
  return `All records of ${wearer}, as they stood at ${at}\n\n${parts.join('\n')}`;
}

/** JSON inside a record is told in place; a picture by its size: its bytes are in the JSON file. */
function wordsOf(value: unknown): string {
  if (typeof value === 'string')
    return value.startsWith('\\x') ? `${(value.length - 2) / 2} bytes` : value.replaceAll('\n', '\n    ');
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}
