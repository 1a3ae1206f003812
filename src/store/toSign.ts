import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type ToSign = Selectable<Tables['to_sign']>;
/** With the wearer whom it is about; of numbers that came in with jobs, those jobs. */
export type WaitingToSign = ToSign & {
  readonly wearer: string | null;
  readonly jobs: readonly { readonly job_id: string; readonly job_key: string; readonly wearer: string }[];
  readonly jobs_count: number;
};
/** Who signed, with the licence as it stood. */
export type Settled = { readonly name: string; readonly licence: string };

export async function addToSign(
  trx: Trx,
  shopId: string,
  what: {
    /** Given where it may be put down more than once: it is there once. */
    readonly id?: string;
    readonly kind: ToSign['kind'];
    readonly jobId: string | null;
    readonly caseId: string | null;
    readonly detail: Readonly<Record<string, unknown>>;
    readonly by: string;
  },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('to_sign')
    .values({
      shop_id: shopId,
      to_sign_id: what.id ?? newId(at),
      kind: what.kind,
      job_id: what.jobId,
      case_id: what.caseId,
      detail: JSON.stringify(what.detail),
      by_name: what.by,
      at,
    })
    .onConflict((clash) => clash.columns(['shop_id', 'to_sign_id']).doNothing())
    .execute();
}

/** The numbers of these jobs wait for that signature, but for jobs that wait for one already; how many were bound. */
export async function bindJobs(
  trx: Trx,
  shopId: string,
  toSignId: string,
  jobIds: readonly string[],
): Promise<number> {
  const done = await sql`update job set to_sign_id = ${toSignId}
    where shop_id = ${shopId} and job_id = any (${[...jobIds]}) and not exists (
      select from to_sign t where t.shop_id = job.shop_id and t.to_sign_id = job.to_sign_id
        and t.settled is null)`.execute(trx);
  return Number(done.numAffectedRows ?? 0);
}

/** One job waits for a signature of its own from now on. */
export async function bindAlone(trx: Trx, shopId: string, toSignId: string, jobId: string): Promise<void> {
  await trx
    .updateTable('job')
    .set({ to_sign_id: toSignId })
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .execute();
}

export async function jobsBound(db: Db | Trx, shopId: string, toSignId: string): Promise<number> {
  const row = await db
    .selectFrom('job')
    .select(({ fn }) => fn.countAll<number>().as('jobs'))
    .where('shop_id', '=', shopId)
    .where('to_sign_id', '=', toSignId)
    .executeTakeFirstOrThrow();
  return Number(row.jobs);
}

/** How the numbers that a job came in with stand; undefined where nothing was ever to be signed. */
export async function orderSigning(
  db: Db | Trx,
  shopId: string,
  jobId: string,
  lock = false,
): Promise<ToSign | undefined> {
  const asked = db
    .selectFrom('job as j')
    .innerJoin('to_sign as t', (join) =>
      join.onRef('t.shop_id', '=', 'j.shop_id').onRef('t.to_sign_id', '=', 'j.to_sign_id'),
    )
    .selectAll('t')
    .where('j.shop_id', '=', shopId)
    .where('j.job_id', '=', jobId);
  return (lock ? asked.forUpdate('t') : asked).executeTakeFirst();
}

/** Takes away signatures of files that wait for no job any more: all their wearers were erased. */
export async function dropEmptyFiles(trx: Trx, shopId: string): Promise<void> {
  await sql`delete from to_sign t where t.shop_id = ${shopId} and t.kind = 'order' and t.job_id is null
    and t.settled is null and not exists (
      select from job j where j.shop_id = t.shop_id and j.to_sign_id = t.to_sign_id)`.execute(trx);
}

const MOST_NAMED = 200;

/** What waits for a signature, oldest first. */
export async function waitingToSign(db: Db, shopId: string, limit: number): Promise<WaitingToSign[]> {
  return db
    .selectFrom('to_sign as t')
    .leftJoin('job as j', (join) =>
      join.onRef('j.shop_id', '=', 't.shop_id').onRef('j.job_id', '=', 't.job_id'),
    )
    .leftJoin('case_file as f', (join) =>
      join.onRef('f.shop_id', '=', 't.shop_id').onRef('f.case_id', '=', 't.case_id'),
    )
    .leftJoin('wearer as w', (join) =>
      join
        .onRef('w.shop_id', '=', 't.shop_id')
        .on(sql<boolean>`w.wearer_id = coalesce(j.wearer_id, f.wearer_id)`),
    )
    .selectAll('t')
    .select([
      'w.name as wearer',
      sql<number>`case when t.kind = 'order' then (select count(*) from job b
        where b.shop_id = t.shop_id and b.to_sign_id = t.to_sign_id) else 0 end`.as('jobs_count'),
      sql<WaitingToSign['jobs']>`case when t.kind = 'order' then (select coalesce(jsonb_agg(n), '[]') from (
        select b.job_id, b.job_key, bw.name as wearer from job b
        join wearer bw on bw.shop_id = b.shop_id and bw.wearer_id = b.wearer_id
        where b.shop_id = t.shop_id and b.to_sign_id = t.to_sign_id
        order by b.job_id limit ${MOST_NAMED}) n) else '[]' end`.as('jobs'),
    ])
    .where('t.shop_id', '=', shopId)
    .where('t.settled', 'is', null)
    .orderBy('t.at')
    .orderBy('t.to_sign_id')
    .limit(limit)
    .execute();
}

/** One that still waits, locked: two who sign at once do it once. */
export async function lockToSign(trx: Trx, shopId: string, id: string): Promise<ToSign | undefined> {
  return trx
    .selectFrom('to_sign')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('to_sign_id', '=', id)
    .where('settled', 'is', null)
    .forUpdate()
    .executeTakeFirst();
}

export async function closureWaits(db: Db | Trx, shopId: string, caseId: string): Promise<boolean> {
  const row = await db
    .selectFrom('to_sign')
    .select('to_sign_id')
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .where('kind', '=', 'urgent closure')
    .where('settled', 'is', null)
    .executeTakeFirst();
  return row !== undefined;
}

export async function settle(
  trx: Trx,
  shopId: string,
  id: string,
  how: 'signed' | 'turned down',
  by: Settled,
  at: Date,
): Promise<void> {
  await trx
    .updateTable('to_sign')
    .set({ settled: how, settled_by: by.name, licence_number: by.licence, settled_at: at })
    .where('shop_id', '=', shopId)
    .where('to_sign_id', '=', id)
    .execute();
}

export type UnsignedPaper = { kind: string; case_id: string; made_by: string; at: Date; wearer: string };

/** The newest order note or note to a prescriber of each open case, where nobody has signed it. */
export async function unsignedPapers(db: Db, shopId: string): Promise<UnsignedPaper[]> {
  const found = await sql<UnsignedPaper>`
    select p.kind, p.case_id, p.made_by, p.at, w.name as wearer
    from (select distinct on (case_id, kind) * from paper where shop_id = ${shopId}
      order by case_id, kind, at desc, paper_id desc) p
    join case_file f on f.shop_id = p.shop_id and f.case_id = p.case_id and f.closed_at is null
    join wearer w on w.shop_id = f.shop_id and w.wearer_id = f.wearer_id
    where not exists (select from signature s where s.shop_id = p.shop_id and s.paper_id = p.paper_id)
    order by p.at limit 200`.execute(db);
  return found.rows;
}

export type UnsignedRelease = { job_id: string; by_name: string; why: string; at: Date; wearer: string };

/** Releases at the bench by somebody without a licence that nobody has signed since. */
export async function unsignedReleases(db: Db, shopId: string): Promise<UnsignedRelease[]> {
  const found = await sql<UnsignedRelease>`
    select e.job_id, e.by_name, e.why, e.at, w.name as wearer
    from (select distinct on (job_id) * from bench_hold_event where shop_id = ${shopId}
      order by job_id, at desc, event_id desc) e
    join job j on j.shop_id = e.shop_id and j.job_id = e.job_id
    join wearer w on w.shop_id = j.shop_id and w.wearer_id = j.wearer_id
    where e.kind = 'released' and e.licence_number is null
    order by e.at limit 200`.execute(db);
  return found.rows;
}

/** Whether this shop works with licences at all: somebody here has one, be it run out. */
export async function hasLicences(db: Db | Trx, shopId: string): Promise<boolean> {
  const row = await db
    .selectFrom('person')
    .select('person_id')
    .where('shop_id', '=', shopId)
    .where('active', '=', true)
    .where('licence_number', 'is not', null)
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}
