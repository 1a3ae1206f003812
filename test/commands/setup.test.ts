import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { standingClock } from '../../src/clock.ts';
import { type CarrierSettings, readConfig } from '../../src/config.ts';
import { checkCarriers, checkZones, type SetupCheck, type SetupWorld } from '../../src/setupChecks.ts';
import { startImapStandIn } from '../channels/imapStandIn.ts';
import { startStandIn } from '../channels/standIn.ts';
import { newFolder, runAfterfit } from '../setup/process.ts';

const ACCOUNT = `AC${'0'.repeat(32)}`;
const CLOCK = standingClock(new Date('2026-03-02T15:00:00Z'));

test('setup on an empty folder says that there is no shop yet; a half-set carrier is wrong', async () => {
  const folder = newFolder();
  const empty = await runAfterfit(['setup'], { folder });
  expect(empty.out).toContain('ok    settings: all can be read');
  expect(empty.out).toContain('look  database: there is no shop yet');
  expect(empty.code).toBe(0);
  const half = readConfig({ AFTERFIT_SMTP_HOST: 'mail.example' });
  expect(half.ok ? '' : half.problems[0]!.what).toContain('AFTERFIT_MAILBOX');
});

test('data of time zones older than 2026d are told of', () => {
  expect(checkZones('2025c').how).toBe('look');
  expect(checkZones('2026d').how).toBe('well');
  expect(checkZones('2027a').how).toBe('well');
  expect(checkZones(undefined).how).toBe('look');
});

describe('carriers', () => {
  let texts: Awaited<ReturnType<typeof startStandIn>>;
  let imap: Awaited<ReturnType<typeof startImapStandIn>>;
  beforeAll(async () => {
    texts = await startStandIn({
      accountSid: ACCOUNT,
      authToken: 'the right token here',
      nowMs: () => CLOCK.now().getTime(),
    });
    imap = await startImapStandIn({ user: 'care', password: 'right' });
  });
  afterAll(async () => {
    await texts.stop();
    await imap.stop();
  });

  const settings = (over: Record<string, string>): CarrierSettings => {
    const config = readConfig({
      AFTERFIT_TEXT_ACCOUNT: ACCOUNT,
      AFTERFIT_TEXT_TOKEN: 'the right token here',
      AFTERFIT_TEXT_FROM: '+12025550199',
      AFTERFIT_PUBLIC_URL: 'https://hooks.shop.example',
      AFTERFIT_SMTP_HOST: '127.0.0.1',
      AFTERFIT_SMTP_PORT: '1',
      AFTERFIT_IMAP_HOST: '127.0.0.1',
      AFTERFIT_IMAP_PORT: String(imap.port),
      AFTERFIT_IMAP_USER: 'care',
      AFTERFIT_IMAP_PASSWORD: 'right',
      AFTERFIT_MAILBOX: 'care@shop.example',
      AFTERFIT_SECRET: 'a secret that is only for these tests',
      ...over,
    });
    if (!config.ok) throw new Error(config.problems[0]!.what);
    return config.value.carriers;
  };
  const world = (over: Partial<SetupWorld> = {}): SetupWorld => ({
    trial: { textOrigin: texts.origin, onlyThisMachine: true },
    txtOf: async (name) =>
      name.startsWith('_dmarc')
        ? ['v=DMARC1; p=none']
        : ['some other record', 'v=spf1 include:mail.example -all'],
    postStatus: async (url) => (url.endsWith('/w/here') ? 204 : 403),
    ...over,
  });
  const check = async (over: Record<string, string> = {}, outside = world()) =>
    Object.fromEntries(
      (await checkCarriers(settings(over), CLOCK, outside)).map((one) => [one.what, one]),
    ) as Record<string, SetupCheck>;

  test('each sign-in is tried, and nothing is sent', async () => {
    const found = await check();
    expect(found['sign-in for texts']!.how).toBe('well');
    expect(found['public address']!.how).toBe('well');
    expect(found['calls of the carrier']!.how).toBe('well');
    expect(found['emails in']!.how).toBe('well');
    // Nobody listens on port 1.
    expect(found['emails out']!.how).toBe('wrong');
    expect(found['SPF of shop.example']!.told).toBe('v=spf1 include:mail.example -all');
    expect(found['DMARC of shop.example']!.how).toBe('well');
    expect(texts.kept).toEqual([]);
  });

  test('a wrong token, a wrong password, an address that comes to somebody else, and a domain without records', async () => {
    const found = await check(
      { AFTERFIT_TEXT_TOKEN: 'some other token here', AFTERFIT_IMAP_PASSWORD: 'wrong' },
      world({
        postStatus: async () => 200,
        async txtOf() {
          throw new Error('ENOTFOUND');
        },
      }),
    );
    expect(found['sign-in for texts']!.how).toBe('wrong');
    expect(found['emails in']!.told).toBe('the mail server does not accept our sign-in');
    expect(found['public address']!.told).toContain('answered 200');
    expect(found['SPF of shop.example']!.how).toBe('look');
    expect(found['DMARC of shop.example']!.how).toBe('look');
  });

  test('what is not set is off', async () => {
    const none = await checkCarriers({ text: undefined, mail: undefined }, CLOCK, world());
    expect(none.map((one) => [one.what, one.how])).toEqual([
      ['public address', 'off'],
      ['texts', 'off'],
      ['emails', 'off'],
    ]);
  });
});
