/**
 * SQL that gives the ids of shops for which something is due at `of_now`. Sparse work is found by going through a partial index
 * that leads with the shop, from one shop that has any to the next: its cost is that of the shops with open work, however
 * much each has and however many shops there are. A kind of work that a job does and that stands here nowhere is done only
 * when the clock comes round; `test/store/shopsWithWork.test.ts` has one of every kind.
 */
export const SHOPS_WITH_WORK = [
  // Due check-ins whose plan runs. Those of paused plans stay where they are, so the shop alone does not say that it has work.
  `select d.id from (
      select distinct c.shop_id as id from public.check_in c where c.state = 'planned' and c.due_at <= of_now) d
    where exists (select from public.check_in c
      join public.plan p on p.shop_id = c.shop_id and p.pair_id = c.pair_id
      where c.shop_id = d.id and c.state = 'planned' and c.due_at <= of_now
        and (p.state = 'running' or (p.state = 'paused' and c.kind = 'have they come')))`,
  fromShopToShop(
    'attempt',
    "t.state in ('planned', 'claimed')",
    "t.send_at <= of_now and (t.state = 'planned' or t.lease_until < of_now)",
  ),
  fromShopToShop('attempt', "t.state in ('handed over', 'unsure')", 't.lease_until < of_now'),
  fromShopToShop('inbound_standing', "t.state = 'raw'", 'true'),
  fromShopToShop(
    'inbound_standing',
    "t.answer_state = 'waiting'",
    "t.wearer_id is not null and t.received_at <= of_now - interval '2 minutes'",
  ),
  // Of what waits in the tray somebody is told once.
  fromShopToShop(
    'inbound_standing',
    "t.state = 'tray'",
    `t.received_at < of_now - interval '2 hours'
      and not exists (select from public.alarm a where a.shop_id = t.shop_id and a.subject_id = t.inbound_id)`,
  ),
  fromShopToShop('alarm', 't.ended_at is null', 't.next_at <= of_now'),
  fromShopToShop('alarm_call', "t.state = 'planned'", '(t.lease_until is null or t.lease_until < of_now)'),
  fromShopToShop('picture', "t.state = 'to fetch'", 't.next_at <= of_now'),
  // Pairs that changed: the review is brought up to date, and who has just got theirs is looked at.
  fromShopToShop('review_change', 'true', 'true'),
  // What the clock alone makes due.
  'select s.shop_id as id from public.shop s where s.clock_at <= of_now',
].join('\n    union ');

function fromShopToShop(table: string, open: string, due: string): string {
  return `select w.id from (
      with recursive walk(id) as (
        (select t.shop_id from public.${table} t where ${open} order by t.shop_id limit 1)
        union all
        select (select t.shop_id from public.${table} t where ${open} and t.shop_id > walk.id
          order by t.shop_id limit 1) from walk where walk.id is not null)
      select walk.id from walk where walk.id is not null) w
    where exists (select from public.${table} t where t.shop_id = w.id and ${open} and ${due})`;
}
