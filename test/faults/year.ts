import { Temporal } from 'temporal-polyfill';
import { tick } from '../../jobs/index.ts';
import type { Channel } from '../../src/channels/channel.ts';
import { isCivil, OUTER_HOURS } from '../../src/channels/civilHours.ts';
import { standingClock } from '../../src/clock.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { nextInstant } from '../../src/followup/playUntil.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import { silentLog } from '../../src/log.ts';
import type { Db } from '../../src/store/database.ts';
import type { Journal, RawInbound } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { Killed, type Mortal } from './mortal.ts';
import { type Chance, seeded } from './seeded.ts';

/** What may be broken on purpose, to show that the checks can fail. */
export type Sabotage =
  | 'none'
  | 'forget what was sent'
  | 'forget who said stop'
  | 'lose a reply'
  | 'lose an alarm';

export type YearPlan = {
  readonly seed: number;
  readonly wearers: number;
  readonly days: number;
  readonly randomTicks: number;
  readonly sabotage: Sabotage;
};

export type YearTold = {
  readonly seed: number;
  readonly broken: readonly string[];
  readonly delivered: number;
  readonly checkIns: number;
  readonly replies: number;
  readonly deaths: number;
  readonly unsure: number;
  readonly ticks: number;
  readonly stopped: number;
  /** Alarms that reached the telephone of the person on call. */
  readonly alarms: number;
};

const SHOP = 'year';
/** The telephone of the person on call, reserved for fiction. */
const ON_CALL = '+447700900999';
const START = new Date('2026-01-05T14:00:00Z');
const DAY_MS = 86_400_000;

/** Six zones: half-hour changes, a southern summer, none at all, and a set of two for wearers whose zone is not sure. */
const PLACES: readonly { zone?: string; country: string; region?: string }[] = [
  { zone: 'America/New_York', country: 'US' },
  { zone: 'America/Los_Angeles', country: 'US' },
  { zone: 'Europe/London', country: 'GB' },
  { zone: 'Australia/Lord_Howe', country: 'AU' },
  { zone: 'Asia/Kolkata', country: 'IN' },
  { country: 'US', region: 'TN' },
];
const ZONES = [
  'America/New_York',
  'America/Los_Angeles',
  'Europe/London',
  'Australia/Lord_Howe',
  'America/Chicago',
];

const ANSWERS = [
  '1',
  '2',
  '3',
  'b',
  'all good thanks',
  'used to them now, very happy',
  'floor sways when I turn my head',
  'I have to lift my chin to read',
  'they keep slipping down my nose',
  'is it ok to drive in them?',
  'they have not come yet',
  'STOP',
  'please stop texting me',
  'START',
  'who is this?',
  'since this morning lots of new black specks and a flash in my left eye',
  'I want my money back',
  'wrong number mate',
  'ok',
  'better than last week but the telly is still blurred',
] as const;

type Delivered = {
  readonly attemptId: string;
  readonly to: string;
  readonly atMs: number;
  /** The wearer's stop was on record at that moment, whatever the clock said then and before. */
  readonly afterStop: boolean;
};
type Reply = { readonly atMs: number; readonly raw: RawInbound; readonly again: boolean };

/** Plays a shop's year by one seed, with crashes, doubled messages and a clock that jumps back; tells what was broken. */
export async function playYear(god: Db, process: Mortal, plan: YearPlan): Promise<YearTold> {
  const chance = seeded(plan.seed);
  const clock = standingClock(START);
  const world = new World(chance, process, clock.now, consentKeeper(god));
  const shell: Shell = {
    db: process.db,
    clock,
    journal: world.journal,
    log: silentLog,
    carrier: () => world.carrier,
  };
  await openShop(
    god,
    {
      shopId: SHOP,
      name: 'Year shop',
      kind: 'own',
      country: 'US',
      timeZone: 'America/New_York',
      settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
      owner: { name: 'Owner', phoneE164: ON_CALL },
    },
    START,
  );
  const arrivals = jobsOverTheYear(chance, plan);
  const end = START.getTime() + plan.days * DAY_MS;
  const extra = extraTicks(chance, plan, end);
  const broken: string[] = [];
  let ticks = 0;
  let checkedUntil = 0;

  const oneTick = async (): Promise<void> => {
    ticks += 1;
    if (chance.happens(0.08)) process.killIn(1 + chance.below(40));
    try {
      await tick(shell);
    } catch (error) {
      if (!(error instanceof Killed)) throw error;
    }
    process.revive();
  };

  for (let day = 0; day < plan.days; day += 1) {
    const dayEnd = Math.min(end, START.getTime() + (day + 1) * DAY_MS);
    const today = arrivals.filter((one) => one.day === day).map((one) => one.job);
    if (today.length > 0) await takeJobs({ ...shell, db: god }, SHOP, today, 'test');
    for (;;) {
      const due = await nextInstant(god, clock.now());
      const next = Math.min(due?.getTime() ?? Infinity, extra[0] ?? Infinity, world.nextReplyMs(), dayEnd);
      if (next >= dayEnd) break;
      while (extra[0] !== undefined && extra[0] <= next) extra.shift();
      clock.moveTo(new Date(Math.max(next, clock.now().getTime())));
      for (const reply of world.takeReplies(next)) await deliverReply(shell, process, chance, reply, world);
      if (chance.happens(0.01)) {
        // The machine's clock is set back by some hours, works there for a moment, and is put right.
        const right = clock.now();
        clock.moveTo(new Date(right.getTime() - chance.below(6) * 3_600_000));
        await oneTick();
        clock.moveTo(right);
      }
      await oneTick();
    }
    clock.moveTo(new Date(dayEnd));
    await oneTick();
    await oneTick();
    await closeOldCases({ ...shell, db: god }, chance);
    if (plan.sabotage !== 'none') await sabotage(god, plan.sabotage, world, day);
    broken.push(...(await checkDay(god, world, checkedUntil, day)));
    broken.push(...(await checkAlarms(god, world, clock.now(), day)));
    checkedUntil = world.delivered.length;
    if (broken.length > 0) break;
  }
  return {
    seed: plan.seed,
    broken,
    delivered: world.delivered.length,
    checkIns: Number(
      (
        await god
          .selectFrom('check_in')
          .select((n) => n.fn.countAll().as('n'))
          .where('state', '=', 'claimed')
          .executeTakeFirstOrThrow()
      ).n,
    ),
    replies: world.acknowledged.length,
    deaths: process.deaths,
    unsure: Number(
      (
        await god
          .selectFrom('attempt')
          .select((n) => n.fn.countAll().as('n'))
          .where('state', '=', 'unsure')
          .executeTakeFirstOrThrow()
      ).n,
    ),
    ticks,
    alarms: world.rang.length,
    stopped: Number(
      (
        await god
          .selectFrom('consent_event')
          .select((n) => n.fn.countAll().as('n'))
          .where('act', '=', 'withdrawn')
          .executeTakeFirstOrThrow()
      ).n,
    ),
  };
}

/** The carrier and the wearers' telephones: they live on when the process dies. */
class World {
  readonly delivered: Delivered[] = [];
  readonly acknowledged: RawInbound[] = [];
  /** Calls that arrived at the telephone of the person on call. */
  readonly rang: string[] = [];
  private readonly lines: RawInbound[] = [];
  private replies: Reply[] = [];
  private count = 0;
  private readonly chance: Chance;
  private readonly process: Mortal;
  private readonly now: () => Date;
  private readonly hasStopped: (attemptId: string) => Promise<boolean>;

  constructor(
    chance: Chance,
    process: Mortal,
    now: () => Date,
    hasStopped: (attemptId: string) => Promise<boolean>,
  ) {
    this.chance = chance;
    this.process = process;
    this.now = now;
    this.hasStopped = hasStopped;
  }

  readonly journal: Journal = {
    append: (message) => {
      this.process.step();
      this.lines.push(message);
    },
    readAll: () => this.lines,
    close() {},
  };

  readonly carrier: Channel = {
    name: 'world',
    kind: 'text',
    send: async (message) => {
      this.process.step();
      if (message.to === ON_CALL) {
        this.rang.push(message.attemptId);
        this.process.step();
        return { state: 'accepted', farId: `far-${message.attemptId}` };
      }
      this.delivered.push({
        attemptId: message.attemptId,
        to: message.to,
        atMs: this.now().getTime(),
        afterStop: await this.hasStopped(message.attemptId),
      });
      this.answerLater(message.to);
      this.process.step();
      return { state: 'accepted', farId: `far-${message.attemptId}` };
    },
    // A carrier's list lags: asked too soon it cannot tell.
    find: async (attemptId) => {
      this.process.step();
      if (this.chance.happens(0.3)) return 'unknown';
      return this.delivered.some((one) => one.attemptId === attemptId) ? 'accepted' : 'unknown';
    },
  };

  private answerLater(from: string): void {
    if (!this.chance.happens(0.55)) return;
    this.count += 1;
    const atMs = this.now().getTime() + (1 + this.chance.below(30 * 60)) * 60_000;
    const body = this.chance.pick(ANSWERS);
    const raw: RawInbound = {
      shopId: SHOP,
      channel: 'text',
      farId: `in-${this.count}`,
      from,
      to: null,
      body,
      receivedAt: new Date(atMs).toISOString(),
      raw: {},
    };
    this.replies.push({ atMs, raw, again: this.chance.happens(0.2) });
    this.replies.sort((a, b) => a.atMs - b.atMs);
  }

  nextReplyMs = (): number => this.replies[0]?.atMs ?? Number.POSITIVE_INFINITY;

  takeReplies(untilMs: number): Reply[] {
    const due = this.replies.filter((one) => one.atMs <= untilMs);
    this.replies = this.replies.filter((one) => one.atMs > untilMs);
    return due;
  }
}

/** A carrier posts until it is told that the message was received; it may post twice all the same. */
async function deliverReply(
  shell: Shell,
  process: Mortal,
  chance: Chance,
  reply: Reply,
  world: World,
): Promise<void> {
  for (let tries = 0; tries < 20; tries += 1) {
    if (chance.happens(0.1)) process.killIn(1 + chance.below(60));
    try {
      await takeReply(shell, reply.raw);
      if (!process.dead) break;
    } catch (error) {
      if (!(error instanceof Killed)) throw error;
    }
    process.revive();
  }
  process.revive();
  world.acknowledged.push(reply.raw);
  if (reply.again) await takeReply(shell, reply.raw);
}

function jobsOverTheYear(chance: Chance, plan: YearPlan): { day: number; job: ValidJob }[] {
  return Array.from({ length: plan.wearers }, (_, index) => {
    const place = PLACES[index % PLACES.length]!;
    const day = chance.below(Math.max(1, plan.days - 32));
    // One wearer in ten shares a telephone with the one before; one in eight has a second pair soon after.
    const number = index % 10 === 9 ? index - 1 : index;
    const date = new Date(START.getTime() + day * DAY_MS).toISOString().slice(0, 10);
    const job: ValidJob = {
      jobNumber: `J-${index}`,
      wearer: {
        name: `Wearer ${index % 8 === 7 ? index - 1 : index}`,
        phoneE164: `+1${201 + Math.floor(number / 100)}55501${String(number % 100).padStart(2, '0')}`,
        prefers: 'text',
        locale: 'en',
        country: place.country,
        ...(place.zone ? { zone: place.zone } : {}),
        ...(place.region ? { region: place.region } : {}),
      },
      consent: { given: true, channels: ['text'], basis: 'test' },
      way: 'counter',
      dates: { handedOverOn: date },
      lensDesign: 'soft 15',
      firstMultifocal: true,
      facts: [],
    };
    return { day, job };
  });
}

/** Around every change of every zone, and at random instants. */
function extraTicks(chance: Chance, plan: YearPlan, end: number): number[] {
  const at: number[] = [];
  for (const zone of ZONES) {
    let moment = Temporal.Instant.fromEpochMilliseconds(START.getTime()).toZonedDateTimeISO(zone);
    for (;;) {
      const next = moment.getTimeZoneTransition('next');
      if (!next || next.epochMilliseconds > end) break;
      for (const minutes of [-61, -1, 0, 1, 59, 61]) at.push(next.epochMilliseconds + minutes * 60_000);
      moment = next;
    }
  }
  for (let n = 0; n < plan.randomTicks; n += 1)
    at.push(START.getTime() + chance.below(plan.days * 1440) * 60_000);
  return at.filter((ms) => ms > START.getTime() && ms < end).sort((a, b) => a - b);
}

/**
 * Tells whether the wearer of an attempt has said stop, by what stands on record now. Events count in the order in which they
 * were first seen and not by their own times: a clock that was set back gives a stop an earlier time than what went out before it.
 */
function consentKeeper(god: Db): (attemptId: string) => Promise<boolean> {
  const order = new Map<string, number>();
  return async (attemptId) => {
    const events = await god
      .selectFrom('attempt as a')
      .innerJoin('message as m', (join) =>
        join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
      )
      .innerJoin('consent_event as e', (join) =>
        join.onRef('e.shop_id', '=', 'm.shop_id').onRef('e.wearer_id', '=', 'm.wearer_id'),
      )
      .select(['e.consent_id', 'e.act'])
      .where('a.attempt_id', '=', attemptId)
      .orderBy('e.at')
      .execute();
    for (const { consent_id } of events) if (!order.has(consent_id)) order.set(consent_id, order.size);
    const newest = events.sort((a, b) => order.get(a.consent_id)! - order.get(b.consent_id)!).at(-1);
    return newest?.act === 'withdrawn';
  };
}

/** Must-holds 1 and 2 of the design, over everything delivered since the last look. */
async function checkDay(god: Db, world: World, since: number, day: number): Promise<string[]> {
  const broken: string[] = [];
  const tell = (what: string) => broken.push(`day ${day}: ${what}`);
  const fresh = world.delivered.slice(since);
  const sent =
    fresh.length === 0
      ? []
      : await sentRows(
          god,
          fresh.map((one) => one.attemptId),
        );
  for (const one of fresh) {
    const row = sent.find((found) => found.attempt_id === one.attemptId);
    if (!row) {
      tell(`a message went out that is not on record (attempt ${one.attemptId})`);
      continue;
    }
    if (row.check_in_id !== null) {
      const times = world.delivered.filter((other) => row.attempts.includes(other.attemptId)).length;
      if (times > 1) tell(`check-in ${row.slot} of ${row.name} was sent ${times} times`);
    }
    const at = new Date(one.atMs);
    // The one confirmation of a stop, also of the stop that "wrong number" is, and the caution after danger.
    const mayFollow = ['stop confirmed', 'wrong number', 'caution'].includes(row.purpose);
    if (one.afterStop && !mayFollow) {
      tell(`${row.name} said stop and was sent “${row.purpose}”`);
    }
    const civil = isCivil(at, row.zones);
    const evening = row.in_answer_to !== null && isCivil(at, row.zones, OUTER_HOURS);
    if (!civil && !evening && !row.any_hour)
      tell(`${row.name} was sent “${row.purpose}” at ${at.toISOString()}, zones ${row.zones}`);
  }
  const unasked = await god
    .selectFrom('message as m')
    .select(['m.wearer_id', 'm.created_at'])
    .where('m.unasked', '=', true)
    .orderBy('m.created_at')
    .execute();
  const times = new Map<string, number[]>();
  for (const row of unasked)
    times.set(row.wearer_id, [...(times.get(row.wearer_id) ?? []), row.created_at.getTime()]);
  for (const [wearer, all] of times) {
    for (const [index, first] of all.entries()) {
      if (all.slice(index).filter((ms) => ms - first < 30 * DAY_MS).length > 8)
        tell(`wearer ${wearer} had more than 8 unasked messages in 30 days`);
    }
  }
  const all = (await god.selectFrom('inbound').select('far_id').execute()).map((row) => row.far_id);
  const stored = new Set(all);
  if (stored.size !== all.length) tell('a reply is stored twice');
  for (const raw of world.acknowledged)
    if (!stored.has(raw.farId)) tell(`the reply ${raw.farId} was taken and is gone`);
  const raw = await god
    .selectFrom('inbound_standing')
    .select('inbound_id')
    .where('state', '=', 'raw')
    .execute();
  if (raw.length > 0) tell(`${raw.length} replies are still not sorted at the end of the day`);
  return broken;
}

async function sentRows(god: Db, attemptIds: readonly string[]) {
  const rows = await god
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .innerJoin('wearer as w', (join) =>
      join.onRef('w.shop_id', '=', 'm.shop_id').onRef('w.wearer_id', '=', 'm.wearer_id'),
    )
    .leftJoin('check_in as c', (join) =>
      join.onRef('c.shop_id', '=', 'm.shop_id').onRef('c.check_in_id', '=', 'm.check_in_id'),
    )
    .innerJoin('wearer_contact as wc', (join) =>
      join
        .onRef('wc.shop_id', '=', 'm.shop_id')
        .onRef('wc.wearer_id', '=', 'm.wearer_id')
        .onRef('wc.contact_id', '=', 'm.contact_id'),
    )
    .select([
      'a.attempt_id',
      'm.purpose',
      'm.check_in_id',
      'm.any_hour',
      'm.in_answer_to',
      'c.slot',
      'w.name',
      'w.zone_candidates as zones',
      'm.message_id',
      'wc.consent',
    ])
    .where('a.attempt_id', 'in', [...attemptIds])
    .execute();
  const attempts = await god
    .selectFrom('attempt')
    .select(['message_id', 'attempt_id'])
    .where('message_id', 'in', rows.length > 0 ? rows.map((row) => row.message_id) : [''])
    .execute();
  return rows.map((row) => ({
    ...row,
    attempts: attempts.filter((one) => one.message_id === row.message_id).map((one) => one.attempt_id),
  }));
}

/** Must-hold 3: every danger sign has its alarm, and every alarm arrives where somebody is on call. */
async function checkAlarms(god: Db, world: World, now: Date, day: number): Promise<string[]> {
  const quiet = await god
    .selectFrom('reading as r')
    .innerJoin('inbound_standing as s', (join) =>
      join.onRef('s.shop_id', '=', 'r.shop_id').onRef('s.inbound_id', '=', 'r.inbound_id'),
    )
    .select('r.inbound_id')
    .where('r.urgent', '=', true)
    .where((none) =>
      none.not(
        none.exists(
          none
            .selectFrom('alarm as a')
            .select('a.alarm_id')
            .whereRef('a.shop_id', '=', 'r.shop_id')
            .where((or) =>
              or.or([
                or('a.subject_id', '=', or.ref('r.inbound_id')),
                or('a.case_id', '=', or.ref('s.case_id')),
              ]),
            ),
        ),
      ),
    )
    .execute();
  // One that somebody looked at before it sounded is over; the others have had hours of ticks.
  const old = await god
    .selectFrom('alarm')
    .select('alarm_id')
    .where('kind', '=', 'danger')
    .where('ended_at', 'is', null)
    .where('raised_at', '<', new Date(now.getTime() - DAY_MS / 2))
    .execute();
  const calls = await god
    .selectFrom('alarm_call')
    .select(['alarm_id', 'call_id'])
    .where('alarm_id', 'in', ['', ...old.map((one) => one.alarm_id)])
    .execute();
  const sounded = new Set(calls.filter((one) => world.rang.includes(one.call_id)).map((one) => one.alarm_id));
  const silent = old.filter((one) => !sounded.has(one.alarm_id));
  return [
    ...quiet.map((one) => `day ${day}: danger in ${one.inbound_id} has no alarm`),
    ...silent.map((one) => `day ${day}: the alarm ${one.alarm_id} never arrived`),
  ];
}

/** Staff work through the open cases at the end of the day, some of them late. */
async function closeOldCases(shell: Shell, chance: Chance): Promise<void> {
  const open = await shell.db
    .selectFrom('case_file')
    .select('case_id')
    .where('closed_at', 'is', null)
    .orderBy('opened_at')
    .execute();
  for (const file of open) {
    if (chance.happens(0.7)) continue;
    const outcome = chance.pick(['settled after adjusting', 'kept, not happy', 'refunded'] as const);
    const act = { kind: 'close', outcome, reason: null, borneBy: null, cause: null, causeHow: null } as const;
    await actOnCase(shell, SHOP, file.case_id, act, 'Owner');
  }
  await shell.db.updateTable('inbound_standing').set({ state: 'done' }).where('state', '=', 'tray').execute();
}

/** Breaks one promise on purpose; the check of some day must then tell of it. */
async function sabotage(god: Db, what: Sabotage, world: World, day: number): Promise<void> {
  if (day < 4) return;
  if (what === 'forget what was sent') {
    await god
      .updateTable('attempt')
      .set({ state: 'planned', lease_until: null })
      .where('state', '=', 'accepted')
      .execute();
  }
  if (what === 'forget who said stop')
    await god.updateTable('wearer_contact').set({ consent: 'given' }).execute();
  if (what === 'lose an alarm') {
    await god.deleteFrom('alarm_call').execute();
    await god.deleteFrom('alarm').execute();
  }
  if (what === 'lose a reply' && world.acknowledged[0])
    world.acknowledged.push({ ...world.acknowledged[0], farId: 'never stored' });
}
