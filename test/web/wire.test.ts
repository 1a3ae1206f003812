import { describe, expect, test } from 'vitest';
import { silentLog } from '../../src/log.ts';
import { createApp } from '../../src/web/app.tsx';

describe('over the wire', () => {
  test('style and script go compressed to whoever takes it, and whole to whoever does not', async () => {
    const app = createApp(
      {
        room: () => undefined,
        hosts: new Set(['shop.test']),
        key: 'k',
        filling: null,
        choose: async () => [],
      },
      silentLog,
    );
    const bytes = async (path: string, accepts: string) => {
      const answer = await app.request(`http://shop.test${path}`, {
        headers: { host: 'shop.test', 'accept-encoding': accepts },
      });
      return { how: answer.headers.get('content-encoding'), length: (await answer.arrayBuffer()).byteLength };
    };
    const whole = await bytes('/style.css', 'identity');
    const small = await bytes('/style.css', 'gzip');
    expect(whole.how).toBeNull();
    expect(small.how).toBe('gzip');
    expect(small.length).toBeLessThan(whole.length / 3);
  });
});
