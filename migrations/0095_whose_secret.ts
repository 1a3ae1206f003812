import { type Kysely, sql } from 'kysely';

/** Whose a secret is, by its hash alone: asked where several shops share an address and nothing else tells the shop. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  'create index token_by_hash on token (token_hash)',
  'create index session_by_hash on session (session_hash)',
  'create index sign_in_link_by_hash on sign_in_link (link_hash)',
  'create index api_token_by_hash on api_token (token_hash)',
  'create index person_by_email on person (lower(email)) where email is not null and active',
];
