import { Kysely, PostgresDialect, type PostgresPool, type PostgresPoolClient } from 'kysely';
import pg from 'pg';
import { pgTypes } from '../../src/store/database.ts';
import type { Tables } from '../../src/store/tables.ts';

export class Killed extends Error {
  constructor() {
    super('the process was killed here');
  }
}

/**
 * A process that can be killed between any two steps. Every statement and every call of a carrier is a step, taken before
 * and after; once killed, nothing further gets through until `revive`, and an open transaction is rolled back by the server
 * because its connection is thrown away.
 */
export type Mortal = {
  readonly db: Kysely<Tables>;
  step(): void;
  /** Killed at the given number of steps from now. */
  killIn(steps: number): void;
  revive(): void;
  readonly dead: boolean;
  readonly deaths: number;
};

export function mortal(url: string): Mortal {
  const pool = new pg.Pool({ connectionString: url, max: 20, types: pgTypes, options: '-c timezone=UTC' });
  pool.on('error', () => {});
  let left = Number.POSITIVE_INFINITY;
  let dead = false;
  let deaths = 0;
  const step = () => {
    if (!dead) {
      left -= 1;
      if (left > 0) return;
      dead = true;
      deaths += 1;
    }
    throw new Killed();
  };
  const wrapped: PostgresPool = {
    async connect() {
      step();
      const client = await pool.connect();
      const query = async (...args: unknown[]) => {
        step();
        const result = await (client.query as (...all: unknown[]) => Promise<unknown>)(...args);
        step();
        return result;
      };
      return { query, release: () => client.release(dead) } as unknown as PostgresPoolClient;
    },
    end: () => pool.end(),
  };
  return {
    db: new Kysely<Tables>({ dialect: new PostgresDialect({ pool: wrapped }) }),
    step,
    killIn(steps) {
      left = steps;
    },
    revive() {
      dead = false;
      left = Number.POSITIVE_INFINITY;
    },
    get dead() {
      return dead;
    },
    get deaths() {
      return deaths;
    },
  };
}
