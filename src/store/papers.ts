import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Person } from './shops.ts';
import type { PaperKind, Tables } from './tables.ts';

export type HoldEvent = Selectable<Tables['bench_hold_event']>;

/** What was done about holding a pair back, oldest first. */
export async function holdEvents(db: Db | Trx, shopId: string, jobId: string): Promise<HoldEvent[]> {
  return db
    .selectFrom('bench_hold_event')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .orderBy('at')
    .orderBy('event_id')
    .execute();
}

export async function addHoldEvent(
  trx: Trx,
  shopId: string,
  event: {
    readonly jobId: string;
    readonly kind: HoldEvent['kind'];
    readonly why: string;
    readonly by: string;
    readonly licenceNumber: string | null;
  },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('bench_hold_event')
    .values({
      shop_id: shopId,
      event_id: newId(at),
      job_id: event.jobId,
      kind: event.kind,
      why: event.why,
      by_name: event.by,
      licence_number: event.licenceNumber,
      at,
    })
    .execute();
}

/** Who may sign on a day: active, with a licence number that has not run out. */
export async function licensedOn(db: Db | Trx, shopId: string, today: string): Promise<LicensedPerson[]> {
  return (await db
    .selectFrom('person')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('active', '=', true)
    .where('licence_number', 'is not', null)
    .where('licence_number', '<>', '')
    .where('licensed_until', '>=', today)
    .orderBy('created_at')
    .execute()) as LicensedPerson[];
}

export type LicensedPerson = Person & { licence_number: string; licensed_until: string };

export type PaperRow = {
  paper_id: string;
  kind: PaperKind;
  content: unknown;
  made_by: string;
  at: Date;
  person_name: string | null;
  licence_number: string | null;
  answers: Record<string, unknown> | null;
  signed_at: Date | null;
};

/** Papers of a case, oldest first, each with its signature if it has one. */
export async function papersOf(db: Db | Trx, shopId: string, caseId: string): Promise<PaperRow[]> {
  return db
    .selectFrom('paper as p')
    .leftJoin('signature as s', (join) =>
      join.onRef('s.shop_id', '=', 'p.shop_id').onRef('s.paper_id', '=', 'p.paper_id'),
    )
    .select([
      'p.paper_id',
      'p.kind',
      'p.content',
      'p.made_by',
      'p.at',
      's.person_name',
      's.licence_number',
      's.answers',
      's.at as signed_at',
    ])
    .where('p.shop_id', '=', shopId)
    .where('p.case_id', '=', caseId)
    .orderBy('p.at')
    .orderBy('p.paper_id')
    .execute();
}

export async function keepPaper(
  trx: Trx,
  shopId: string,
  paper: {
    readonly caseId: string;
    readonly kind: PaperKind;
    readonly content: unknown;
    readonly snapshotId: string | null;
    readonly by: string;
  },
  at: Date,
): Promise<string> {
  const paperId = newId(at);
  await trx
    .insertInto('paper')
    .values({
      shop_id: shopId,
      paper_id: paperId,
      case_id: paper.caseId,
      kind: paper.kind,
      content: JSON.stringify(paper.content),
      snapshot_id: paper.snapshotId,
      made_by: paper.by,
      at,
    })
    .execute();
  return paperId;
}

export async function keepSignature(
  trx: Trx,
  shopId: string,
  paperId: string,
  person: LicensedPerson,
  answers: Readonly<Record<string, unknown>>,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('signature')
    .values({
      shop_id: shopId,
      signature_id: newId(at),
      paper_id: paperId,
      person_id: person.person_id,
      person_name: person.name,
      licence_number: person.licence_number,
      licensed_until: person.licensed_until,
      answers: JSON.stringify(answers),
      at,
    })
    .execute();
}

/** How many pairs came before this one for the same trouble: each remake replaces the pair before it. */
export async function remakesBefore(db: Db | Trx, shopId: string, pairId: string): Promise<number> {
  const found = await sql<{ n: number }>`
    with recursive chain as (
      select pair_id, replaces_pair_id, 0 as n from pair where shop_id = ${shopId} and pair_id = ${pairId}
      union all
      select p.pair_id, p.replaces_pair_id, c.n + 1 from pair p join chain c on p.pair_id = c.replaces_pair_id
      where p.shop_id = ${shopId} and c.n < 20
    ) select coalesce(max(n), 0)::int as n from chain`.execute(db);
  return found.rows[0]!.n;
}

export async function newestSnapshotId(db: Db | Trx, shopId: string, caseId: string): Promise<string | null> {
  const row = await db
    .selectFrom('ranking_snapshot')
    .select('snapshot_id')
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .orderBy('at', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row?.snapshot_id ?? null;
}

/** What a wearer wrote or said that belongs to a case, oldest first. */
export async function complaintOf(db: Db | Trx, shopId: string, wearerId: string, caseId: string, limit = 6) {
  const rows = await db
    .selectFrom('inbound_standing as s')
    .innerJoin('inbound as i', (join) =>
      join.onRef('i.shop_id', '=', 's.shop_id').onRef('i.inbound_id', '=', 's.inbound_id'),
    )
    .select(['i.body', 'i.received_at'])
    .where('s.shop_id', '=', shopId)
    .where('s.wearer_id', '=', wearerId)
    .where('s.case_id', '=', caseId)
    .orderBy('s.received_at', 'desc')
    .limit(limit)
    .execute();
  return rows.reverse();
}
