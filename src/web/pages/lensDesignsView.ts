import type {
  LensDesignsView,
  OfferedWarning,
  RateLine,
  Said,
} from '../../../dashboard/lens-designs/view.ts';
import type { LensPairsView } from '../../../dashboard/lens-pairs/view.ts';
import type { DriftPicture } from '../../../dashboard/pictures/drift/view.ts';
import type { FunnelPicture } from '../../../dashboard/pictures/funnel/view.ts';
import type { MonthsPicture } from '../../../dashboard/pictures/months/view.ts';
import type { RatesPicture } from '../../../dashboard/pictures/rates/view.ts';
import { orderWarnings, warningWords } from '../../followup/warnAtOrder.ts';
import { driftPicture } from '../../review/driftPicture.ts';
import { funnelPicture } from '../../review/funnelPicture.ts';
import { money } from '../../review/money.ts';
import { monthPicture } from '../../review/monthPicture.ts';
import { RE_MEASURED_ARE_NOT_ALL } from '../../review/ownBias.ts';
import { type Grouping, LOOK_DAYS } from '../../review/pairs.ts';
import type { GroupRates, RemakeRates } from '../../review/remakeRates.ts';
import { RIPE_AFTER_DAYS } from '../../review/ripePairs.ts';
import { SEEN_ON_LOOK_DAYS, type TimeToAdapt } from '../../review/timeToAdapt.ts';
import { FEWEST_RIPE } from '../../review/verdicts.ts';
import { pairsInWords, percent, percentRange } from '../../review/words.ts';
import type { ShopSettings } from '../../store/tables.ts';
import {
  adaptOf,
  costsOf,
  dayWords,
  driftFound,
  type Part,
  type ReviewAsked,
  type Reviewed,
  ratesOf,
  type SaidFigure,
  saidIn,
} from './lensFigures.ts';

export const GROUPING_NAMES: Readonly<Record<Grouping, string>> = {
  design: 'lens design',
  material: 'material',
  lightReactiveGrade: 'light-reactive grade',
  wrapClass: 'wrap',
  depthClass: 'depth of the frame',
  addBand: 'add',
  firstWearer: 'first multifocal or not',
  measuredBy: 'who measured',
  measuredHow: 'how measured',
  soldBy: 'sold by',
  lab: 'lab',
  month: 'month handed over',
};

const viewsOf = new WeakMap<Reviewed['pairs'], Map<string, LensDesignsView>>();

/** The whole page from the pairs of the shop; kept for as long as the same pairs are asked about. */
export function lensDesignsView(reviewed: Reviewed): LensDesignsView {
  const { pairs, today, asked, settings } = reviewed;
  const views = viewsOf.get(pairs) ?? new Map<string, LensDesignsView>();
  viewsOf.set(pairs, views);
  const key = JSON.stringify([today, asked, settings, reviewed.upToDate]);
  const view = views.get(key) ?? makeView(reviewed);
  // Two by two there are too many to keep.
  if (asked.first === '' && asked.second === '') views.set(key, view);
  return view;
}

function makeView(reviewed: Reviewed): LensDesignsView {
  const { pairs, today, asked, settings } = reviewed;
  const rates = ratesOf(reviewed);
  const said = (part: Part) => saidIn(part, reviewed).map((one) => sayWithHref(part, one, asked));
  const bias = saidIn('bias', reviewed);
  const groups = rates.groups.map(({ group }) => group);
  return {
    groupings: Object.entries(GROUPING_NAMES).map(([value, words]) => ({ value, words })),
    by: asked.by,
    reasons: asked.reasons,
    denominator: denominatorOf(rates),
    tooFew: tooFewOf(rates, pairs.count),
    behind: reviewed.upToDate
      ? ''
      : 'Pairs that were taken in or changed of late are still being summed up; what is shown may be a few minutes behind.',
    month: said('month'),
    strips: stripsOf(rates, asked),
    months: asked.by === 'month' && rates.shop.ripe >= FEWEST_RIPE ? monthsOf(rates, asked) : null,
    rates: rates.groups.map((row) => rateLine(row, asked)),
    looks: rates.shop.ripe >= FEWEST_RIPE ? looksOf(rates) : '',
    funnel: rates.shop.ripe >= FEWEST_RIPE ? funnelOf(rates, asked) : null,
    drift: driftOf(reviewed),
    adapt: adaptOf(reviewed).map((one) => adaptOne(one, asked)),
    adaptUnder: SEEN_ON_LOOK_DAYS,
    causes: said('causes'),
    suggestionRight: said('right'),
    money: said('money'),
    notCounted: money([], costsOf(settings), today).notCounted,
    bias: bias.map((one) => ({
      ...sayWithHref('bias', one, asked),
      warning: warningOffered(one, settings),
    })),
    biasUnder: bias.length === 0 ? '' : RE_MEASURED_ARE_NOT_ALL,
    compare: { groups, first: asked.first, second: asked.second || (groups[1] ?? ''), says: said('two') },
  };
}

function warningOffered({ lean }: SaidFigure, settings: ShopSettings): OfferedWarning | null {
  if (lean === undefined) return null;
  const standing = orderWarnings(settings, lean.group).find(({ what }) => what === lean.what);
  if (standing === undefined && lean.offerWarning === null) return null;
  const { what, group: how } = lean;
  return standing
    ? { what, how, on: true, words: `Said at the order: ${warningWords(standing)}` }
    : { what, how, on: false, words: lean.offerWarning! };
}

function denominatorOf({ shop }: RemakeRates): string {
  const { handedOver } = shop;
  if (handedOver === 0) return 'No pair has been handed over yet.';
  const { x, n, interval } = shop.followed.trace;
  const followed =
    n === 0
      ? 'none has come to a question on day 7, 14 or 30 yet'
      : `of ${n} that were asked on day 7, 14 or 30, ${x} answered at least once (${percent(x! / n)} %, ${percentRange(interval!)})`;
  return `${capital(pairsInWords(handedOver))} handed over: ${followed}; ${shop.ripe === 0 ? 'none' : shop.ripe} out for ${RIPE_AFTER_DAYS} days or longer (ripe: long enough to count).`;
}

function tooFewOf({ shop }: RemakeRates, pairs: number): string | null {
  if (pairs === 0)
    return 'Nothing can be said yet. First take jobs in and hand the glasses over, both under Deliveries; the questions to the wearers then go out by themselves, and this page fills.';
  if (shop.ripe < FEWEST_RIPE)
    return `Too few to say how often pairs come back: ${shop.ripe} of ${pairs} ${shop.ripe === 1 ? 'has' : 'have'} been out for ${RIPE_AFTER_DAYS} days, and it takes ${FEWEST_RIPE} before any rate is told. What is below is counted, not judged.`;
  return null;
}

function looksOf({
  looks,
  anyDifference,
  hiddenFew,
  overDispersion,
  shrinkage,
  reasons,
}: RemakeRates): string {
  const p = anyDifference.pExact ?? anyDifference.pChiSquare;
  const any =
    anyDifference.degrees === 0
      ? ''
      : ` Any difference at all: p ${p < 0.001 ? 'below 0.001' : p.toFixed(3)}${anyDifference.pExact === null ? ' (chi-square)' : ' (exact)'}.`;
  const spread =
    overDispersion === null ? '' : ` Spread among groups: ${overDispersion.toFixed(1)} times that of chance.`;
  const hidden = hiddenFew === 0 ? '' : ` ${hiddenFew} with too few pairs not shown.`;
  return `${capital(reasons)}. ${capital(looks)}. ${capital(shrinkage)}.${any}${spread}${hidden}`;
}

function rateLine(row: GroupRates, asked: ReviewAsked): RateLine {
  const few = row.ripe < FEWEST_RIPE;
  const on = (day: number): string => {
    const found = row.byDay.find((one) => one.day === day);
    return few || found === undefined || found.atRisk === 0 ? '–' : `${percent(found.anyWay.value)}\u00a0%`;
  };
  return {
    group: row.group,
    href: hrefOf('group', row.group, asked),
    ripe: row.ripe,
    back: row.remakes,
    rate: few ? 'too few to say' : `${percent(row.rate.value)} %`,
    interval: few ? '' : percentRange(row.rate.trace.interval!),
    shrunken: few ? '' : `${percent(row.shrunken.value)} %`,
    chanceWorse: row.chanceWorse === null ? '' : chanceInWords(row.chanceWorse.value),
    verdict: few ? '' : row.verdict,
    followed:
      row.followed.trace.n === 0 ? 'none asked' : `${row.followed.trace.x} of ${row.followed.trace.n}`,
    by30: on(30),
    by60: on(60),
    by90: on(90),
  };
}

function chanceInWords(chance: number): string {
  if (chance > 0.99) return 'more than 99 in 100';
  if (chance < 0.01) return 'under 1 in 100';
  return `${Math.round(chance * 100)} in 100`;
}

function driftOf(reviewed: Reviewed): DriftPicture | null {
  const found = driftFound(reviewed);
  if (found.kind === 'too few' || found.followed.count === 0) return null;
  const picture = driftPicture(found);
  const href = (key: string): string => hrefOf('drift', key, reviewed.asked);
  return {
    points: picture.points.map(({ ripeOnDay, back, evidence }) => ({
      on: dayWords(ripeOnDay),
      back,
      evidence,
    })),
    alarms: found.alarms.map(({ onDay, afterPairs }) => ({
      on: dayWords(onDay),
      // Of every stretch the highest point is drawn, and an alarm is always the highest.
      point: picture.points.findIndex(({ at }) => at === afterPairs - 1),
      words: `the line was crossed after ${pairsInWords(afterPairs)}`,
      href: href(`at ${afterPairs - 1}`),
    })),
    nowHref: href(`at ${found.followed.count - 1}`),
    baselineHref: href('baseline'),
    caption: found.caption,
    sentence: `${found.sentence} ${picture.inWords}`,
  };
}

function funnelOf(rates: RemakeRates, asked: ReviewAsked): FunnelPicture {
  const { points, ...picture } = funnelPicture(rates);
  return {
    ...picture,
    points: points.map(({ group, n, rate, verdict, sentence }) => ({
      group,
      n,
      rate,
      verdict,
      sentence,
      href: hrefOf('group', group, asked),
    })),
  };
}

function stripsOf(rates: RemakeRates, asked: ReviewAsked): RatesPicture | null {
  const rows = rates.groups.filter(({ ripe }) => ripe >= FEWEST_RIPE);
  if (rows.length === 0) return null;
  return {
    shop: rates.shop.rate.value,
    rows: rows.map(({ group, rate, shrunken, chanceWorse, verdict, sentence }) => ({
      group,
      rate: rate.value,
      low: rate.trace.interval!.low,
      high: rate.trace.interval!.high,
      drawn: shrunken.value,
      verdict,
      sentence,
      chanceWorse: chanceWorse === null ? '' : chanceInWords(chanceWorse.value),
      href: hrefOf('group', group, asked),
    })),
  };
}

function monthsOf(rates: RemakeRates, asked: ReviewAsked): MonthsPicture | null {
  const { points, ...picture } = monthPicture(rates);
  return {
    ...picture,
    points: points.map(({ month, n, rate, limits }) => ({
      month,
      n,
      rate,
      low: limits.low,
      high: limits.high,
      href: hrefOf('group', month, asked),
    })),
  };
}

function adaptOne(one: TimeToAdapt, asked: ReviewAsked): LensDesignsView['adapt'][number] {
  return {
    group: one.group,
    steps: one.steps.map(({ day, settled, settledInterval, back, atRisk }) => ({
      day,
      settled,
      settledLow: settledInterval.low,
      settledHigh: settledInterval.high,
      back,
      atRisk,
    })),
    medianWords: one.medianWords,
    sentence: one.sentence,
    href: hrefOf('adapt', one.group, asked),
  };
}

function sayWithHref(part: Part, one: SaidFigure, asked: ReviewAsked): Said {
  return { sentence: one.sentence, href: one.trace.n === 0 ? null : hrefOf(part, one.key, asked) };
}

function hrefOf(part: Part, key: string, { by, reasons, first, second }: ReviewAsked): string {
  const query = new URLSearchParams({ part, key, by, reasons });
  if (part === 'two') {
    query.set('first', first);
    query.set('second', second);
  }
  return `/lens-designs/pairs?${query}`;
}

const MOST_LINES = 200;

/** The pairs behind one figure: those with the event first, or all where nothing is counted. Undefined when there is none. */
export function lensPairsView(part: Part, key: string, reviewed: Reviewed): LensPairsView | undefined {
  const found = saidIn(part, reviewed).find((one) => one.key === key);
  if (!found) return undefined;
  const { trace, sentence } = found;
  const withEvent = new Set(trace.pairIds);
  const shown = trace.x === undefined || withEvent.size > 0 ? withEvent : new Set(trace.amongPairIds);
  const { inOrder, pairId, pair: whole } = reviewed.pairs;
  const pairs = inOrder()
    .filter((at) => shown.has(pairId(at)))
    .reverse();
  const { by, reasons } = reviewed.asked;
  return {
    what: sentence,
    count:
      shown === withEvent
        ? `${capital(pairsInWords(withEvent.size))} behind the number, of ${trace.n} that it is out of.`
        : `None of these ${pairsInWords(trace.n)} is counted; all of them:`,
    method: `${capital(trace.method)}.`,
    backHref: `/lens-designs?${new URLSearchParams({ by, reasons })}`,
    lines: Array.from(pairs.subarray(0, MOST_LINES), whole).map((pair) => ({
      href: `/jobs/${pair.jobId}`,
      jobNumber: pair.jobNumber,
      design: pair.design ?? '',
      handedOver: dayWords(pair.handedOverDay),
      outcome: pair.outcome ?? 'still followed',
      reason: pair.reason ?? '',
      looks: LOOK_DAYS.filter((day) => pair.looks[day] !== 'not due')
        .map((day) => `day ${day} ${pair.looks[day]}`)
        .join(', '),
    })),
    more: Math.max(0, pairs.length - MOST_LINES),
  };
}

/** Every grouping and both ways of counting, one line each, for a spreadsheet. */
export function ratesCsv(reviewed: Reviewed): string {
  const lines = (Object.keys(GROUPING_NAMES) as Grouping[]).flatMap((by) =>
    (['settling', 'all'] as const).flatMap((reasons) => {
      const rates = ratesOf({ ...reviewed, asked: { ...reviewed.asked, by, reasons } });
      return rates.groups.map((row) => csvLine(GROUPING_NAMES[by], rates.reasons, row));
    }),
  );
  return `${[CSV_HEAD.join(','), ...lines].join('\r\n')}\r\n`;
}

const CSV_HEAD = [
  'by',
  'group',
  'counted',
  'handed over',
  'ripe pairs',
  'back',
  'expected back by mix of work',
  'rate %',
  'low %',
  'high %',
  'drawn to the shop %',
  'chance worse %',
  'said',
  'p',
  'p after Holm',
  'by day 30 %',
  'by day 60 %',
  'by day 90 %',
  'asked',
  'answered',
];

function csvLine(by: string, counted: string, row: GroupRates): string {
  const few = row.ripe < FEWEST_RIPE;
  const share = (value: number | undefined): string =>
    few || value === undefined ? '' : (value * 100).toFixed(2);
  const p = (value: number | null): string => (value === null ? '' : value.toPrecision(3));
  return [
    by,
    row.group,
    counted,
    String(row.handedOver),
    String(row.ripe),
    String(row.remakes),
    few || row.expectedByMix === null ? '' : row.expectedByMix.toFixed(1),
    share(row.rate.value),
    share(row.rate.trace.interval?.low),
    share(row.rate.trace.interval?.high),
    share(row.shrunken.value),
    share(row.chanceWorse?.value),
    row.verdict,
    p(row.p),
    p(row.pHolm),
    ...row.byDay.map(({ anyWay }) => share(anyWay.value)),
    String(row.followed.trace.n),
    String(row.followed.trace.x ?? 0),
  ]
    .map(csvCell)
    .join(',');
}

/** A cell that begins like a formula gets an apostrophe before it: a spreadsheet would run it. */
function csvCell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
