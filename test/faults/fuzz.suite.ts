import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import fc from 'fast-check';
import { signatureOf } from '../../src/channels/carrierSignature.ts';
import { readMail } from '../../src/channels/readMail.ts';
import { type MovableClock, standingClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Room } from '../../src/house.ts';
import { readVisionPrescription } from '../../src/intake/fhir.ts';
import { readCsv } from '../../src/intake/readCsv.ts';
import { silentLog } from '../../src/log.ts';
import { type Db, openServer } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { signedIn } from '../web/signedIn.ts';
import type { FaultSize, FaultSuite, FaultTold, FaultWorld } from './suite.ts';

/** Bodies to each target; FUZZ_EACH names another number. */
const EACH: Readonly<Record<FaultSize, number>> = { whole: 20_000, short: 8 };
/** So many are under way at once, as from several browsers. */
const AT_ONCE = 8;
/** After so many the clock goes on by a minute: what is counted by the minute begins anew. */
const BODIES_A_MINUTE = 2_000;
const SLOWEST_MS = 20_000;
const MOST_MB = 150;
const SHOP = 'fuzz';
const TOKEN = 'a token for tests only';
const BASE = 'https://shop.example';
const MONDAY = new Date('2026-03-02T15:00:00Z');

/**
 * Every route that takes a body, taken from the program itself, and every way in beside them: made-up forms, files, pieces of
 * nothing. Nothing may fail on our side, hang, lose a row of what is only ever added to, or eat the memory.
 */
export const fuzzSuite: FaultSuite = {
  name: 'fuzz',
  says: 'Made-up bodies to each route, the carrier’s calls, programs, CSV, email and FHIR: no 5xx, no hang, no row lost, at most 150 MB over rest.',
  run: fuzz,
};

async function fuzz(world: FaultWorld, size: FaultSize): Promise<FaultTold> {
  const place = await world.database();
  const database = openServer(place.url);
  try {
    const shop = await openFuzzedShop(database.inShop(SHOP));
    return await playAll(shop, database.db, world.seed, Number(process.env.FUZZ_EACH ?? EACH[size]));
  } finally {
    await database.close();
    await place.drop();
  }
}

type Fuzzed = {
  readonly shell: Shell;
  readonly clock: MovableClock;
  readonly app: ReturnType<typeof createApp>;
  /** Ids that are there, so that not every body stops at the first look-up. */
  readonly ids: readonly string[];
  readonly failed: string[];
};

async function openFuzzedShop(db: Db): Promise<Fuzzed> {
  const clock = standingClock(MONDAY);
  await openShop(
    db,
    {
      shopId: SHOP,
      name: 'Test shop',
      kind: 'own',
      country: 'US',
      timeZone: 'America/New_York',
      settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
      owner: { name: 'Ana Example' },
    },
    MONDAY,
  );
  const line = { channel: { kind: 'text' } as never, authToken: TOKEN, publicBase: BASE };
  const shell: Shell = {
    db,
    clock,
    journal: noJournal,
    log: silentLog,
    carrier: () => undefined,
    textLine: () => line,
  };
  const none = async () => {};
  const room: Room = { shell, shopId: SHOP, kind: 'own', work: none, moveClock: none, close: none };
  const failed: string[] = [];
  const app = createApp(
    { room: () => room, hosts: new Set(['shop.test']), key: 'k', filling: null, choose: async () => [] },
    { ...silentLog, error: (detail) => failed.push(String(detail.error).slice(0, 900)) },
  );
  // Somebody is licensed, and the one at the screen is not: what they do waits to be signed.
  await db
    .insertInto('person')
    .values({
      shop_id: SHOP,
      person_id: 'licensed',
      name: 'Lin Sample',
      email: null,
      phone_e164: null,
      role: 'staff',
      licence_number: 'LX-1',
      licensed_until: '2027-01-01',
      on_call_order: null,
      created_at: MONDAY,
    })
    .execute();
  const who = await signedIn(db, SHOP, clock);
  const head =
    'job number,name,phone,consent,handed over on,lens design,first multifocal,zone,R fitting height';
  const form = new FormData();
  for (const [name, value] of Object.entries({
    csrf: who.csrf,
    step: 'take',
    checked_text: [head, ...jobLines()].join('\n'),
    date_order: 'ymd',
  }))
    form.set(name, value);
  await app.request('http://shop.test/deliveries/import', {
    method: 'POST',
    headers: { host: 'shop.test', cookie: who.cookie },
    body: form,
  });
  const receivedAt = MONDAY.toISOString();
  for (const [place, body] of [
    'I have to lift my chin to read',
    'wibble wobble',
    'the floor swims',
  ].entries())
    await takeReply(shell, {
      shopId: SHOP,
      channel: 'text',
      farId: body,
      from: `+1202555010${place}`,
      to: null,
      body,
      receivedAt,
      raw: {},
    });
  const rows = await Promise.all([
    db.selectFrom('job').select('job_id as id').execute(),
    db.selectFrom('wearer').select('wearer_id as id').execute(),
    db.selectFrom('case_file').select('case_id as id').execute(),
    db.selectFrom('inbound').select('inbound_id as id').execute(),
    db.selectFrom('pair').select('pair_id as id').execute(),
    db.selectFrom('to_sign').select('to_sign_id as id').execute(),
    db.selectFrom('person').select('person_id as id').execute(),
  ]);
  return { shell, clock, app, ids: rows.flat().map((row) => row.id), failed };
}

/** Thirty wearers: half of them have their glasses; half of the jobs came with numbers, which wait to be signed. */
function jobLines(): string[] {
  return Array.from({ length: 30 }, (_, n) => {
    const number = String(n).padStart(2, '0');
    const on = n % 2 === 0 ? '2026-02-23' : '';
    const height = n % 4 < 2 ? '18' : '';
    return `J-${number},Wearer ${number},202 555 01${number},text,${on},soft 15,yes,America/New_York,${height}`;
  });
}

/** What nobody holds any more is not counted as eaten: the engine is told to let go of it before memory is read. */
function collector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}

type Sent = { readonly status: number; readonly ms: number };
type Target = { readonly name: string; send(): Promise<Sent | undefined> };

async function playAll(shop: Fuzzed, owner: Db, seed: number, each: number): Promise<FaultTold> {
  const made = maker(seed);
  const targets = [...routeTargets(shop, made), ...readers(shop, made)];
  const before = await appendOnly(owner);
  const broken: string[] = [];
  const statuses = new Map<string, number>();
  let slowest = 0;
  let sent = 0;
  for (const target of targets) await target.send();
  const collect = collector();
  collect();
  const rest = process.memoryUsage().rss;
  let most = rest;
  const one = async (target: Target): Promise<void> => {
    sent += 1;
    if (sent % BODIES_A_MINUTE === 0) shop.clock.moveTo(new Date(shop.clock.now().getTime() + 60_000));
    const answer = await target.send().catch((error: unknown) => {
      broken.push(`${target.name} threw ${String(error).slice(0, 300)}`);
      return undefined;
    });
    if (!answer) return;
    const hundred = `${Math.floor(answer.status / 100)}xx`;
    statuses.set(hundred, (statuses.get(hundred) ?? 0) + 1);
    slowest = Math.max(slowest, answer.ms);
    if (answer.status >= 500)
      broken.push(`${target.name} answered ${answer.status}: ${shop.failed.at(-1) ?? ''}`);
    if (answer.ms > SLOWEST_MS) broken.push(`${target.name} took ${Math.round(answer.ms)} ms`);
  };
  const began = performance.now();
  for (const target of targets) {
    const from = performance.now();
    let left = each;
    const some = async () => {
      while (left > 0) {
        left -= 1;
        await one(target);
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, some));
    collect();
    const { rss, heapUsed } = process.memoryUsage();
    most = Math.max(most, rss);
    if (process.env.FUZZ_TELL !== undefined)
      process.stderr.write(
        `${target.name}: ${((performance.now() - from) / each).toFixed(2)} ms each, ${Math.round(heapUsed / 1e6)} MB in use, ${Math.round((rss - rest) / 1e6)} over rest\n`,
      );
  }
  const after = await appendOnly(owner);
  for (const [table, rows] of before)
    if ((after.get(table) ?? 0) < rows) broken.push(`${table} had ${rows} rows and has ${after.get(table)}`);
  const overMb = Math.round((most - rest) / 1e6);
  if (overMb > MOST_MB) broken.push(`${overMb} MB over rest`);
  return {
    figures: {
      'ways in': targets.length,
      'bodies to each': each,
      'bodies sent': sent,
      ...Object.fromEntries([...statuses].map(([hundred, count]) => [`answered ${hundred}`, count])),
      'bodies a second': Math.round((sent * 1000) / (performance.now() - began)),
      'slowest answer, ms': Math.round(slowest),
      'MB over rest': overMb,
    },
    broken,
  };
}

const APPEND_ONLY = [
  'inbound',
  'fact',
  'audit',
  'case_event',
  'consent_event',
  'correction',
  'reading',
] as const;

async function appendOnly(owner: Db): Promise<Map<string, number>> {
  const found = new Map<string, number>();
  for (const table of APPEND_ONLY) {
    const row = await owner
      .selectFrom(table)
      .select(({ fn }) => fn.countAll<number>().as('rows'))
      .executeTakeFirstOrThrow();
    found.set(table, Number(row.rows));
  }
  return found;
}

const DRAWN_AT_ONCE = 200;

/** Values drawn by the property library, the same for the same seed; many at once, since setting a draw up costs the most. */
function maker(seed: number) {
  let at = 0;
  const drawn = new Map<fc.Arbitrary<unknown>, unknown[]>();
  const draw = <T>(arbitrary: fc.Arbitrary<T>): T => {
    const held = drawn.get(arbitrary) as T[] | undefined;
    if (held && held.length > 0) return held.pop()!;
    at += 1;
    const fresh = fc.sample(arbitrary, { numRuns: DRAWN_AT_ONCE, seed: seed + at });
    drawn.set(arbitrary, fresh);
    return fresh.pop()!;
  };
  return { draw };
}
type Maker = ReturnType<typeof maker>;

const odd = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({ maxLength: 60 }),
  fc.constantFrom(
    '',
    '0',
    '-1',
    '1e999',
    'NaN',
    '2026-02-30',
    '2026-03-02',
    '31/30',
    'yes',
    'text',
    'settled',
    '\u0000',
    'a\u0000b',
    '\ud800',
    '٣',
    '9'.repeat(400),
    'x'.repeat(5_000),
    "'; drop table job; --",
    '<script>alert(1)</script>',
    '../../etc/passwd',
    '%00',
    '+12025550117',
    'sudden flashes and a curtain over one eye',
    'STOP',
  ),
);

const json = fc.jsonValue();
const yesNo = fc.boolean();
const kinds = fc.integer({ min: 0, max: 9 });
const someBytes = fc.uint8Array({ maxLength: 3_000 });
const types = fc.constantFrom(
  'application/json',
  'multipart/form-data; boundary=x',
  'text/csv',
  'nonsense',
  '',
);
const fileFields = fc.constantFrom('file', 'photo', 'picture');
const sender = fc.oneof(
  fc.integer({ min: 100, max: 129 }).map((n) => `+12025550${n}`),
  odd,
);
const pictures = fc.constantFrom('0', '1', '999', 'x');
const prescription = fc.oneof(
  json,
  fc.record({ resourceType: fc.constant('VisionPrescription'), lensSpecification: json }),
);

/** Names of fields that forms have, read from the pages themselves. */
function fieldNames(): string[] {
  const root = new URL('../../dashboard/', import.meta.url).pathname;
  const found = new Set<string>();
  for (const file of readdirSync(root, { recursive: true }) as string[]) {
    if (!/\.tsx?$/.test(file)) continue;
    const text = readFileSync(join(root, file), 'utf8');
    for (const [, name] of text.matchAll(/name[=:] ?["']([a-z_]+)["']/g)) found.add(name!);
    for (const [, names] of text.matchAll(/^ \* POST \/\S+ +(.*)$/gm))
      for (const name of names!.match(/[a-z_]{3,}/g) ?? []) found.add(name);
  }
  return [...found];
}

function routeTargets(shop: Fuzzed, { draw }: Maker): Target[] {
  const names = fieldNames();
  const value = fc.oneof(
    { weight: 3, arbitrary: odd },
    { weight: 1, arbitrary: fc.constantFrom(...shop.ids) },
  );
  const fields = fc.array(fc.tuple(fc.constantFrom(...names), value), { maxLength: 12 });
  const param = fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...shop.ids) },
    { weight: 1, arbitrary: odd.filter((text) => text !== '') },
  );
  let who: { cookie: string; csrf: string } | undefined;
  let sent = 0;
  const routes = new Map(
    shop.app.routes
      .filter(({ method, path }) => method === 'POST' || path === '/w/:token/:page?')
      .map(({ path }) => [path, path]),
  );
  return [...routes.keys()].map((path) => ({
    name: `POST ${path}`,
    async send() {
      sent += 1;
      who ??= await signedIn(shop.shell.db, SHOP, shop.shell.clock);
      const at = path.replace(/:\w+(\{[^}]*\})?\??/g, () => encodeSafely(draw(param)));
      const body = bodyOf(draw, at, who.csrf, draw(fields));
      const headers = {
        host: 'shop.test',
        cookie: who.cookie,
        'x-afterfit-key': 'k',
        ...(body.type ? { 'content-type': body.type } : {}),
        ...(path.startsWith('/hooks/') ? { 'x-twilio-signature': body.signature ?? '' } : {}),
      };
      // Somebody else each time, so that no count of one address ends the play; programs call from this machine.
      const others = path.startsWith('/sign-in') ? GUESSERS : 250;
      const remoteAddress = path.startsWith('/api/') ? '127.0.0.1' : `198.51.100.${sent % others}`;
      const env = { incoming: { socket: { remoteAddress } } };
      const start = performance.now();
      const answer = await shop.app.request(
        `http://shop.test${at}`,
        { method: 'POST', headers, body: body.body },
        env,
      );
      await answer.arrayBuffer();
      if (answer.status === 401 || answer.headers.get('location')?.startsWith('/sign-in')) who = undefined;
      return { status: answer.status, ms: performance.now() - start };
    },
  }));
}

/** Each has thirty tries before it is held back, and a try costs what a password costs. */
const GUESSERS = 20;

/** Halves of signs cannot stand in an address. */
const encodeSafely = (text: string): string => encodeURIComponent(text.replace(/\p{Surrogate}/gu, '_'));

type Body = { body: BodyInit; type?: string | undefined; signature?: string | undefined };

function bodyOf(
  draw: Maker['draw'],
  at: string,
  csrf: string,
  fields: readonly (readonly [string, string])[],
): Body {
  if (at.startsWith('/hooks/')) {
    const params = {
      MessageSid: draw(odd),
      From: draw(sender),
      To: '+12025550199',
      Body: draw(odd),
      NumMedia: draw(pictures),
      ...Object.fromEntries(fields),
    };
    const form = new URLSearchParams(params);
    // Signed as they arrive: what cannot be written in UTF-8 has become something else on the way.
    const signature = signatureOf(TOKEN, BASE + at, Object.fromEntries(form));
    return { body: form.toString(), type: 'application/x-www-form-urlencoded', signature };
  }
  const kind = draw(kinds);
  if (kind >= 8 || (at.startsWith('/api/') && kind >= 4)) {
    return { body: draw(yesNo) ? JSON.stringify(draw(json)) : bytes(draw), type: draw(types) };
  }
  if (kind >= 6) {
    const form = new FormData();
    form.set('csrf', csrf);
    for (const [name, value] of fields) form.append(name, value);
    form.set(draw(fileFields), new File([bytes(draw)], draw(odd)));
    return { body: form };
  }
  const form = new URLSearchParams([
    ['csrf', csrf],
    ...fields.map(([name, value]) => [name, value]),
  ] as string[][]);
  return { body: form.toString(), type: 'application/x-www-form-urlencoded' };
}

const bytes = (draw: Maker['draw']): Uint8Array<ArrayBuffer> => new Uint8Array(draw(someBytes));

/** The ways in that are no routes: files, mails, prescriptions. */
function readers(shop: Fuzzed, { draw }: Maker): Target[] {
  const timed = async (work: () => unknown): Promise<Sent> => {
    const start = performance.now();
    await work();
    return { status: 200, ms: performance.now() - start };
  };
  let count = 0;
  return [
    {
      name: 'a CSV file',
      send: () => timed(() => readCsv(bytes(draw), { country: 'US', invented: false, today: '2026-11-25' })),
    },
    {
      name: 'an email',
      send: () =>
        timed(async () => {
          count += 1;
          const head = `From: ${draw(odd).slice(0, 200)}\r\nSubject: ${draw(odd).slice(0, 200)}\r\n\r\n`;
          const raw = draw(yesNo) ? Buffer.from(bytes(draw)) : Buffer.from(head + draw(odd));
          const mail = await readMail(raw);
          await takeReply(shop.shell, {
            shopId: SHOP,
            channel: 'email',
            farId: `fuzz-${count}`,
            from: 'ida@example.com',
            to: null,
            body: String(mail.reply ?? ''),
            receivedAt: MONDAY.toISOString(),
            raw: {},
          });
        }),
    },
    {
      name: 'a FHIR prescription',
      send: () => timed(() => readVisionPrescription(draw(prescription))),
    },
  ];
}
