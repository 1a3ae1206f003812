import { type Kysely, sql } from 'kysely';
import { SHOPS_WITH_WORK } from './shopsWithWork.ts';

/** The role that works for shops where nothing else is set: no superuser, not past row security, no sign-in of its own. */
export const WORKING_ROLE = 'afterfit_app';

/** Tables of the program itself, without a shop; the working role is let to none of them. */
export const TABLES_WITHOUT_SHOP = ['kysely_migration', 'kysely_migration_lock'];

/** Raised whenever the doors or the policies below change: databases with an older number get them anew. */
const EDITION = 2;
const LOCK = 4_310_001;

/** A wall that cannot be raised with the rights at hand; the words say what an administrator has to do. */
export class WallRefused extends Error {}

/**
 * Puts every table behind row security, forced on its owner too: the working role sees and changes rows of the shop that its
 * transaction has named (`app.shop_id`) and none without; the owner of the tables sees rows only where it says that it
 * maintains (`app.maintenance`). Run after every migration, so that no new table is left open; tables that stand behind
 * the wall already are not touched, and several processes may start at once.
 */
export async function raiseShopWalls(db: Kysely<unknown>, role: string = WORKING_ROLE): Promise<void> {
  if (await stands(db, role)) return;
  await makeRole(db, role);
  await db.transaction().execute(async (trx) => {
    await sql`select pg_advisory_xact_lock(${LOCK})`.execute(trx);
    if (await stands(trx, role)) return;
    for (const statement of GIVEN_TO(sql.id(role))) await statement.execute(trx);
    for (const { name, has_shop } of (await tables(trx, role)).filter((table) => !table.walled)) {
      const table = sql.id(name);
      await sql`alter table ${table} enable row level security, force row level security`.execute(trx);
      await sql`drop policy if exists shop_wall on ${table}`.execute(trx);
      await sql`drop policy if exists owner_maintains on ${table}`.execute(trx);
      await sql`create policy owner_maintains on ${table} to current_user
        using (current_setting('app.maintenance', true) = 'on')
        with check (current_setting('app.maintenance', true) = 'on')`.execute(trx);
      if (!has_shop) continue;
      await sql`create policy shop_wall on ${table}
        using (shop_id = current_setting('app.shop_id', true))
        with check (shop_id = current_setting('app.shop_id', true))`.execute(trx);
      await sql`grant select, insert, update, delete on ${table} to ${sql.id(role)}`.execute(trx);
    }
    for (const door of DOORS) {
      await sql.raw(door.statement).execute(trx);
      await sql`revoke all on function ${sql.raw(door.name)} from public`.execute(trx);
      await sql`grant execute on function ${sql.raw(door.name)} to ${sql.id(role)}`.execute(trx);
    }
    await sql.raw(`comment on function ${DOORS[0].name} is 'edition ${EDITION}'`).execute(trx);
  });
}

const GIVEN_TO = (role: ReturnType<typeof sql.id>) => [
  sql`grant usage on schema public to ${role}`,
  sql`create index if not exists contact_point_door on contact_point (address, channel)`,
  sql`drop function if exists shops_to_work_for()`,
];

/**
 * The doors that are asked before a shop is known. Each gives ids and nothing else. Another one needs a reason here and a
 * test beside the others.
 */
const DOORS = [
  door({
    // Due work: the tick goes from shop to shop, of those that have any, and claims inside each one's walls. Without a time:
    // every shop, oldest first.
    name: 'shops_to_work_for(timestamptz)',
    head: 'shops_to_work_for(of_now timestamptz) returns table (shop_id text)',
    ids: `select s.shop_id from public.shop s where s.shop_id in (${SHOPS_WITH_WORK})
      order by s.created_at, s.shop_id`,
    // Asked apart, so that it is answered by a copy of an older form too.
    orElse: {
      when: 'of_now is null',
      ids: 'select s.shop_id from public.shop s order by s.created_at, s.shop_id',
    },
  }),
  door({
    // Who comes with a link, a session or a program's token knows no shop, and several shops share one address. Whoever has
    // the secret is let in by it in any case; its hash tells nobody anything else.
    name: 'shop_of_secret(text)',
    head: 'shop_of_secret(of_hash text) returns table (shop_id text)',
    ids: `select t.shop_id from public.token t where t.token_hash = of_hash
      union select t.shop_id from public.session t where t.session_hash = of_hash
      union select t.shop_id from public.sign_in_link t where t.link_hash = of_hash
      union select t.shop_id from public.api_token t where t.token_hash = of_hash`,
  }),
  door({
    // A message that came in on a line that several shops share.
    name: 'shops_of_sender(text, text)',
    head: 'shops_of_sender(of_channel text, of_address text) returns table (shop_id text)',
    ids: `select c.shop_id from public.contact_point c
      where c.address = of_address and c.channel = of_channel order by c.shop_id`,
  }),
  door({
    // Sign-in: whose address this is.
    name: 'accounts_of_address(text)',
    head: 'accounts_of_address(of_address text) returns table (shop_id text, person_id text)',
    ids: `select p.shop_id, p.person_id from public.person p
      where lower(p.email) = lower(of_address) and p.active order by p.shop_id, p.person_id`,
  }),
] as const;

type Door = {
  readonly name: string;
  readonly head: string;
  readonly ids: string;
  readonly orElse?: { readonly when: string; readonly ids: string };
};

/** A function with its owner's rights, who says for this one look-up that they maintain. */
function door(one: Door) {
  const answer = one.orElse
    ? `if ${one.orElse.when} then return query ${one.orElse.ids}; else return query ${one.ids}; end if`
    : `return query ${one.ids}`;
  const statement = `create or replace function ${one.head}
    language plpgsql security definer set search_path = public, pg_temp as $$
    declare said text := coalesce(current_setting('app.maintenance', true), '');
    begin
      perform set_config('app.maintenance', 'on', true);
      ${answer};
      perform set_config('app.maintenance', said, true);
    end $$`;
  return { name: one.name, statement };
}

type Walled = { readonly name: string; readonly has_shop: boolean; readonly walled: boolean };

/** Every table of the program, from the catalogue, and whether it stands behind the wall. */
async function tables(db: Kysely<unknown>, role: string): Promise<Walled[]> {
  const found = await sql<Walled>`
    select c.relname as name, coalesce(s.has_shop, false) as has_shop,
      c.relrowsecurity and c.relforcerowsecurity
      and exists (select from pg_policy p where p.polrelid = c.oid and p.polname = 'owner_maintains')
      and (s.has_shop is null or (
        exists (select from pg_policy p where p.polrelid = c.oid and p.polname = 'shop_wall')
        and has_table_privilege(${role}, c.oid, 'select')
        and has_table_privilege(${role}, c.oid, 'insert')
        and has_table_privilege(${role}, c.oid, 'update')
        and has_table_privilege(${role}, c.oid, 'delete'))) as walled
    from pg_class c
    left join lateral (
      select true as has_shop from pg_attribute a
      where a.attrelid = c.oid and a.attname = 'shop_id' and not a.attisdropped) s on true
    where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace
    order by c.relname`.execute(db);
  return found.rows;
}

async function stands(db: Kysely<unknown>, role: string): Promise<boolean> {
  const found = await sql<{ role: boolean; edition: string | null }>`
    select exists (select from pg_roles where rolname = ${role}) as role,
      obj_description(to_regprocedure(${DOORS[0].name}), 'pg_proc') as edition`.execute(db);
  const now = found.rows[0]!;
  if (!now.role || now.edition !== `edition ${EDITION}`) return false;
  return (await tables(db, role)).every((table) => table.walled);
}

/** The role is made where that is allowed; a hosted server may want it made by its administrator. */
async function makeRole(db: Kysely<unknown>, role: string): Promise<void> {
  const there = async () => {
    const found = await sql<{ passes: boolean; may_be_taken: boolean }>`
      select rolsuper or rolbypassrls as passes, pg_has_role(current_user, oid, 'member') as may_be_taken
      from pg_roles where rolname = ${role}`.execute(db);
    return found.rows[0];
  };
  let found = await there();
  if (!found) {
    await sql`create role ${sql.id(role)} nologin nosuperuser nocreatedb nocreaterole nobypassrls`
      .execute(db)
      .catch((error: { code?: string; message: string }) => {
        // Another process was quicker.
        if (error.code === '42710' || error.code === '23505') return;
        throw new WallRefused(
          `The database does not let us make the role “${role}” (${error.message}). Ask its administrator for: create role ${role} nologin; grant ${role} to the user of DATABASE_URL. Or name a role that is there in AFTERFIT_DATABASE_ROLE.`,
        );
      });
    found = await there();
  }
  if (found?.passes) {
    throw new WallRefused(
      `The role “${role}” is let past the walls between shops (superuser or bypassrls). Ask for: alter role ${role} nosuperuser nobypassrls. Or name another in AFTERFIT_DATABASE_ROLE.`,
    );
  }
  // Who made a role may give it away, but is not in it.
  await sql`grant ${sql.id(role)} to current_user`.execute(db).catch((error: { message: string }) => {
    if (found?.may_be_taken) return;
    throw new WallRefused(
      `The user of DATABASE_URL may not work as the role “${role}” (${error.message}). Ask for: grant ${role} to that user.`,
    );
  });
}
