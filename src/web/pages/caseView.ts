import type { CaseView, CauseView, FactRow, QuestionView, TalkEntry } from '../../../dashboard/case/view.ts';
import type { FieldTrouble, FormValues } from '../../../dashboard/pieces/view.ts';
import { questionIn } from '../../../templates/renderMessage.ts';
import type { Locale } from '../../../templates/types.ts';
import { causeById } from '../../causes/catalogue/index.ts';
import { causeName } from '../../causes/catalogue/names.ts';
import { FACT_KEYS, type JobFactKey } from '../../causes/jobFacts.ts';
import type { WeighedCause, Weighing } from '../../causes/weigh.ts';
import { isCivil } from '../../channels/civilHours.ts';
import { linksTold } from '../../channels/linkPlaces.ts';
import { deadlinesOf } from '../../followup/deadlines.ts';
import { daysBetween, localDay } from '../../followup/planSlots.ts';
import { REMAKE_BEARERS, REMAKE_REASONS } from '../../followup/remakeJob.ts';
import { canTakeBack } from '../../followup/takeBack.ts';
import { TAKEN_BACK } from '../../followup/unsend.ts';
import { localeOf } from '../../followup/words.ts';
import { toldAbout } from '../../store/alarms.ts';
import { type CaseFile, findCase } from '../../store/cases.ts';
import type { Db } from '../../store/database.ts';
import { designOf, factsOf, findJob, findPair, type FactRow as StoredFact } from '../../store/jobs.ts';
import { labTermsOf } from '../../store/lensBook.ts';
import { cautions } from '../../store/pages/bench.ts';
import { eventsOf, newestRanking, talkOf, trayCountOf } from '../../store/pages/case.ts';
import type { Shop } from '../../store/shops.ts';
import { OUTCOMES } from '../../store/tables.ts';
import { orderSigning } from '../../store/toSign.ts';
import { contactsOf, findWearer } from '../../store/wearers.ts';
import { inTen, localTimes, readable, shortDay, shortTime } from '../format.ts';
import { cautionWords, stateWords } from './bench.tsx';
import { caseClaim } from './claimsView.ts';
import { factName, factWords, valueWords } from './factWords.ts';
import { isAboutTint, jobTint } from './jobTint.ts';
import { lensPictureOf } from './lensPictureOf.ts';
import { casePapers } from './papersView.ts';
import { sentPictures } from './sentPictures.tsx';
import { tappedWords } from './tapped.ts';
import { toldWords } from './told.ts';
import { ACT_WORDS, channelWords, deadlineView, labelName, markedWords, pairWords, WAYS } from './views.ts';

/** Facts that staff measure or ask at the bench, in the order in which they are looked at. */
const BENCH_FACTS: readonly JobFactKey[] = [
  'cross_above_pupil_mm',
  'cross_nasal_mm',
  'vertex_mm',
  'tilt_deg',
  'wrap_deg',
  'marks_tilt_deg',
  'read_within_limits',
  'bench_within_limits',
  'slips',
  'chin_down_helps',
  'push_up_helps',
  'prism_h_imbalance_pd',
  'prism_v_imbalance_pd',
  'base_curve_D',
  'prev_base_curve_D',
  'fitting_height_mm',
  'pinhole_helps',
  'old_pair_also',
  'better_when_frame_tilted',
  'darkens_outside',
  'behind_windscreen',
  'temp_C',
  'screen_cm',
  'reading_cm_wanted',
];

export type Typed = {
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
  readonly changed: readonly string[];
  /** Who else has the case open now. */
  readonly openWith?: readonly string[];
};
const NOTHING_TYPED: Typed = { values: {}, troubles: [], changed: [] };

/** Everything that a case shows, read before anything is drawn. */
export async function loadCase(
  db: Db,
  shop: Shop,
  caseId: string,
  me: string,
  now: Date,
  typed: Typed = NOTHING_TYPED,
): Promise<CaseView | undefined> {
  const shopId = shop.shop_id;
  const file = await findCase(db, shopId, caseId);
  const wearer = file && (await findWearer(db, shopId, file.wearer_id));
  const pair = file && (await findPair(db, shopId, file.pair_id));
  const job = pair && (await findJob(db, shopId, pair.job_id));
  if (!file || !wearer || !pair || !job) return undefined;
  const design = await designOf(db, shopId, job.design_id);
  const [talk, events, ranking, contacts, facts, tray] = [
    await talkOf(db, shopId, wearer.wearer_id),
    await eventsOf(db, shopId, caseId),
    await newestRanking(db, shopId, caseId),
    await contactsOf(db, shopId, wearer.wearer_id),
    await factsOf(db, shopId, job.job_id),
    await trayCountOf(db, shopId, wearer.wearer_id),
  ];
  const zones = wearer.zone_candidates;
  const today = localDay(now, zones[0] ?? shop.time_zone);
  const weighing = ranking?.weighing as Weighing | undefined;
  const phone = contacts.find((one) => one.channel === 'text');
  const drawn = lensPictureOf(facts, design);
  const closedBy = events.findLast((one) => one.kind === 'closed');
  const tint = isAboutTint(file.labels) ? jobTint(design) : undefined;
  return {
    caseId,
    version: file.version,
    wearer: {
      name: wearer.name,
      href: `/wearers/${wearer.wearer_id}`,
      phone: phone ? readable(phone.address) : null,
      localTime: localTimes(now, zones),
      reachedBy: reachedBy(wearer.prefers, contacts),
    },
    pair: {
      words: pairWords(design?.name ?? 'design not known', job.first_multifocal),
      jobNumber: job.job_key,
      jobHref: `/jobs/${job.job_id}`,
      day: daysBetween(pair.first_worn_on, today),
      firstWorn: `first worn ${shortDay(pair.first_worn_on)}, ${pair.first_worn_how}`,
    },
    state: stateWords(file, shop, now),
    danger: file.danger ? await dangerOf(db, shop, file, now) : null,
    held:
      file.held_by === null
        ? null
        : {
            by: file.held_by,
            byMe: file.held_by === me,
            againOn: file.again_on ? shortDay(file.again_on) : null,
          },
    alsoOpenWith: typed.openWith?.length ? typed.openWith.join(' and ') : null,
    changed: typed.changed.length === 0 ? [] : [...typed.changed, ...lastOn(talk, events, shop, now)],
    deadlines: deadlinesOf(
      job,
      pair,
      shop.settings,
      await labTermsOf(db, shopId, job.lab_id),
      localDay(now, shop.time_zone),
    ).map(deadlineView),
    talk: talkEntries(
      talk,
      events,
      await sentPictures(
        db,
        shopId,
        talk.inbound.map((row) => row.inbound_id),
      ),
      wearer.name,
      wearer.locale === 'es' ? 'es' : 'en',
      file.closed_at === null,
      caseId,
      shop,
      now,
    ),
    causes: (weighing?.causes ?? []).slice(0, 5).map((cause) => causeView(cause, facts)),
    notRanked:
      file.danger && (weighing?.causes.length ?? 0) === 0
        ? 'a danger sign is not ranked: a person rings'
        : weighing?.causes.length
          ? ''
          : 'no trouble is named yet',
    weighed: ranking
      ? `catalogue ${ranking.catalogue_version}, weighed ${shortTime(ranking.at, now, shop.time_zone)} with ${Object.keys(ranking.facts as object).length} facts${await unsignedWords(db, shopId, job.job_id)}`
      : '',
    question: questionView(weighing, localeOf(wearer), events, shop, now, file),
    acts: actsOf(file),
    ways: WAYS.map((way) => ({ value: way, words: way })),
    cost: costWords(weighing),
    facts: factRows(facts),
    factKinds: BENCH_FACTS.map((key) => ({
      key,
      name: FACT_KEYS[key].words,
      perEye: FACT_KEYS[key].kind === 'eyes',
    })),
    picture: drawn.picture,
    noPicture: drawn.missing,
    ...(tint ? { tint } : {}),
    channels: (['text', 'email'] as const).map((channel) => {
      const contact = contacts.find((one) => one.channel === channel);
      return { value: channel, words: channel === 'text' ? 'Text' : 'Email', cannot: cannotUse(contact) };
    }),
    leaves: isCivil(now, zones)
      ? ''
      : `${localTimes(now, zones)}: it will leave when it is a civil hour there, or at once if they wrote in the last 15 minutes`,
    outcomes: OUTCOMES.map((outcome) => ({ value: outcome, words: outcome })),
    reasons: REMAKE_REASONS.map((reason) => ({ value: reason, words: reason })),
    bearers: REMAKE_BEARERS.map((bearer) => ({ value: bearer, words: bearer })),
    cannotSettle:
      tray > 0
        ? `${tray === 1 ? 'a message' : `${tray} messages`} from them ${tray === 1 ? 'is' : 'are'} in the tray`
        : null,
    closed: file.closed_at
      ? {
          outcome: file.outcome ?? '',
          when: shortTime(file.closed_at, now, shop.time_zone),
          by: closedBy?.by_name ?? '',
        }
      : null,
    papers: await casePapers(db, file, job.job_id),
    claim: await caseClaim(db, shop, job.job_id, now),
    values: typed.values,
    troubles: typed.troubles,
  };
}

/** Causes use what is on record, and say where nobody licensed has answered for it. */
async function unsignedWords(db: Db, shopId: string, jobId: string): Promise<string> {
  const row = await orderSigning(db, shopId, jobId);
  if (!row || row.settled === 'signed') return '';
  return row.settled === null
    ? '; the numbers of the order are not signed yet'
    : `; the numbers of the order were turned down by ${row.settled_by}`;
}

const cannotUse = (contact: { consent: string; unusable_why: string | null } | undefined): string | null => {
  if (!contact) return 'no address on record';
  if (contact.consent === 'withdrawn') return 'said stop';
  if (contact.consent === 'none') return 'has not agreed';
  return contact.unusable_why;
};

function reachedBy(prefers: string, contacts: readonly { channel: string; consent: string }[]): string {
  const agreed = contacts.filter((one) => one.consent === 'given').map((one) => `${one.channel}s`);
  const stopped = contacts.filter((one) => one.consent === 'withdrawn').map((one) => `${one.channel}s`);
  const words = [agreed.length > 0 ? `agreed to ${agreed.join(' and ')}` : 'agreed to no messages'];
  if (stopped.length > 0) words.push(`said stop to ${stopped.join(' and ')}`);
  if (prefers === 'phone') words.unshift('prefers the phone');
  return words.join('; ');
}

async function dangerOf(db: Db, shop: Shop, file: CaseFile, now: Date): Promise<CaseView['danger']> {
  const warned = await cautions(db, shop.shop_id, [file.wearer_id]);
  const last = warned.at(-1);
  return {
    told: toldWords(await toldAbout(db, shop.shop_id, [file.case_id]), shop, now),
    caution: cautionWords(last, shop, now),
    cautionReached: last !== undefined && ['accepted', 'delivered'].includes(last.state),
    hasIt: file.held_by,
  };
}

/** Who stands under what happened by itself. */
const AUTOMATIC = 'Afterfit';

const withDays = (words: string): string => words.replace(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => shortDay(day));

/** States of a message that is on its way or there: it can be put right, not taken back. */
const LEFT: ReadonlySet<string> = new Set(['handed over', 'accepted', 'delivered', 'unsure']);

function talkEntries(
  talk: Awaited<ReturnType<typeof talkOf>>,
  events: Awaited<ReturnType<typeof eventsOf>>,
  pictures: Awaited<ReturnType<typeof sentPictures>>,
  name: string,
  lang: 'en' | 'es',
  open: boolean,
  caseId: string,
  shop: Shop,
  now: Date,
): TalkEntry[] {
  const when = (at: Date) => shortTime(at, now, shop.time_zone);
  const dated: { at: Date; entry: TalkEntry }[] = [];
  for (const row of talk.inbound) {
    const reading = talk.readings.findLast((one) => one.inbound_id === row.inbound_id);
    const corrected = talk.corrections.findLast((one) => one.inbound_id === row.inbound_id);
    dated.push({
      at: row.received_at,
      entry: {
        kind: 'in',
        who: name,
        when: when(row.received_at),
        how: channelWords(row.channel),
        words: markedWords(row.body, reading?.spans as never, reading?.left_over as never, lang),
        pictures: pictures.get(row.inbound_id) ?? [],
        read: readWords(reading),
        corrected: corrected ? `corrected by ${corrected.by_name}, ${when(corrected.at)}` : null,
        correctHref: row.state === 'tray' ? '/tray' : null,
      },
    });
  }
  const seen = new Set<string>();
  for (const row of talk.messages) {
    if (seen.has(row.message_id)) continue;
    seen.add(row.message_id);
    dated.push({
      at: row.created_at,
      entry: {
        kind: 'out',
        who: row.written_by ?? 'Automatic',
        when: when(row.created_at),
        how: channelWords(row.channel),
        text: linksTold(row.body),
        lang,
        standing: standingWords(row.state, row.why, row.send_at, shop, now),
        well:
          row.state !== null &&
          ['planned', 'claimed', 'handed over', 'accepted', 'delivered'].includes(row.state),
        undo: undoOf(row, caseId, now),
        ...(row.written_by !== null && open && LEFT.has(row.state ?? '')
          ? { correctable: row.message_id }
          : {}),
      },
    });
  }
  const back = new Set(events.filter(({ kind }) => kind === 'taken back').map(({ detail }) => detail.event));
  for (const event of events) {
    const words = eventWords(event.kind, event.detail);
    if (words === null) continue;
    const takenBack = back.has(event.event_id);
    dated.push({
      at: event.at,
      entry: {
        kind: 'event',
        who: event.by_name,
        when: when(event.at),
        text: words,
        ...(takenBack ? { takenBack } : {}),
        ...(!takenBack && event.by_name !== AUTOMATIC && canTakeBack(event)
          ? { takeBack: event.event_id }
          : {}),
      },
    });
  }
  return dated.sort((a, b) => a.at.getTime() - b.at.getTime()).map((one) => one.entry);
}

/** What was read in a reply; a bare answer without a label says what was tapped. */
function readWords(reading: { labels: readonly string[]; bare_answer: unknown } | undefined): string[] {
  if (reading === undefined) return [];
  if (reading.labels.length > 0) return reading.labels.map(labelName);
  const tapped = tappedWords(reading.bare_answer);
  return tapped === null ? [] : [tapped];
}

/** What staff wrote can be taken back until it leaves; later than a minute it waits for a civil hour, and can be all the while. */
function undoOf(
  row: Awaited<ReturnType<typeof talkOf>>['messages'][number],
  caseId: string,
  now: Date,
): { action: string; secondsLeft: number } | null {
  if (row.written_by === null || row.state !== 'planned' || row.send_at === null) return null;
  const left = Math.ceil((row.send_at.getTime() - now.getTime()) / 1000);
  return left > 0 ? { action: `/cases/${caseId}/unsend/${row.message_id}`, secondsLeft: left } : null;
}

function measuredWords(key: string, { eye, value }: Record<string, unknown>): string {
  const fact = factWords(key, value);
  return `measured ${fact.name}${eye ? ` ${eye}` : ''}: ${fact.value}`;
}

const LAST = 3;

/** The newest that was said and done, for somebody whose page is older. */
function lastOn(
  talk: Awaited<ReturnType<typeof talkOf>>,
  events: Awaited<ReturnType<typeof eventsOf>>,
  shop: Shop,
  now: Date,
): string[] {
  const said = talk.inbound.map((row) => ({ at: row.received_at, words: 'A message of theirs came in' }));
  const done = events.flatMap(({ at, by_name, kind, detail }) => {
    const words = eventWords(kind, detail);
    return words === null ? [] : [{ at, words: `${by_name} ${words}` }];
  });
  return [...said, ...done]
    .sort((a, b) => b.at.getTime() - a.at.getTime())
    .slice(0, LAST)
    .map(({ at, words }) => `${words}, ${shortTime(at, now, shop.time_zone)}.`);
}

function standingWords(
  state: string | null,
  why: string | null,
  sendAt: Date | null,
  shop: Shop,
  now: Date,
): string {
  if (state === 'planned' && sendAt && sendAt > now)
    return `leaves ${shortTime(sendAt, now, shop.time_zone)}`;
  if (state === 'planned' || state === 'claimed') return 'about to leave';
  if (state === 'accepted') return 'taken by the carrier';
  if (state === 'unsure') return 'may not have arrived';
  if (state === 'withheld' && why?.startsWith(TAKEN_BACK)) return why;
  if (state === 'refused' || state === 'withheld' || state === 'failed')
    return `${state}${why ? `: ${why}` : ''}`;
  return state ?? 'not sent';
}

function eventWords(kind: string, detail: Record<string, unknown>): string | null {
  const said = (key: string) => String(detail[key] ?? '');
  switch (kind) {
    case 'opened':
      return 'opened the case';
    case 'held':
      return 'held the case: automatic messages wait';
    case 'I have it':
      return 'said “I have it”';
    case 'says that all is well':
      return 'says that all is well: look once more, then close';
    case 'released':
      return 'let the case go';
    case 'note':
      return `noted: ${withDays(said('text'))}`;
    case 'act':
      return `chose ${ACT_WORDS[said('act')] ?? said('act')}, ${said('way')}${detail.note ? `: ${said('note')}` : ''}`;
    case 'fact':
      return measuredWords(said('key'), detail);
    case 'answered':
      return `heard the answer ${said('answer')}`;
    case 'closed':
      return `closed the case: ${[said('outcome'), said('reason')].filter((words) => words !== '').join(', ')}`;
    case 'taken back':
      return `took back: ${eventWords(said('act'), (detail.detail ?? {}) as Record<string, unknown>) ?? said('act')}`;
    case 'made again':
      return `drafted job ${said('number')}, to be made again`;
    case 'second pair':
      return 'the second pair is with the wearer: the case goes on with it';
    case 'reopened':
      return 'opened the case again';
    case 'unsent':
      return 'took a message back before it left';
    case 'not delivered':
      return `${said('channel')} not delivered: ${said('why')}${detail.otherWay ? `; sent by ${said('otherWay')}` : '; ring them'}`;
    case 'state':
      return `set: ${said('state')}`;
    default:
      return null;
  }
}

function causeView(cause: WeighedCause, facts: readonly StoredFact[]): CauseView {
  const known = causeById(cause.id);
  return {
    id: cause.id,
    name: causeName(cause.id),
    share: cause.share,
    shareWords: inTen(cause.share),
    evidence: cause.evidence.map((one) => ({
      ...factSaid(one.fact, one.value),
      toward: one.toward,
      times: Math.round(10 * Math.max(one.times, 1 / one.times)) / 10,
      from: fromWords(facts.findLast((row) => row.key === one.fact.replace(/_[RL]$/, ''))),
      trace: {
        inputs: [{ name: one.fact, value: valueWords(one.value), from: one.words }],
        formula: `odds ${one.toward === 'for' ? 'times' : 'divided by'} ${Math.max(one.timesAlone, 1 / one.timesAlone).toFixed(1)} alone, ${Math.max(one.times, 1 / one.times).toFixed(1)} beside the others of its group (the strongest counts fully, others a quarter)`,
        source: one.source,
      },
    })),
    what: known?.what ?? '',
    bears: known?.bears ?? '',
    caution: known?.caution ?? null,
  };
}

function factSaid(key: string, value: unknown): { fact: string; value: string } {
  if (key === 'reply_labels') return { fact: `says “${labelName(String(value)).toLowerCase()}”`, value: '' };
  const said = factWords(key, value);
  return { fact: said.name, value: said.value };
}

const fromWords = (row: StoredFact | undefined): string => {
  if (!row) return '';
  const how = row.how ? `, ${row.how}` : '';
  return `${row.source}${how}${row.by_name ? `, ${row.by_name}` : ''}`;
};

/** What the suggested act is expected to cost beside the next best, with what a miss would cost in both. */
function costWords(weighing: Weighing | undefined): string {
  const { ofBestAct, nextBest } = weighing?.costs ?? {};
  if (ofBestAct === undefined || !nextBest) return '';
  const money = (cost: number) => `about ${Math.round(cost)}`;
  return `Expected to cost ${money(ofBestAct)}, misses and both deadlines counted; next best: ${ACT_WORDS[nextBest.act] ?? nextBest.act}, ${nextBest.way}, ${money(nextBest.cost)}.`;
}

function questionView(
  weighing: Weighing | undefined,
  locale: Locale,
  events: Awaited<ReturnType<typeof eventsOf>>,
  shop: Shop,
  now: Date,
  file: CaseFile,
): QuestionView | null {
  const question = weighing?.question;
  if (!question || file.closed_at !== null) return null;
  const unsent = new Set(events.filter(({ kind }) => kind === 'unsent').map(({ detail }) => detail.message));
  const asked = events.findLast(
    (one) =>
      one.kind === 'asked' && one.detail.question === question.id && !unsent.has(one.detail.message ?? null),
  );
  const waiting = asked !== undefined && file.state === 'asked the wearer';
  const put = questionIn(locale, question);
  const english = locale === 'en' ? null : question;
  return {
    id: question.id,
    text: put.text,
    lang: locale,
    ...(english ? { inEnglish: english.text } : {}),
    answers: question.answers.map(({ key, words, leadsTo }, at) => ({
      key,
      words: put.answers[at]?.words ?? words,
      would: [
        english ? `(${words})` : '',
        leadsTo ? `then ${(ACT_WORDS[leadsTo] ?? leadsTo).toLowerCase()}` : '',
      ]
        .filter((part) => part !== '')
        .join(' '),
    })),
    splits: (weighing?.causes ?? [])
      .slice(0, 2)
      .map((cause) => causeName(cause.id))
      .join(' from '),
    standing: asked
      ? `asked ${shortTime(asked.at, now, shop.time_zone)}${waiting ? ', no answer yet' : ''}`
      : 'not asked yet',
    canAsk: !waiting,
  };
}

/** The reason begins with the act in words; beside the button that says it once is enough. */
const withoutActWords = (why: string): string => why.replace(/^[^:“]*: /, '');

function actsOf(file: CaseFile): CaseView['acts'] {
  const suggested = file.act;
  const order =
    suggested === null
      ? Object.keys(ACT_WORDS)
      : [suggested, ...Object.keys(ACT_WORDS).filter((act) => act !== suggested)];
  return order
    .filter((act) => act !== 'urgent' || file.danger)
    .map((act) => ({
      act,
      words: ACT_WORDS[act]!,
      way: act === suggested ? (file.act_way ?? 'at the shop') : 'at the shop',
      why: act === suggested ? withoutActWords(file.act_why ?? '') : '',
      opensAt: null,
    }));
}

/** The fitting sheet: the newest value of each key and eye, with where it is from. */
export function factRows(facts: readonly StoredFact[]): FactRow[] {
  const rows = new Map<string, { right: string; left: string; both: string; row: StoredFact }>();
  for (const row of facts) {
    const held = rows.get(row.key) ?? { right: '', left: '', both: '', row };
    const words = valueWords(row.value);
    rows.set(row.key, {
      right: row.eye === 'R' ? words : held.right,
      left: row.eye === 'L' ? words : held.left,
      both: row.eye === null ? words : held.both,
      row,
    });
  }
  return [...rows.entries()].map(([key, { right, left, both, row }]) => ({
    key,
    name: factName(key),
    unit: row.unit ?? '',
    right,
    left,
    both,
    from: fromWords(row),
    remark: null,
  }));
}
