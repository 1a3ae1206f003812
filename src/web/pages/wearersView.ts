import type { WearerView } from '../../../dashboard/wearer/view.ts';
import type { WearerLine, WearersView } from '../../../dashboard/wearers/view.ts';
import { linksTold } from '../../channels/linkPlaces.ts';
import { addDays, localDay } from '../../followup/planSlots.ts';
import { zoneSet } from '../../intake/zones.ts';
import type { Db } from '../../store/database.ts';
import {
  allWearers,
  type CheckInRow,
  type ContactRow,
  contactsWithConsent,
  countSettling,
  countWearers,
  foundWearers,
  type Happenings,
  happenings,
  pairsOfWearer,
  settlingWearers,
  type WearerPair,
  type WearerRow,
} from '../../store/pages/wearers.ts';
import type { Shop } from '../../store/shops.ts';
import { findWearer, type Wearer } from '../../store/wearers.ts';
import { localTimes, readable, shortDay, shortTime } from '../format.ts';
import { COUNT_AT_MOST, PAGE_SIZE, pageOf, rangeWords, readPaging } from './listPage.ts';
import { settlingStrip } from './settlingStrip.ts';
import { soughtBy } from './sought.ts';
import { pairWords } from './views.ts';

const FIRST_WEEKS_DAYS = 30;
const SAID = 20;

export type WearersAsked = {
  readonly q: string;
  readonly show: 'settling' | 'all';
  readonly page: string | undefined;
};

/** The list of wearers: those in their first weeks, everyone, or those found, fifty at a time. */
export async function loadWearers(db: Db, shop: Shop, asked: WearersAsked, now: Date): Promise<WearersView> {
  const shopId = shop.shop_id;
  const { q, show } = asked;
  if (q !== '') {
    const found = await foundWearers(db, shopId, soughtBy(q, shop.country), PAGE_SIZE + 1);
    const shown = found.slice(0, PAGE_SIZE);
    const range =
      found.length > PAGE_SIZE
        ? `the first ${PAGE_SIZE}; write more of the name`
        : rangeWords(1, shown.length, shown.length);
    return {
      lines: await linesOf(db, shop, shown, now),
      q,
      show,
      range,
      nextHref: null,
      previousHref: null,
    };
  }
  const paging = readPaging(asked.page);
  const since = addDays(localDay(now, shop.time_zone), -FIRST_WEEKS_DAYS);
  const settling = show === 'settling';
  const place = settling && !isDay(paging.place?.key) ? null : paging.place;
  const rows = settling
    ? await settlingWearers(db, shopId, since, place, PAGE_SIZE + 1)
    : await allWearers(db, shopId, place, PAGE_SIZE + 1);
  const total = settling
    ? await countSettling(db, shopId, since, COUNT_AT_MOST)
    : await countWearers(db, shopId, COUNT_AT_MOST);
  const page = pageOf(
    rows,
    place === null ? { from: 1, place } : paging,
    total,
    (row) => ({ key: row.sort_key, id: row.sort_id }),
    (at) => `/wearers?show=${show}&page=${at}`,
  );
  return {
    lines: await linesOf(db, shop, page.rows, now),
    q,
    show,
    range: page.range,
    nextHref: page.nextHref,
    previousHref: page.previousHref,
  };
}

const isDay = (key: string | undefined): boolean =>
  key !== undefined && /^\d{4}-\d\d-\d\d$/.test(key) && !Number.isNaN(Date.parse(`${key}T00:00:00Z`));

async function linesOf(db: Db, shop: Shop, rows: readonly WearerRow[], now: Date): Promise<WearerLine[]> {
  const all = await happenings(
    db,
    shop.shop_id,
    rows.map((row) => row.wearer_id),
    rows.flatMap((row) => row.pair_id ?? []),
  );
  return rows.map((row) => wearerLine(row, all, shop, now));
}

function wearerLine(row: WearerRow, all: Happenings, shop: Shop, now: Date): WearerLine {
  const line = {
    href: `/wearers/${row.wearer_id}`,
    name: row.name,
    pair: row.design === null ? '' : pairWords(row.design, row.first_multifocal),
    caseHref: row.case_id ? `/cases/${row.case_id}` : null,
  };
  if (row.pair_id === null) {
    return { ...line, day: null, standing: 'no pair handed over yet', marks: [], stretches: [] };
  }
  const pair = {
    ...row,
    pair_id: row.pair_id,
    first_worn_on: row.first_worn_on!,
    first_worn_how: row.first_worn_how!,
    handed_over_on: row.handed_over_on!,
  };
  return { ...line, ...settlingStrip(pair, all, row.zone_candidates[0] ?? shop.time_zone, now) };
}

/** One wearer whole: pairs with their strips, ways to reach them, what was said last. */
export async function loadWearer(
  db: Db,
  shop: Shop,
  wearerId: string,
  now: Date,
  troubles: WearerView['troubles'] = [],
): Promise<WearerView | undefined> {
  const shopId = shop.shop_id;
  const wearer = await findWearer(db, shopId, wearerId);
  if (!wearer) return undefined;
  const pairs = await pairsOfWearer(db, shopId, wearerId);
  const contacts = await contactsWithConsent(db, shopId, wearerId);
  const all = await happenings(
    db,
    shopId,
    [wearerId],
    pairs.map((pair) => pair.pair_id),
  );
  const zones = wearer.zone_candidates;
  return {
    wearerId,
    name: wearer.name,
    localTime: localTimes(now, zones),
    zone: { zones, how: wearer.zone_how },
    timeZones: timeZonesFor(wearer, shop),
    prefers: wearer.prefers,
    contacts: contacts.map((contact) => contactView(contact, shop, now)),
    pairs: pairs.map((pair) => pairView(pair, wearer, all, shop, now)),
    said: saidLast(wearer, all, shop, now),
    troubles,
  };
}

/** The wearer's own zones first, then those of the country, then all others. */
function timeZonesFor(wearer: Wearer, shop: Shop): readonly string[] {
  const near = zoneSet(wearer.country ?? shop.country);
  return [
    ...new Set([...wearer.zone_candidates, shop.time_zone, ...near, ...Intl.supportedValuesOf('timeZone')]),
  ];
}

function contactView(contact: ContactRow, shop: Shop, now: Date): WearerView['contacts'][number] {
  return {
    channel: contact.channel,
    address: readable(contact.address),
    consent: consentStanding(contact, shop, now),
    sharedWith: contact.shared_with,
    unusable: contact.unusable_why,
    canStop: contact.consent === 'given',
  };
}

function consentStanding(contact: ContactRow, shop: Shop, now: Date): string {
  if (contact.act === null || contact.at === null) return 'never asked';
  const when = shortTime(contact.at, now, shop.time_zone);
  const by = contact.recorded_by ? `, noted by ${contact.recorded_by}` : '';
  if (contact.act === 'given') return `yes, ${when}: ${contact.basis ?? ''}${by}`;
  const words =
    contact.words === null || contact.act === 'refused' ? '' : `: “${contact.words.slice(0, 120)}”`;
  if (contact.act === 'refused') return `said no ${when}: ${contact.basis ?? ''}${by}`;
  return `stopped ${when}, ${contact.basis ?? ''}${words}${by}`;
}

function pairView(
  pair: WearerPair,
  wearer: Wearer,
  all: Happenings,
  shop: Shop,
  now: Date,
): WearerView['pairs'][number] {
  const zone = wearer.zone_candidates[0] ?? shop.time_zone;
  const strip = settlingStrip({ ...pair, wearer_id: wearer.wearer_id }, all, zone, now);
  return {
    words: pairWords(pair.design, pair.first_multifocal),
    jobHref: `/jobs/${pair.job_id}`,
    jobNumber: pair.job_key,
    day: strip.day,
    firstWorn: firstWornWords(pair),
    outcome: pair.outcome,
    caseHref: pair.case_id ? `/cases/${pair.case_id}` : null,
    marks: strip.marks,
    stretches: strip.stretches,
    planned: all.checkIns
      .filter((one) => one.pair_id === pair.pair_id && one.state === 'planned')
      .map((one) => plannedWords(one, zone)),
    plan: planWords(pair, wearer),
  };
}

function firstWornWords(pair: WearerPair): string {
  if (pair.first_worn_how === 'reckoned')
    return `posted ${shortDay(pair.handed_over_on)}, not known to have come`;
  const how = pair.first_worn_how === 'handed over' ? 'the day of the hand-over' : pair.first_worn_how;
  return `first worn ${shortDay(pair.first_worn_on)}, ${how}`;
}

function plannedWords(checkIn: CheckInRow, zone: string): string {
  const what =
    checkIn.kind === 'tips'
      ? 'how to use them'
      : checkIn.kind === 'have they come'
        ? 'have they come'
        : `day ${checkIn.day}`;
  return `${what}, ${shortTime(checkIn.due_at, checkIn.due_at, zone).replace('today ', `${shortDay(checkIn.due_on)}, about `)} their time`;
}

function planWords(pair: WearerPair, wearer: Wearer): string {
  if (pair.plan_state === null) return 'not made';
  if (pair.plan_state === 'running') {
    return wearer.automatic_held_why === null ? 'running' : `waits: ${wearer.automatic_held_why}`;
  }
  return `${pair.plan_state}${pair.plan_why ? `: ${pair.plan_why}` : ''}`;
}

function saidLast(wearer: Wearer, all: Happenings, shop: Shop, now: Date): WearerView['said'] {
  const lang = wearer.locale === 'es' ? 'es' : 'en';
  const lines = [
    ...all.replies.map((one) => ({ at: one.received_at, who: wearer.name, text: one.body })),
    ...all.messages.map((one) => ({
      at: one.created_at,
      who: `${one.written_by ?? 'Automatic'} to ${wearer.name}`,
      text: linksTold(one.body),
    })),
  ];
  return lines
    .sort((one, other) => other.at.getTime() - one.at.getTime())
    .slice(0, SAID)
    .map(({ at, who, text }) => ({ when: shortTime(at, now, shop.time_zone), who, text, lang }));
}
