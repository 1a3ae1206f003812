import pg from 'pg';

/**
 * A client whose statements can be planned once and run many times for a while: named prepared statements of PostgreSQL. Not
 * for always: a plan that was made for a small table would stay when the table has grown.
 */
export function keptPlans() {
  const names = new Map<string, string>();
  let keeping = false;
  let made = 0;
  const named = (text: string): string => {
    const known = names.get(text);
    if (known !== undefined) return known;
    made += 1;
    const name = `kept_${made}`;
    names.set(text, name);
    return name;
  };
  class Client extends pg.Client {
    override query(...asked: unknown[]): never {
      const [text, values, ...others] = asked;
      if (!keeping || typeof text !== 'string' || !Array.isArray(values) || values.length === 0)
        return super.query(...(asked as [string])) as never;
      return super.query({ name: named(text), text, values }, ...(others as [])) as never;
    }
  }
  return {
    Client,
    async during<T>(work: () => Promise<T>, run: (statements: string) => Promise<unknown>): Promise<T> {
      // Otherwise a plan is still made anew wherever its values promise a better one.
      await run('set plan_cache_mode = force_generic_plan');
      keeping = true;
      try {
        return await work();
      } finally {
        keeping = false;
        names.clear();
        await run('reset plan_cache_mode; deallocate all');
      }
    },
  };
}
