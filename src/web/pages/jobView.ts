import type { JobView } from '../../../dashboard/job/view.ts';
import type { FieldTrouble, FormValues } from '../../../dashboard/pieces/view.ts';
import { consentWords } from '../../followup/consentWords.ts';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { DAY_NAMES, type JobDay } from '../../followup/jobDay.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import { localDay } from '../../followup/planSlots.ts';
import { standardOfShop } from '../../followup/toleranceStandard.ts';
import { signerOf } from '../../followup/toSign.ts';
import { orderWarnings, warningWords } from '../../followup/warnAtOrder.ts';
import { QUANTITIES, quantityOf } from '../../intake/quantities.ts';
import type { Db } from '../../store/database.ts';
import { designOf, type FactRow, factsOf } from '../../store/jobs.ts';
import { type JobWhole, wholeJob } from '../../store/pages/deliveries.ts';
import type { Shop } from '../../store/shops.ts';
import { orderSigning } from '../../store/toSign.ts';
import { shortDay, shortTime } from '../format.ts';
import { benchCheckOf } from './benchCheckOf.ts';
import { factRows } from './caseView.ts';
import { FACT_KINDS } from './deliveryForm.ts';
import { expectationsOf } from './expectationsOf.ts';
import { jobPapers } from './handOverPapers.tsx';
import { jobTint } from './jobTint.ts';
import { lensPictureOf } from './lensPictureOf.ts';
import { remakeChoices } from './remakes.tsx';
import { pairWords } from './views.ts';

export type TypedOnJob = { readonly values: FormValues; readonly troubles: readonly FieldTrouble[] };
const NOTHING_TYPED: TypedOnJob = { values: {}, troubles: [] };

/** One job whole: its days, numbers, bench check, what to expect, the hand-over. */
export async function loadJob(
  db: Db,
  shop: Shop,
  jobId: string,
  now: Date,
  typed: TypedOnJob = NOTHING_TYPED,
  personId?: string,
): Promise<JobView | undefined> {
  const shopId = shop.shop_id;
  const job = await wholeJob(db, shopId, jobId, ASKED_AT_HAND_OVER);
  if (!job) return undefined;
  const rows = await factsOf(db, shopId, jobId);
  const design = await designOf(db, shopId, job.design_id);
  const facts: Record<string, unknown> = {
    ...(design?.corridor_mm ? { corridor_mm: design.corridor_mm } : {}),
    ...(design?.min_height_mm ? { design_min_height_mm: design.min_height_mm } : {}),
    ...gather(rows),
  };
  const today = localDay(now, shop.time_zone);
  const check = benchCheckOf(facts, standardOfShop(shop));
  const remake = await remakeChoices(db, shopId, job);
  const tint = jobTint(design);
  const inHand = job.pair_id !== null && job.first_worn_how !== 'reckoned';
  return {
    jobId,
    jobNumber: job.job_key,
    wearer: { name: job.wearer, href: `/wearers/${job.wearer_id}` },
    pair: pairWords(job.design, job.first_multifocal),
    way: job.way,
    dates: datesOf(job, Number(today.slice(0, 4)), inHand),
    facts: factLines(rows),
    factKinds: FACT_KINDS,
    expect: [
      ...warningsOf(shop, facts.measured),
      ...expectationsOf(facts, {
        firstMultifocal: job.first_multifocal,
        ageYears: job.birth_year === null ? undefined : Number(today.slice(0, 4)) - job.birth_year,
      }),
    ],
    check: check.lines,
    noCheck: check.noCheck,
    checkVerdict: [check.verdict, ...check.cautions].filter((words) => words !== '').join(' '),
    picture: lensPictureOf(rows, design).picture,
    ...(tint ? { tint } : {}),
    handOver: inHand
      ? null
      : {
          today,
          consentWords: consentWords(shop),
          hasPhone: job.contacts.some((one) => one.channel === 'text'),
          hasEmail: job.contacts.some((one) => one.channel === 'email'),
        },
    handedOver: inHand ? handedOverWords(job) : '',
    papers: jobPapers(jobId, job.way),
    caseHref: job.case_id ? `/cases/${job.case_id}` : null,
    ...(remake ? { remake } : {}),
    unsigned: await unsignedOrder(db, shop, jobId, personId, now),
    values: typed.values,
    troubles: typed.troubles,
  };
}

/** The numbers that it came in with, where nobody licensed has signed them. */
async function unsignedOrder(
  db: Db,
  shop: Shop,
  jobId: string,
  personId: string | undefined,
  now: Date,
): Promise<JobView['unsigned']> {
  const row = await orderSigning(db, shop.shop_id, jobId);
  if (!row || row.settled === 'signed') return null;
  const maySign = personId !== undefined && (await signerOf(db, shop.shop_id, personId, now)) !== undefined;
  const when = (at: Date) => shortTime(at, now, shop.time_zone);
  if (row.settled === null)
    return {
      words: `The numbers that this job came in with are not signed yet (${row.by_name}, ${when(row.at)}).`,
      button: maySign ? 'Sign them' : null,
    };
  return {
    words: `${row.settled_by} turned the numbers of this job down (${when(row.settled_at!)}). Put them right below.`,
    button: maySign ? 'Sign them now' : 'Ask for the signature again',
  };
}

/** What jobs measured like this one have been off by, where the owner had it said. */
function warningsOf(shop: Shop, measured: unknown): JobView['expect'] {
  if (typeof measured !== 'string' || measured === '') return [];
  return orderWarnings(shop.settings, measured).map((warning) => ({
    words: warningWords(warning),
    number: `${warning.meanMm.toFixed(1)} mm, measured again less ordered`,
    trace: {
      inputs: [
        { name: 'pairs measured again', value: String(warning.pairs), from: 'our own pairs, Lens designs' },
        { name: 'measured by', value: warning.how, from: 'numbers of this job' },
      ],
      formula: 'measured again less ordered, mean of a pair’s eyes, mean over the pairs; Student’s t 95 %',
      source: `our own pairs, as of ${warning.on}; mostly pairs in trouble are measured again`,
    },
  }));
}

const ORDER: ReadonlyMap<string, number> = new Map(QUANTITIES.map(({ key }, index) => [key, index]));

/** The numbers in the order of a lab's form; powers with their two places. */
function factLines(rows: readonly FactRow[]): JobView['facts'] {
  const place = (key: string) => ORDER.get(key) ?? ORDER.size;
  return factRows(rows)
    .toSorted((one, other) => place(one.key) - place(other.key))
    .map(({ key, name, unit, right, left, both, from }) => {
      const told = unitWords(key, unit);
      const shown = (value: string) =>
        told === 'D' && /^\d+(\.\d+)?$/.test(value) ? Number(value).toFixed(2) : value;
      return {
        name: quantityOf(key)?.label ?? name,
        unit: told,
        right: shown(right),
        left: shown(left),
        both: shown(both),
        from,
      };
    });
}

function unitWords(key: string, unit: string): string {
  const known = quantityOf(key)?.unit ?? unit;
  return known === 'none' ? '' : known;
}

/** Days in their order; those of the other way (counter or post) are left out where they are empty. */
function datesOf(job: JobWhole, thisYear: number, inHand: boolean): JobView['dates'] {
  const post = job.way === 'post';
  const known: readonly (readonly [which: string, day: JobDay, on: string | null, canSet: boolean])[] = [
    ['ordered', 'ordered_on', job.ordered_on, false],
    ['lab_invoiced', 'lab_invoiced_on', job.lab_invoiced_on, true],
    ['received', 'received_on', job.received_on, true],
    ['posted', 'posted_on', job.posted_on, post && job.posted_on === null && !inHand],
    ['arrived', 'arrived_on', job.arrived_on, post && !inHand],
    ['handed_over', 'handed_over_on', job.handed_over_on, false],
    ['first_worn', 'first_worn_on', inHand ? job.first_worn_on : null, false],
  ];
  const ofOtherWay = new Set(post ? ['handed_over'] : ['posted', 'arrived']);
  return known
    .filter(([which, , on]) => on !== null || !ofOtherWay.has(which))
    .map(([which, day, on, canSet]) => ({
      which,
      name: DAY_NAMES[day],
      on: on === null ? '' : shortDay(on, thisYear),
      canSet,
    }));
}

function handedOverWords(job: JobWhole): string {
  const what =
    job.handed_over_on !== null
      ? `Handed over ${shortDay(job.handed_over_on)}`
      : job.arrived_on !== null
        ? `Arrived ${shortDay(job.arrived_on)}`
        : `First worn ${shortDay(job.first_worn_on!)}`;
  const answers = job.contacts.map(
    ({ channel, consent }) =>
      `${channel === 'text' ? 'texts' : 'email'} ${consent === 'given' ? 'yes' : consent === 'withdrawn' ? 'no' : 'not asked'}`,
  );
  const reached = answers.length === 0 ? 'no number and no address: never messaged' : answers.join(', ');
  return `${what}; ${reached}${job.asked_by ? `, asked by ${job.asked_by}` : ''}.`;
}
