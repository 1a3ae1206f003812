import { type RawBuilder, sql } from 'kysely';
import type { Db } from '../database.ts';

export const LOG_ABOUTS = ['all', 'sent', 'unsure', 'acts', 'settings', 'seen'] as const;
export type LogAbout = (typeof LOG_ABOUTS)[number];

export type LogRow = {
  readonly id: string;
  readonly at: Date;
  readonly by_name: string;
  readonly kind: 'audit' | 'case' | 'message';
  /** The act of the audit, the kind of the case event, or the state of the attempt. */
  readonly act: string;
  readonly detail: Readonly<Record<string, unknown>>;
  /** Who or what it is about, as it is on record; null where only an id of the shop stands. */
  readonly subject: string | null;
  readonly wearer_id: string | null;
  readonly wearer: string | null;
  readonly case_id: string | null;
  readonly job_id: string | null;
};

/** What happened, newest first, after a place in the log. Each source gives at most a page, so that its index serves. */
export async function logRows(
  db: Db,
  shopId: string,
  about: LogAbout,
  after: { readonly at: Date; readonly id: string } | undefined,
  limit: number,
): Promise<LogRow[]> {
  const older = (at: RawBuilder<unknown>, id: RawBuilder<unknown>) =>
    after === undefined ? sql`true` : sql`(${at}, ${id}) < (${after.at}::timestamptz, ${after.id}::text)`;
  const isSetting = sql`(a.act like 'shop set%' or a.act like 'kept answer%' or a.act like 'person%'
    or a.act like 'lab %' or a.act like 'lens design%' or a.act like 'sign%' or a.act like 'token %'
    or a.act like 'set %' or a.act like 'changed their%' or a.act like 'made new recovery%' or a.act like 'took away%')`;
  // Who looked at what stands by itself: it would drown what was done.
  const wasSeen = sql`a.act like 'saw %'`;
  const audits = sql`(select a.audit_id as id, a.at, a.by_name, 'audit' as kind, a.act, a.detail,
      case when a.subject = a.shop_id then null else coalesce(ps.name, a.subject) end as subject,
      coalesce(w.wearer_id, jw.wearer_id, fw.wearer_id) as wearer_id,
      coalesce(w.name, jw.name, fw.name) as wearer, f.case_id, j.job_id
    from audit a
    left join job j on j.shop_id = a.shop_id and j.job_id = a.subject
    left join wearer jw on jw.shop_id = j.shop_id and jw.wearer_id = j.wearer_id
    left join wearer w on w.shop_id = a.shop_id and w.wearer_id = a.subject
    left join case_file f on f.shop_id = a.shop_id and f.case_id = a.subject
    left join wearer fw on fw.shop_id = f.shop_id and fw.wearer_id = f.wearer_id
    left join person ps on ps.shop_id = a.shop_id and ps.person_id = a.subject
    where a.shop_id = ${shopId} and ${older(sql`a.at`, sql`a.audit_id`)}
      and ${about === 'seen' ? wasSeen : sql`not ${wasSeen}`}
      and ${about === 'settings' ? isSetting : about === 'acts' ? sql`not ${isSetting}` : sql`true`}
    order by a.at desc, a.audit_id desc limit ${limit})`;
  const events = sql`(select e.event_id as id, e.at, e.by_name, 'case' as kind, e.kind as act, e.detail,
      null::text as subject, w.wearer_id, w.name as wearer, e.case_id, null::text as job_id
    from case_event e
    join case_file f on f.shop_id = e.shop_id and f.case_id = e.case_id
    join wearer w on w.shop_id = f.shop_id and w.wearer_id = f.wearer_id
    where e.shop_id = ${shopId} and ${older(sql`e.at`, sql`e.event_id`)}
    order by e.at desc, e.event_id desc limit ${limit})`;
  const messages = sql`(select t.attempt_id as id, t.handed_over_at as at,
      coalesce(m.written_by, 'Afterfit') as by_name, 'message' as kind, t.state as act,
      jsonb_build_object('channel', m.channel, 'purpose', m.purpose, 'why', t.why) as detail,
      null::text as subject, w.wearer_id, w.name as wearer, m.case_id, null::text as job_id
    from attempt t
    join message m on m.shop_id = t.shop_id and m.message_id = t.message_id
    join wearer w on w.shop_id = m.shop_id and w.wearer_id = m.wearer_id
    where t.shop_id = ${shopId} and t.handed_over_at is not null
      and ${about === 'unsure' ? sql`t.state = 'unsure'` : sql`true`}
      and ${older(sql`t.handed_over_at`, sql`t.attempt_id`)}
    order by t.handed_over_at desc, t.attempt_id desc limit ${limit})`;
  const sources = {
    all: [audits, events, messages],
    sent: [messages],
    unsure: [messages],
    acts: [audits, events],
    settings: [audits],
    seen: [audits],
  }[about];
  const found = await sql<LogRow>`
    select * from (${sql.join(sources, sql` union all `)}) as happened
    order by at desc, id desc limit ${limit}`.execute(db);
  return found.rows;
}
