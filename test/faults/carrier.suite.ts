import { createServer } from 'node:net';
import { signatureOf } from '../../src/channels/carrierSignature.ts';
import { standingClock } from '../../src/clock.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import { silentLog } from '../../src/log.ts';
import { type Db, openServer } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { startImapStandIn } from '../channels/imapStandIn.ts';
import { type Kept, type NextTime, startStandIn } from '../channels/standIn.ts';
import { tickAll } from '../followup/liveTicks.ts';
import { startMailStandIn } from './mailStandIn.ts';
import { type Chance, seeded } from './seeded.ts';
import { type ShopLife, startShop } from './shopLife.ts';
import type { Opening } from './shopProcess.ts';
import type { FaultSize, FaultSuite, FaultTold, FaultWorld } from './suite.ts';

const SIZES = {
  whole: { checkIns: 10_000, kills: 200, dangers: 40, killedAtReply: 10, minutesATick: 1 },
  short: { checkIns: 400, kills: 10, dangers: 4, killedAtReply: 1, minutesATick: 3 },
} as const satisfies Record<FaultSize, object>;

const SHOP = 'faults';
const ACCOUNT = `AC${'0'.repeat(32)}`;
const TOKEN = 'a token for tests only';
const FROM = '+12025550199';
/** The person on call, by text and by email; reserved for fiction. */
const ON_CALL = '+447700900999';
const ON_CALL_MAIL = 'oncall@shop.example';
/** Day 3 of wear, 10:00 in New York: every check-in is due. */
const DUE = new Date('2026-03-05T15:00:30Z');
const MINUTE_MS = 60_000;
/** Retries that fell due after hours go in the morning, some of them more than once. */
const MOST_WAITS = 5;
const FLASHES = 'since this morning lots of new black specks and flashes in my left eye';

/**
 * The real room, in a process of its own, on a real PostgreSQL, sends a check-in to each of thousands of wearers through the
 * carrier's own package, over sockets, to a stand-in of the carrier with the troubles that real ones make; the process is
 * killed in the middle of it again and again. What the stand-in took is the truth that the records are held against.
 */
export const carrierSuite: FaultSuite = {
  name: 'carrier',
  says: 'SIGKILL amid sending; the carrier drops lines after it took a text, answers 429 and 5xx, lists 0 to 120 s late, loses, doubles and shuffles its calls, and is down for an hour.',
  run: runCarrierFaults,
};

async function runCarrierFaults(world: FaultWorld, size: FaultSize): Promise<FaultTold> {
  const database = await world.database();
  const god = openServer(database.url);
  const run = new Run(seeded(world.seed), god.inShop(SHOP), SIZES[size]);
  try {
    await run.open(database.url);
    await run.killAmidSending();
    await run.downForAnHour();
    await run.killBetweenReplyAndAlarm();
    await run.settle();
    return await run.told();
  } finally {
    await run.close();
    await god.close();
    await database.drop();
  }
}

type Size = (typeof SIZES)[FaultSize];
type Danger = { readonly phone: string; readonly sid: string; readonly atMs: number; alarmed: boolean };

class Run {
  private readonly chance: Chance;
  private readonly db: Db;
  private readonly size: Size;
  private readonly clock = standingClock(DUE);
  private readonly broken: string[] = [];
  private readonly dangers: Danger[] = [];
  private readonly phones: string[] = [];
  private texts!: Awaited<ReturnType<typeof startStandIn>>;
  private mail!: Awaited<ReturnType<typeof startMailStandIn>>;
  private imap!: Awaited<ReturnType<typeof startImapStandIn>>;
  private opening!: Omit<Opening, 'at'>;
  private life: ShopLife | undefined;
  private kills = 0;
  private down = false;
  /** Kills the process when so many texts more were taken. */
  private killAfter = Number.POSITIVE_INFINITY;
  private readonly answers = { dropped: 0, tooFast: 0, faultTaken: 0, faultNotTaken: 0 };
  private readonly calls = { posted: 0, lost: 0, doubled: 0 };
  private posting: Promise<unknown>[] = [];

  constructor(chance: Chance, db: Db, size: Size) {
    this.chance = chance;
    this.db = db;
    this.size = size;
  }

  async open(databaseUrl: string): Promise<void> {
    this.texts = await startStandIn({
      accountSid: ACCOUNT,
      authToken: TOKEN,
      nowMs: () => this.clock.now().getTime(),
      lagMs: () => this.chance.below(120_000),
      behave: () => this.behave(),
      isDown: () => this.down,
      onTaken: (message) => this.taken(message),
    });
    this.mail = await startMailStandIn();
    this.imap = await startImapStandIn({ user: 'care', password: 'right' });
    const port = await freePort();
    const base = `http://127.0.0.1:${port}`;
    this.opening = {
      databaseUrl,
      port,
      textOrigin: this.texts.origin,
      carriers: {
        links: { base: 'https://shop.example', secret: 'a secret that is only for these tests' },
        text: { accountSid: ACCOUNT, authToken: TOKEN, from: FROM, perSecond: 100_000, publicBase: base },
        mail: {
          host: '127.0.0.1',
          port: this.mail.port,
          user: undefined,
          password: undefined,
          mailbox: 'care@shop.example',
          bounceMailbox: 'bounce@shop.example',
          secret: 'a secret that is only for these tests',
          imap: { host: '127.0.0.1', port: this.imap.port, user: 'care', password: 'right' },
        },
      },
    };
    await openShop(
      this.db,
      {
        shopId: SHOP,
        name: 'Fault shop',
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
        owner: { name: 'Owner', phoneE164: ON_CALL, email: ON_CALL_MAIL },
      },
      new Date('2026-03-01T15:00:00Z'),
    );
    await tickAll(this.db, SHOP, { address: base, sender: FROM, mailbox: 'care@shop.example' });
    const jobs = Array.from({ length: this.size.checkIns }, (_, at) => jobOf(at));
    this.phones.push(...jobs.map((job) => job.wearer.phoneE164!));
    // Two days after the hand-over: the tips are past, the question of day 3 is to come.
    await takeJobs(this.shell(new Date('2026-03-04T15:00:00Z')), SHOP, jobs, 'test');
  }

  /** Lives of the process, each ended amid sending; what it left is taken up by the next. */
  async killAmidSending(): Promise<void> {
    const perLife = Math.ceil((2 * this.size.checkIns) / this.size.kills);
    const dangerEvery = Math.max(1, Math.floor(this.size.kills / this.size.dangers));
    while (this.kills < this.size.kills) {
      const life = await this.start();
      const before = this.kills;
      this.killAfter = 1 + this.chance.below(perLife);
      for (let ticks = 0; this.kills === before && ticks < 6; ticks++) {
        if (this.kills % dangerEvery === 0 && ticks === 0) await this.danger(life);
        this.postCalls();
        await life.tick(this.later(MINUTE_MS));
      }
      // Little left to send: it is killed all the same, wherever it is.
      if (this.kills === before) await this.kill();
      await this.allPosted();
      await this.takeOnAlarms();
    }
    this.killAfter = Number.POSITIVE_INFINITY;
  }

  /** The carrier of texts is down for an hour; a sign of danger comes in meanwhile. */
  async downForAnHour(): Promise<void> {
    await this.ticks(5);
    await this.takeOnAlarms();
    this.down = true;
    const life = this.life!;
    const mailsBefore = this.alarmMails().length;
    const textsBefore = this.texts.kept.length;
    const danger = await this.danger(life);
    // The line to the mail server takes its time, and the minute is a played one.
    for (let tries = 0; tries < 12 && this.alarmMails().length === mailsBefore; tries++)
      await life.tick(this.later(MINUTE_MS / 12));
    if (this.alarmMails().length === mailsBefore)
      this.broken.push('carrier down: no email reached the person on call within a minute');
    for (let minute = 1; minute < 60; minute += this.size.minutesATick)
      await life.tick(this.later(this.size.minutesATick * MINUTE_MS));
    if (this.texts.kept.length !== textsBefore) this.broken.push('a carrier that was down took a text');
    this.down = false;
    await this.ticks(20);
    if (this.takenBy(danger.phone, danger.atMs) === 0)
      this.broken.push('carrier down: the caution did not follow when it was up again');
    await this.takeOnAlarms();
  }

  /** Killed at the very moment at which the carrier was told that the reply is here. */
  async killBetweenReplyAndAlarm(): Promise<void> {
    for (let times = 0; times < this.size.killedAtReply; times++) {
      const life = this.life && !this.life.dead ? this.life : await this.start();
      await this.danger(life);
      await this.kill();
      await this.start();
      await this.ticks(2);
      await this.takeOnAlarms();
    }
  }

  /** Everything that waits for an answer, a retry, a reconciliation or, after hours, for the next morning is played to its end. */
  async settle(): Promise<void> {
    await this.ticks(20);
    await this.takeOnAlarms();
    for (let waits = 0; waits < MOST_WAITS; waits++) {
      const next = await this.nextPlanned();
      if (next === undefined) return;
      this.clock.moveTo(new Date(Math.max(next.getTime(), this.clock.now().getTime())));
      await this.ticks(20);
      await this.takeOnAlarms();
    }
  }

  /** When the first attempt goes that waits; undefined when none does. */
  private async nextPlanned(): Promise<Date | undefined> {
    const row = await this.db
      .selectFrom('attempt')
      .select('send_at')
      .where('state', '=', 'planned')
      .orderBy('send_at')
      .limit(1)
      .executeTakeFirst();
    return row?.send_at;
  }

  async told(): Promise<FaultTold> {
    const takes = new Map<string, number>();
    for (const message of this.texts.kept) {
      const id = attemptOf(message);
      if (id !== undefined) takes.set(id, (takes.get(id) ?? 0) + 1);
    }
    const attempts = await this.db
      .selectFrom('attempt as a')
      .innerJoin('message as m', 'm.message_id', 'a.message_id')
      .select(['a.attempt_id', 'a.state', 'm.check_in_id', 'm.purpose', 'm.message_id'])
      .execute();
    const checkIns = await this.db
      .selectFrom('check_in')
      .select(['check_in_id', 'state', 'day', 'due_at', 'why'])
      .execute();
    const byCheckIn = new Map<string, { states: string[]; takes: number }>();
    for (const attempt of attempts) {
      if (attempt.check_in_id === null) continue;
      const of = byCheckIn.get(attempt.check_in_id) ?? { states: [], takes: 0 };
      of.states.push(attempt.state);
      of.takes += takes.get(attempt.attempt_id) ?? 0;
      byCheckIn.set(attempt.check_in_id, of);
    }
    let sent = 0;
    let doubled = 0;
    let toRing = 0;
    let unsure = 0;
    let unsureThatArrived = 0;
    let putOff = 0;
    for (const { check_in_id, state, day, due_at, why } of checkIns) {
      if (day !== 3) continue;
      const of = byCheckIn.get(check_in_id);
      const isUnsure = of?.states.includes('unsure') ?? false;
      if (isUnsure) unsure += 1;
      if (isUnsure && of!.takes > 0) unsureThatArrived += 1;
      if (state === 'to ring') toRing += 1;
      if ((of?.takes ?? 0) > 1) doubled += 1;
      const waits = state === 'planned' && why !== null && due_at > this.clock.now();
      if (waits) putOff += 1;
      if ((of?.takes ?? 0) > 0) sent += 1;
      else if (waits) continue;
      else if (!isUnsure && state !== 'to ring')
        this.broken.push(
          `check-in ${check_in_id} is lost: ${state}, ${of?.states.join(', ') ?? 'no attempt'}`,
        );
    }
    if (doubled > 0) this.broken.push(`${doubled} check-ins were sent twice`);
    const stuck = attempts.filter((one) => ['claimed', 'handed over'].includes(one.state)).length;
    if (stuck > 0) this.broken.push(`${stuck} attempts are left hanging`);
    const stored = await this.db
      .selectFrom('inbound')
      .select('far_id')
      .where('channel', '=', 'text')
      .execute();
    const lostReplies = this.dangers.filter((one) => !stored.some((row) => row.far_id === one.sid)).length;
    if (lostReplies > 0) this.broken.push(`${lostReplies} replies are lost`);
    if (stored.length !== this.dangers.length)
      this.broken.push(`${stored.length} replies for ${this.dangers.length}`);
    const noCaution = this.dangers.filter((one) => this.takenBy(one.phone, one.atMs) === 0).length;
    if (noCaution > 0) this.broken.push(`${noCaution} cautions never arrived`);
    const noAlarm = this.dangers.filter((one) => !one.alarmed).length;
    if (noAlarm > 0) this.broken.push(`${noAlarm} alarms never arrived`);
    return {
      figures: {
        'check-ins due': this.size.checkIns,
        'times the process was killed (SIGKILL)': this.kills,
        'check-ins that the carrier took': sent,
        'check-ins that it took twice': doubled,
        'put off to the next day (a danger sign waits for a person)': putOff,
        'left as a call to make (429 three times)': toRing,
        'left “unsure” on record': unsure,
        'of these in truth taken by the carrier': unsureThatArrived,
        'taken, line dropped before the answer': this.answers.dropped,
        'answered 429': this.answers.tooFast,
        'answered 5xx, taken': this.answers.faultTaken,
        'answered 5xx, not taken': this.answers.faultNotTaken,
        'state callbacks posted': this.calls.posted,
        'state callbacks lost on the way': this.calls.lost,
        'state callbacks posted twice': this.calls.doubled,
        'replies with a sign of danger': this.dangers.length,
        'cautions that arrived': this.dangers.length - noCaution,
        'alarms that arrived': this.dangers.length - noAlarm,
        'emails to the person on call': this.alarmMails().length,
      },
      broken: this.broken,
    };
  }

  async close(): Promise<void> {
    if (this.life && !this.life.dead) await this.life.kill();
    await this.allPosted();
    await this.texts?.stop();
    await this.mail?.stop();
    await this.imap?.stop();
  }

  private async start(): Promise<ShopLife> {
    // Longer than a claim lasts, so that the next life may take up what this one held.
    this.life = await startShop({ ...this.opening, at: this.later(2 * MINUTE_MS).toISOString() });
    return this.life;
  }

  private async kill(): Promise<void> {
    this.kills += 1;
    this.killAfter = Number.POSITIVE_INFINITY;
    await this.life!.kill();
  }

  private async ticks(count: number): Promise<void> {
    if (!this.life || this.life.dead) await this.start();
    for (let at = 0; at < count; at++) {
      this.postCalls();
      await this.life!.tick(this.later(this.size.minutesATick * MINUTE_MS));
      await this.allPosted();
    }
  }

  private later(ms: number): Date {
    const at = new Date(this.clock.now().getTime() + ms);
    this.clock.moveTo(at);
    return at;
  }

  /** One text in fifty is taken and the line dropped; one in a hundred each: 429, 5xx taken, 5xx not taken. */
  private behave(): NextTime {
    const roll = this.chance.next();
    if (roll < 0.02) {
      this.answers.dropped += 1;
      return { does: 'takes it and drops the line' };
    }
    if (roll < 0.03) {
      this.answers.tooFast += 1;
      return { does: 'refuses', status: 429, code: 20429 };
    }
    if (roll < 0.04) {
      this.answers.faultTaken += 1;
      return { does: 'refuses', status: 503, taken: true };
    }
    if (roll < 0.05) {
      this.answers.faultNotTaken += 1;
      return { does: 'refuses', status: 500 };
    }
    return { does: 'takes it' };
  }

  private readonly toMove: string[] = [];

  private taken(message: Kept): void {
    this.toMove.push(message.sid);
    this.killAfter -= 1;
    // The answer to this very text, and to those beside it, never arrives.
    if (this.killAfter === 0) void this.kill();
  }

  private posted = 0;

  /** Posts the states of what was taken: one in a hundred is lost, one in ten comes twice, and none keeps its turn. */
  private postCalls(): void {
    for (const sid of this.toMove.splice(0)) {
      this.texts.moveOn(sid, 'sent');
      this.texts.moveOn(sid, 'delivered');
    }
    const fresh = this.texts.callbacks.slice(this.posted);
    this.posted = this.texts.callbacks.length;
    const calls = fresh.flatMap((call) => {
      if (this.chance.happens(0.01)) {
        this.calls.lost += 1;
        return [];
      }
      if (!this.chance.happens(0.1)) return [call];
      this.calls.doubled += 1;
      return [call, call];
    });
    calls.sort(() => this.chance.next() - 0.5);
    this.calls.posted += calls.length;
    this.posting.push(
      inTurn(calls, 8, async ({ url, params, signature }) => {
        await this.post(url, params, signature).catch(() => {});
      }),
    );
  }

  private async allPosted(): Promise<void> {
    await Promise.all(this.posting.splice(0));
  }

  private async post(
    url: string,
    params: Readonly<Record<string, string>>,
    signature: string,
  ): Promise<number> {
    const answer = await fetch(url, {
      method: 'POST',
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'x-twilio-signature': signature,
      },
      body: new URLSearchParams(params).toString(),
    });
    await answer.arrayBuffer();
    return answer.status;
  }

  /** A wearer writes of danger; the carrier posts it until it is told that it is here, and once more. */
  private async danger(first: ShopLife): Promise<Danger> {
    const phone = this.phones[this.dangers.length * 7]!;
    const sid = `SMin${String(this.dangers.length).padStart(6, '0')}`;
    const danger: Danger = { phone, sid, atMs: this.clock.now().getTime(), alarmed: false };
    this.dangers.push(danger);
    const url = `${this.opening.carriers.text!.publicBase}/hooks/text`;
    const params = { MessageSid: sid, From: phone, To: FROM, Body: FLASHES, NumMedia: '0' };
    const signature = signatureOf(TOKEN, url, params);
    for (let tries = 0; tries < 20; tries++) {
      if (tries > 0 && first.dead && this.life?.dead) await this.start();
      const status = await this.post(url, params, signature).catch(() => 0);
      if (status === 200) break;
    }
    if (this.chance.happens(0.5)) void this.post(url, params, signature).catch(() => {});
    return danger;
  }

  /** Somebody presses "I have it" on every case of which an alarm has come, as the real person would. */
  private async takeOnAlarms(): Promise<void> {
    const rows = await this.db
      .selectFrom('alarm as a')
      .innerJoin('alarm_call as c', 'c.alarm_id', 'a.alarm_id')
      .innerJoin('inbound as i', 'i.inbound_id', 'a.subject_id')
      .select(['a.case_id', 'i.far_id', 'c.call_id', 'a.ended_at'])
      .execute();
    const calls = new Set([
      ...this.texts.kept.filter((one) => one.to === ON_CALL).flatMap((one) => attemptOf(one) ?? []),
      ...this.alarmMails().map((one) => one.callId),
    ]);
    const cases = new Set<string>();
    for (const row of rows) {
      if (!calls.has(row.call_id)) continue;
      const danger = this.dangers.find((one) => one.sid === row.far_id);
      if (danger) danger.alarmed = true;
      if (row.case_id !== null && row.ended_at === null) cases.add(row.case_id);
    }
    for (const caseId of cases)
      await actOnCase(this.shell(this.clock.now()), SHOP, caseId, { kind: 'have it' }, 'Owner');
  }

  private alarmMails() {
    return this.mail.got.filter((one) => one.to.includes(ON_CALL_MAIL));
  }

  /** How many cautions the carrier took for a telephone since a reply. */
  private takenBy(phone: string, sinceMs: number): number {
    return this.texts.kept.filter(
      (one) => one.to === phone && one.createdMs >= sinceMs && one.body.includes('911'),
    ).length;
  }

  private shell(at: Date): Shell {
    return {
      db: this.db,
      clock: standingClock(at),
      journal: noJournal,
      log: silentLog,
      carrier: () => undefined,
    };
  }
}

const attemptOf = (message: Kept): string | undefined =>
  message.statusCallback === null
    ? undefined
    : (new URL(message.statusCallback).searchParams.get('attempt') ?? undefined);

function jobOf(at: number): ValidJob {
  const area = 201 + Math.floor(at / 100);
  return {
    jobNumber: `J-${at}`,
    wearer: {
      name: `Wearer ${at}`,
      phoneE164: `+1${area}55501${String(at % 100).padStart(2, '0')}`,
      prefers: 'text',
      locale: 'en',
      zone: 'America/New_York',
    },
    consent: { given: true, channels: ['text'], basis: 'test' },
    way: 'counter',
    dates: { handedOverOn: '2026-03-02' },
    lensDesign: 'soft 15',
    firstMultifocal: true,
    facts: [],
  };
}

async function inTurn<T>(all: readonly T[], atOnce: number, work: (one: T) => Promise<void>): Promise<void> {
  let next = 0;
  await Promise.all(
    Array.from({ length: atOnce }, async () => {
      while (next < all.length) {
        next += 1;
        await work(all[next - 1]!);
      }
    }),
  );
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      const port = typeof address === 'object' && address ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}
