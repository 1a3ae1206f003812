import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { formIsSigned } from '../../src/channels/carrierSignature.ts';
import { type HandedOver, type TextSettings, textChannel } from '../../src/channels/text.ts';
import { standingClock } from '../../src/clock.ts';
import { startStandIn } from './standIn.ts';

// The carrier's package reads proxies and its own settings from the environment.
for (const name of Object.keys(process.env)) if (/^TWILIO_|proxy$/i.test(name)) delete process.env[name];

const ACCOUNT = { accountSid: 'AC00000000000000000000000000000000', authToken: 'test_token_not_a_secret' };
const FROM = '+12125550100';
const SAM = '+12125550123';
const start = new Date('2026-01-14T15:00:00Z');
const clock = standingClock(start);
const after = (seconds: number) => clock.moveTo(new Date(start.getTime() + seconds * 1000));

let lagMs = 0;
const handedOver = new Map<string, HandedOver>();
let standIn: Awaited<ReturnType<typeof startStandIn>>;

beforeAll(async () => {
  standIn = await startStandIn({ ...ACCOUNT, nowMs: () => clock.now().getTime(), lagMs: () => lagMs });
});
afterAll(() => standIn.stop());
beforeEach(() => {
  clock.moveTo(start);
  lagMs = 0;
  handedOver.clear();
});

function channel(extra: Partial<TextSettings> = {}) {
  const settings = {
    ...ACCOUNT,
    from: FROM,
    perSecond: 1000,
    origin: standIn.origin,
    onlyThisMachine: true,
    ...extra,
  };
  return textChannel(settings, clock, async (attemptId) => handedOver.get(attemptId));
}

/** As the sender does it: put on record first, then handed over. */
function handOver(attemptId: string, text: string, extra: Partial<TextSettings> = {}) {
  handedOver.set(attemptId, { to: SAM, text, at: clock.now() });
  return channel(extra).send({ attemptId, to: SAM, text });
}

test('a text that the carrier takes is accepted under the carrier’s id, once', async () => {
  const before = standIn.kept.length;
  const result = await handOver('a1', 'Fernside Optics: how are they? €');
  const kept = standIn.kept.at(-1)!;
  expect(result).toEqual({ state: 'accepted', farId: kept.sid });
  expect(kept).toMatchObject({ to: SAM, from: FROM, body: 'Fernside Optics: how are they? €' });
  expect(standIn.kept.length).toBe(before + 1);
  expect(await channel().find('a1')).toBe('accepted');
});

test('the state callback carries the attempt’s id in its address, and its signature holds for that address', async () => {
  const result = await handOver('a b/2', 'callback', { publicBase: 'https://shop.example' });
  if (result.state !== 'accepted') throw new Error(result.state);
  standIn.moveOn(result.farId, 'delivered');
  const callback = standIn.callbacks.at(-1)!;
  expect(callback.url).toBe('https://shop.example/hooks/text-status?attempt=a%20b%2F2');
  const { authToken } = ACCOUNT;
  expect(formIsSigned({ authToken, url: callback.url, signature: callback.signature }, callback.params)).toBe(
    true,
  );
  const elsewhere = callback.url.replace('a%20b', 'other');
  expect(formIsSigned({ authToken, url: elsewhere, signature: callback.signature }, callback.params)).toBe(
    false,
  );
  expect(formIsSigned({ authToken, url: callback.url, signature: undefined }, callback.params)).toBe(false);
});

test.each([
  [400, 21610, 'stop'],
  [400, 21211, 'bad address'],
  [400, 21614, 'bad address'],
  [400, 21608, 'hold all'],
  [429, undefined, 'later'],
  [401, 20003, 'hold all'],
  [400, 99999, 'other channel'],
] as const)('answer %i with code %s is refused: %s', async (status, code, act) => {
  standIn.next({ does: 'refuses', status, ...(code ? { code } : {}) });
  expect(await handOver('r1', 'refused')).toMatchObject({ state: 'refused', act });
});

test('a text that was taken before the line dropped is unsure, and is found when the list shows it', async () => {
  lagMs = 120_000;
  standIn.next({ does: 'takes it and drops the line' });
  expect(await handOver('d1', 'dropped after')).toMatchObject({ state: 'unsure' });
  expect(await channel().find('d1')).toBe('unknown');
  after(119);
  expect(await channel().find('d1')).toBe('unknown');
  after(121);
  expect(await channel().find('d1')).toBe('accepted');
});

test('a text that was never taken is not called so before the list can no longer be late', async () => {
  standIn.next({ does: 'drops the line' });
  expect(await handOver('d2', 'dropped before')).toMatchObject({ state: 'unsure' });
  after(179);
  expect(await channel().find('d2')).toBe('unknown');
  after(181);
  expect(await channel().find('d2')).toBe('not there');
});

test('a fault of the carrier is unsure: it may come after the text was taken', async () => {
  standIn.next({ does: 'refuses', status: 503, taken: true });
  expect(await handOver('f1', 'late fault')).toMatchObject({ state: 'unsure' });
  expect(await channel().find('f1')).toBe('accepted');
});

test('the same words sent to the same wearer a week ago are not taken for this attempt', async () => {
  await handOver('w1', 'same words');
  after(7 * 86_400);
  standIn.next({ does: 'drops the line' });
  await handOver('w2', 'same words');
  after(7 * 86_400 + 200);
  expect(await channel().find('w2')).toBe('not there');
});

test('a carrier that cannot be reached has taken nothing: later', async () => {
  const gone = await startStandIn({ ...ACCOUNT, nowMs: () => 0 });
  await gone.stop();
  const result = await channel({ origin: gone.origin }).send({ attemptId: 'x', to: SAM, text: 'x' });
  expect(result).toMatchObject({ state: 'refused', act: 'later' });
});

test('an attempt that is not on record is unknown, not "not there"', async () => {
  after(100_000);
  expect(await channel().find('never')).toBe('unknown');
});

test('without a public address what came in is asked for, oldest first, and nothing of ours is among it', async () => {
  after(1000);
  const since = clock.now();
  after(1010);
  const first = standIn.receive(SAM, FROM, 'blurry');
  await handOver('o1', 'ours');
  after(1020);
  const second = standIn.receive(SAM, FROM, 'STOP');
  const texts = await channel().newTexts(since);
  expect(texts.map((one) => [one.farId, one.from, one.body])).toEqual([
    [first.sid, SAM, 'blurry'],
    [second.sid, SAM, 'STOP'],
  ]);
});

test('the state of a text can be asked for, with the error', async () => {
  const result = await handOver('s1', 'state');
  if (result.state !== 'accepted') throw new Error(result.state);
  standIn.moveOn(result.farId, 'undelivered', 30003);
  expect(await channel().statusOf(result.farId)).toEqual({ status: 'undelivered', errorCode: 30003 });
  expect(await channel().statusOf('SM404')).toBeUndefined();
});

test('no origin but this machine may be reached in tests', () => {
  expect(() => channel({ origin: undefined })).toThrow(/not on this machine/);
  expect(() => channel({ origin: 'http://127.0.0.1.example.com' })).toThrow(/not on this machine/);
});
