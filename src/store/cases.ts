import type { Selectable, Updateable } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type CaseFile = Selectable<Tables['case_file']>;

export async function findCase(db: Db | Trx, shopId: string, caseId: string): Promise<CaseFile | undefined> {
  return db
    .selectFrom('case_file')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .executeTakeFirst();
}

export async function openCaseOf(
  db: Db | Trx,
  shopId: string,
  pairId: string,
): Promise<CaseFile | undefined> {
  return db
    .selectFrom('case_file')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .where('closed_at', 'is', null)
    .executeTakeFirst();
}

export async function openCase(
  trx: Trx,
  shopId: string,
  pairId: string,
  wearerId: string,
  at: Date,
): Promise<CaseFile> {
  return trx
    .insertInto('case_file')
    .values({
      shop_id: shopId,
      case_id: newId(at),
      pair_id: pairId,
      wearer_id: wearerId,
      state: 'new',
      labels: [],
      held_by: null,
      again_on: null,
      leading_cause: null,
      leading_share: null,
      leading_why: null,
      act: null,
      act_way: null,
      act_why: null,
      question: null,
      newest_inbound_id: null,
      opened_at: at,
      changed_at: at,
      closed_at: null,
      outcome: null,
    })
    .returningAll()
    .executeTakeFirstOrThrow();
}

export type CaseChange = Omit<
  Updateable<Tables['case_file']>,
  'shop_id' | 'case_id' | 'version' | 'changed_at'
>;

/**
 * Changes a case and raises its version. With `seenVersion` the change is refused (false) when somebody changed the case
 * since that version was on the screen.
 */
export async function changeCase(
  trx: Trx,
  shopId: string,
  caseId: string,
  change: CaseChange,
  at: Date,
  seenVersion?: number,
): Promise<boolean> {
  let update = trx
    .updateTable('case_file')
    .set((eb) => ({ ...change, version: eb('version', '+', 1), changed_at: at }))
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId);
  if (seenVersion !== undefined) update = update.where('version', '=', seenVersion);
  const done = await update.executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

export async function addCaseEvent(
  trx: Trx,
  shopId: string,
  caseId: string,
  kind: string,
  detail: Record<string, unknown>,
  by: string,
  at: Date,
): Promise<void> {
  await addCaseEvents(trx, shopId, caseId, [{ kind, detail, by }], at);
}

export type NewCaseEvent = {
  readonly kind: string;
  readonly detail: Readonly<Record<string, unknown>>;
  readonly by: string;
};

/** Several events of one moment, in their order. */
export async function addCaseEvents(
  trx: Trx,
  shopId: string,
  caseId: string,
  events: readonly NewCaseEvent[],
  at: Date,
): Promise<void> {
  await trx
    .insertInto('case_event')
    .values(
      events.map(({ kind, detail, by }) => ({
        shop_id: shopId,
        event_id: newId(at),
        case_id: caseId,
        kind,
        detail: JSON.stringify(detail),
        by_name: by,
        at,
      })),
    )
    .execute();
}

/**
 * Keeps what was on the screen: facts used, every contribution, the catalogue's version. Never changed afterwards. The case
 * is changed with it.
 */
export async function keepRanking(
  trx: Trx,
  shopId: string,
  caseId: string,
  ranking: {
    readonly labels: readonly string[];
    readonly facts: unknown;
    readonly weighing: unknown;
    readonly catalogueVersion: string;
  },
  change: CaseChange,
  at: Date,
): Promise<void> {
  await trx
    .with('kept', (kept) =>
      kept.insertInto('ranking_snapshot').values({
        shop_id: shopId,
        snapshot_id: newId(at),
        case_id: caseId,
        labels: [...ranking.labels],
        facts: JSON.stringify(ranking.facts),
        weighing: JSON.stringify(ranking.weighing),
        catalogue_version: ranking.catalogueVersion,
        at,
      }),
    )
    .updateTable('case_file')
    .set((eb) => ({ ...change, version: eb('version', '+', 1), changed_at: at }))
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .execute();
}

/** The questions that a case was asked, but for those that were taken back before they left. */
export async function questionsAsked(
  db: Db | Trx,
  shopId: string,
  caseId: string,
): Promise<{ detail: Record<string, unknown>; at: Date }[]> {
  const rows = await db
    .selectFrom('case_event')
    .select(['kind', 'detail', 'at'])
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .where('kind', 'in', ['asked', 'unsent'])
    .execute();
  const back = new Set(rows.filter(({ kind }) => kind === 'unsent').map(({ detail }) => detail.message));
  return rows.filter(({ kind, detail }) => kind === 'asked' && !back.has(detail.message ?? null));
}
