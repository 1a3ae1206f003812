import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import { textChannel } from '../../src/channels/text.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeText } from '../../src/followup/takeText.ts';
import type { Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { createApp } from '../../src/web/app.tsx';
import { startStandIn } from '../channels/standIn.ts';
import { openWorld, SHOP, type TestWorld } from '../followup/world.ts';
import { freshDatabase } from '../setup/databases.ts';
import { signedIn } from './signedIn.ts';

/* Pictures by text: fetched from the carrier by its own interface, cleaned, shown to staff, removed in time. */

const ACCOUNT = `AC${'0'.repeat(32)}`;
const TOKEN = 'a token for tests only';
const NOTE = Buffer.from('Exif\0\0GPS 51.5 N 0.1 W');
const PHOTO = Buffer.concat([
  Buffer.from([0xff, 0xd8, 0xff, 0xe1, 0, NOTE.length + 2]),
  NOTE,
  Buffer.from([0xff, 0xda, 0, 2, 1, 2, 3, 0xff, 0xd9]),
]);

let database: Database;
let world: TestWorld;
let shell: Shell;
let standIn: Awaited<ReturnType<typeof startStandIn>>;
let app: ReturnType<typeof createApp>;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
afterAll(() => database.close());
beforeEach(async () => {
  world = await openWorld(database);
  standIn = await startStandIn({
    accountSid: ACCOUNT,
    authToken: TOKEN,
    nowMs: () => world.clock.now().getTime(),
  });
  const channel = textChannel(
    {
      accountSid: ACCOUNT,
      authToken: TOKEN,
      from: '+12025550199',
      perSecond: 1000,
      origin: standIn.origin,
      onlyThisMachine: true,
      deadlineMs: 3000,
    },
    world.clock,
    async () => undefined,
  );
  const line = { channel, authToken: TOKEN, publicBase: 'https://shop.example' };
  shell = { ...world.shell, textLine: () => line };
  const none = async () => {};
  const room: Room = {
    shell,
    shopId: SHOP,
    kind: 'own',
    work: none,
    moveClock: none,
    close: none,
  };
  app = createApp(
    { room: () => room, hosts: new Set(['shop.test']), key: 'k', filling: null, choose: async () => [] },
    silentLog,
  );
  return () => standIn.stop();
});

const page = async (path: string) => {
  const { cookie } = await signedIn(shell.db, SHOP, shell.clock);
  return app.request(`http://shop.test${path}`, { headers: { host: 'shop.test', cookie } });
};
const sends = async (phone: string, media: readonly Uint8Array[]) => {
  const text = standIn.receive(phone, '+12025550199', 'they look like this', media);
  const taken = await takeText(shell, SHOP, {
    farId: text.sid,
    from: phone,
    to: text.to,
    body: text.body,
    media: media.map(() => ({ url: 'https://elsewhere.example/', contentType: 'image/jpeg' })),
    optOutType: null,
  });
  await taken.sorted;
};
const pictures = () => database.db.selectFrom('picture').selectAll().orderBy('number').execute();

test('a picture by text is fetched by the message’s id, loses the place where it was taken, and stands in the tray', async () => {
  const { phone } = await world.job();
  await sends(phone, [PHOTO]);
  expect(await pictures()).toMatchObject([{ state: 'to fetch', bytes: null }]);
  await tick(shell);
  const [kept] = await pictures();
  expect(kept).toMatchObject({ state: 'kept', content_type: 'image/jpeg', byte_count: 11 });
  expect(kept!.bytes!.includes('GPS')).toBe(false);
  const tray = await (await page('/tray')).text();
  expect(tray).toContain(`<img src="/pictures/${kept!.picture_id}"`);
  const shown = await page(`/pictures/${kept!.picture_id}`);
  expect(shown.headers.get('content-type')).toBe('image/jpeg');
  expect(shown.headers.get('x-content-type-options')).toBe('nosniff');
  expect(Buffer.from(await shown.arrayBuffer()).equals(kept!.bytes!)).toBe(true);
});

test('what is no picture, is over 8 MB, or is gone at the carrier, is not kept, and the tray says why', async () => {
  const { phone } = await world.job();
  await sends(phone, [Buffer.from('#!AMR voice'), Buffer.alloc(8_000_001, 0xff)]);
  await tick(shell);
  expect((await pictures()).map((one) => [one.state, one.why])).toEqual([
    ['left out', 'no picture of a kind that is taken'],
    ['left out', 'too large'],
  ]);
  expect(await (await page('/tray')).text()).toContain('picture 2: not kept, too large');
});

test('a carrier that does not answer is asked again later, and after the last wait the picture is given up and said to be', async () => {
  const { phone } = await world.job();
  await sends(phone, [PHOTO]);
  await standIn.stop();
  await tick(shell);
  expect(await pictures()).toMatchObject([{ state: 'to fetch', tries: 1 }]);
  for (let day = 3; day < 8; day++) {
    world.clock.moveTo(new Date(`2026-03-0${day}T15:00:00Z`));
    await tick(shell);
  }
  expect(await pictures()).toMatchObject([{ state: 'left out', why: 'the carrier did not give it' }]);
});
