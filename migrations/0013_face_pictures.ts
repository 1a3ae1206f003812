import { type Kysely, sql } from 'kysely';

/**
 * Photographs that are measured on, as cleaned bytes; what was marked on them and worked out, until a licensed person signs it; and who
 * has a case open.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `create table face_picture (
    shop_id text not null,
    face_picture_id text not null,
    job_id text not null,
    state text not null check (state in ('kept', 'removed')),
    content_type text not null,
    bytes bytea,
    width_dots int not null,
    height_dots int not null,
    came text not null check (came in ('staff', 'wearer')),
    by_name text not null,
    at timestamptz not null,
    primary key (shop_id, face_picture_id),
    foreign key (shop_id, job_id) references job
  )`,
  'create index face_picture_by_job on face_picture (shop_id, job_id, at)',
  "create index face_picture_kept on face_picture (at, shop_id) where state = 'kept'",
  `create table photo_measure (
    shop_id text not null,
    measure_id text not null,
    face_picture_id text not null,
    job_id text not null,
    marks jsonb not null,
    numbers jsonb not null,
    by_name text not null,
    at timestamptz not null,
    signed_by text,
    licence_number text,
    signed_at timestamptz,
    primary key (shop_id, measure_id),
    foreign key (shop_id, face_picture_id) references face_picture
  )`,
  'create index photo_measure_by_picture on photo_measure (shop_id, face_picture_id, at)',
  `create table case_open_with (
    shop_id text not null,
    case_id text not null,
    person_id text not null,
    person_name text not null,
    at timestamptz not null,
    primary key (shop_id, case_id, person_id),
    foreign key (shop_id, case_id) references case_file
  )`,
];
