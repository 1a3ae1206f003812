import { type AlarmWords, alarmWords, trayAlarmWords } from '../../templates/alarm.ts';
import type { Channel, SendResult } from '../channels/channel.ts';
import {
  type Alarm,
  type AlarmCall,
  type AlarmSubject,
  alarmsDue,
  cautionStates,
  endAlarm,
  putAlarm,
  putCalls,
  roundsOf,
  settleCall,
  takeCalls,
  takeRound,
  tellSooner,
  whyOver,
} from '../store/alarms.ts';
import type { Trx } from '../store/database.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { findWearer } from '../store/wearers.ts';
import { onDuty, type Reachable, reachablePeople, whoseTurn } from './alarmPeople.ts';
import { linksIn, linkTo, spoken } from './letterLinks.ts';
import type { Shell } from './shell.ts';

const MINUTE_MS = 60_000;
/** In the first hour somebody is told every five minutes, afterwards every half hour, until someone has it. */
const EVERY_MS = 5 * MINUTE_MS;
const FIRST_HOUR_MS = 60 * MINUTE_MS;
const LATER_EVERY_MS = 30 * MINUTE_MS;
/** When a round reached nobody the next person is told so soon. */
const NOBODY_REACHED_MS = MINUTE_MS;
const AT_ONCE = 50;

/** Puts the alarm after a danger sign on record, in the transaction that sorts the reply: a crash cannot part the two. */
export async function raiseDanger(
  trx: Trx,
  shopId: string,
  about: {
    readonly inboundId: string;
    readonly caseId: string | null;
    readonly wearerId: string | null;
  },
  now: Date,
): Promise<void> {
  const wearer = about.wearerId === null ? undefined : await findWearer(trx, shopId, about.wearerId);
  const alarm = {
    kind: 'danger',
    subjectId: about.inboundId,
    caseId: about.caseId,
    wearerId: about.wearerId,
    initial: [...(wearer?.name.trim() ?? '')][0]?.toUpperCase() ?? '?',
  } as const;
  await putAlarm(trx, shopId, alarm, now);
}

/**
 * Tells people on call of every alarm that is due, and sends what an earlier pass left unsent. An alarm knows no quiet hours, no
 * budget and no stop of the wearer, says nothing of their words, and goes on until someone presses "I have it". With nobody to
 * tell it stays due: the bench says so. Of one subject only, where a reply has just raised it: the others are the tick's. Returns
 * how many calls were sent.
 */
export async function soundAlarms(shell: Shell, about?: AlarmSubject): Promise<number> {
  for (const alarm of await alarmsDue(shell.db, shell.clock.now(), AT_ONCE, about))
    await nextRound(shell, alarm);
  return sendCalls(shell);
}

async function nextRound(shell: Shell, alarm: Alarm): Promise<void> {
  const now = shell.clock.now();
  await shell.db.transaction().execute(async (trx) => {
    const over = await whyOver(trx, alarm);
    if (over !== undefined) {
      await endAlarm(trx, alarm.shop_id, alarm.alarm_id, over, now);
      return;
    }
    const shop = await findShop(trx, alarm.shop_id);
    const all = await reachablePeople(trx, shell.carrier, alarm.shop_id);
    const people = alarm.kind === 'test' ? all : onDuty(all, shop, now);
    const before = await roundsOf(trx, alarm);
    const turn =
      alarm.kind === 'test' ? people : [whoseTurn(people, before)].filter((one) => one !== undefined);
    if (turn.length === 0) return;
    const old = now.getTime() - alarm.raised_at.getTime();
    const gap = old < FIRST_HOUR_MS ? EVERY_MS : LATER_EVERY_MS;
    if (!(await takeRound(trx, alarm, new Date(now.getTime() + gap)))) return;
    const words = await wordsOf(trx, shell, shop, alarm);
    await putCalls(
      trx,
      alarm,
      turn.flatMap((person) => callsTo(person, alarm, words)),
      now,
    );
    if (alarm.kind !== 'danger') await endAlarm(trx, alarm.shop_id, alarm.alarm_id, 'told once', now);
  });
}

const callsTo = (person: Reachable, alarm: Alarm, words: AlarmWords) =>
  person.ways.map(({ channel, address }) => ({
    round: alarm.rounds + 1,
    person_id: person.person_id,
    person_name: person.name,
    channel,
    address,
    subject: channel === 'email' ? words.email.subject : null,
    body: channel === 'email' ? words.email.text : words.text,
    html: channel === 'email' ? words.email.html : null,
  }));

async function wordsOf(trx: Trx, shell: Shell, shop: Shop, alarm: Alarm): Promise<AlarmWords> {
  const locale = shop.locale === 'es' ? 'es' : 'en';
  const place = alarm.case_id === null && alarm.kind !== 'test' ? '/tray' : `/cases/${alarm.case_id}`;
  const link = shell.pagesAt === undefined || alarm.kind === 'test' ? undefined : `${shell.pagesAt}${place}`;
  if (alarm.kind === 'tray') {
    return trayAlarmWords({ locale, shopName: shop.name, waiting: alarm.waiting, link });
  }
  return alarmWords({
    locale,
    shopName: shop.name,
    initial: alarm.initial,
    caseLink: link,
    haveLink: alarm.kind === 'danger' ? linkTo(shell, alarm.shop_id, 'have') : undefined,
    place: alarm.kind === 'danger' && alarm.case_id === null ? 'tray' : 'bench',
    caution: await hasCaution(trx, alarm),
    toldBefore: alarm.rounds,
    test: alarm.kind === 'test',
  });
}

async function hasCaution(trx: Trx, alarm: Alarm): Promise<'arrived' | 'not arrived' | 'not known'> {
  if (alarm.wearer_id === null) return alarm.kind === 'test' ? 'arrived' : 'not arrived';
  const states = await cautionStates(trx, alarm.shop_id, alarm.wearer_id, alarm.raised_at);
  if (states.some((state) => state === 'accepted' || state === 'delivered')) return 'arrived';
  const under = ['planned', 'claimed', 'handed over', 'unsure'];
  return states.some((state) => under.includes(state)) ? 'not known' : 'not arrived';
}

async function sendCalls(shell: Shell): Promise<number> {
  const calls = await takeCalls(shell.db, shell.clock.now(), AT_ONCE);
  const sent = await Promise.all(
    calls.map(async (call) => {
      const links = await linksIn(shell, call.shop_id, call.call_id, call, shell.clock.now());
      const result = await callOne(shell.carrier(call.shop_id, call.channel), spoken(call, links));
      await settleCall(shell.db, call, result);
      return { call, reached: result.state === 'accepted' };
    }),
  );
  const soon = new Date(shell.clock.now().getTime() + NOBODY_REACHED_MS);
  for (const { call } of sent) {
    const round = sent.filter((one) => one.call.alarm_id === call.alarm_id);
    if (round.every((one) => !one.reached)) await tellSooner(shell.db, call.shop_id, call.alarm_id, soon);
  }
  return sent.length;
}

type Settled = Parameters<typeof settleCall>[2];

async function callOne(carrier: Channel | undefined, call: AlarmCall): Promise<Settled> {
  if (!carrier) return { state: 'refused', why: `no ${call.channel} carrier is switched on` };
  let result: SendResult;
  try {
    result = await carrier.send({
      attemptId: call.call_id,
      to: call.address,
      text: call.body,
      ...(call.subject === null ? {} : { subject: call.subject }),
      ...(call.html === null ? {} : { html: call.html }),
    });
  } catch (error) {
    return { state: 'unsure', why: error instanceof Error ? error.name : 'the carrier did not answer' };
  }
  if (result.state === 'accepted') return { state: 'accepted', farId: result.farId };
  return { state: result.state, why: result.why };
}
