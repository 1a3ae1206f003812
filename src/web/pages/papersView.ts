import type { BenchSlipView } from '../../../dashboard/bench-slip/view.ts';
import type { OrderNoteView } from '../../../dashboard/order-note/view.ts';
import { daysLeftWords } from '../../../dashboard/pieces/deadlines.tsx';
import type { PrescriberNoteView } from '../../../dashboard/prescriber-note/view.ts';
import { causeById } from '../../causes/catalogue/index.ts';
import { causeName } from '../../causes/catalogue/names.ts';
import type { RemakeDraft } from '../../causes/remakeDraft.ts';
import type { Weighing } from '../../causes/weigh.ts';
import { benchStanding } from '../../followup/benchStanding.ts';
import { deadlinesOf } from '../../followup/deadlines.ts';
import { ASKED_AT_HAND_OVER } from '../../followup/handOver.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import { lensOf, ofEye } from '../../followup/jobToCome.ts';
import { localDay } from '../../followup/planSlots.ts';
import { draftNote, draftOrder, type PrescriberPaper, type RemakePaper } from '../../followup/signDraft.ts';
import { standardOfShop } from '../../followup/toleranceStandard.ts';
import { type CaseFile, findCase } from '../../store/cases.ts';
import type { Db } from '../../store/database.ts';
import { designOf, factsOf, findJob, findPair } from '../../store/jobs.ts';
import { labTermsOf } from '../../store/lensBook.ts';
import { newestRanking } from '../../store/pages/case.ts';
import { wholeJob } from '../../store/pages/deliveries.ts';
import { licensedOn, type PaperRow, papersOf } from '../../store/papers.ts';
import type { Shop } from '../../store/shops.ts';
import { findWearer } from '../../store/wearers.ts';
import { readable, shortDay, shortTime } from '../format.ts';
import { benchCheckOf } from './benchCheckOf.ts';
import { lensPictureOf } from './lensPictureOf.ts';
import { deadlineView, pairWords } from './views.ts';

type Facts = Readonly<Record<string, unknown>>;
type Answered<T> = T | 'no case' | 'no cause';

/** The bench check of one pair on paper, with what is done about holding it back. */
export async function loadSlip(
  db: Db,
  shop: Shop,
  jobId: string,
  now: Date,
  csrf: string,
  trouble = '',
): Promise<BenchSlipView | undefined> {
  const shopId = shop.shop_id;
  const job = await wholeJob(db, shopId, jobId, ASKED_AT_HAND_OVER);
  if (!job) return undefined;
  const rows = await factsOf(db, shopId, jobId);
  const standard = standardOfShop(shop);
  const check = benchCheckOf(gather(rows), standard);
  const left = job.handed_over_on !== null || job.posted_on !== null || job.arrived_on !== null;
  const { held, toBeSigned, newest } = await benchStanding(db, shopId, jobId);
  const state = toBeSigned ? 'to be signed' : held ? 'held' : left ? undefined : 'may be held';
  const out = check.lines.filter((line) => line.verdict === 'out').map((line) => line.name);
  const stands = newest
    ? `${STANDS[newest.kind]} ${newest.by_name}, ${shortTime(newest.at, now, shop.time_zone)}: ${newest.why}${toBeSigned ? '; to be signed by a licensed person' : ''}.`
    : '';
  return {
    ...(await sheetHead(shop, now)),
    jobHref: `/jobs/${jobId}`,
    jobNumber: job.job_key,
    wearer: job.wearer,
    pair: pairWords(job.design, job.first_multifocal),
    standard,
    verdict: check.noCheck || check.verdict,
    lines: check.lines,
    picture: lensPictureOf(rows, await designOf(db, shopId, job.design_id)).picture,
    cautions: check.cautions,
    trouble,
    ...(state === undefined && stands === ''
      ? {}
      : {
          hold: {
            csrf,
            state: state ?? 'let go',
            stands,
            why: state === 'may be held' && out.length > 0 ? `out in ${out.join(', ')}` : '',
            signers: await signersOf(db, shop, now),
          },
        }),
  };
}

const STANDS = { held: 'Held by', released: 'Let go by', signed: 'Release signed by' } as const;

async function sheetHead(shop: Shop, now: Date) {
  const today = localDay(now, shop.time_zone);
  return {
    shopName: shop.name,
    invented: shop.kind === 'invented',
    on: `${shortDay(today)} ${today.slice(0, 4)}`,
  };
}

/** Who may sign today, with their licence in words. */
export async function signersOf(db: Db, shop: Shop, now: Date) {
  return (await licensedOn(db, shop.shop_id, localDay(now, shop.time_zone))).map((one) => ({
    personId: one.person_id,
    words: `${one.name}, licence ${one.licence_number}`,
  }));
}

/** The case of a paper with what stands around it. */
async function caseOf(db: Db, shop: Shop, caseId: string) {
  const shopId = shop.shop_id;
  const file = await findCase(db, shopId, caseId);
  const wearer = file && (await findWearer(db, shopId, file.wearer_id));
  const pair = file && (await findPair(db, shopId, file.pair_id));
  const job = pair && (await findJob(db, shopId, pair.job_id));
  if (!file || !wearer || !pair || !job) return undefined;
  return { file, wearer, pair, job, papers: await papersOf(db, shopId, caseId) };
}

export type Asked = {
  /** The cause to draft for; left out: the one that leads. */
  readonly cause?: string | undefined;
  /** A new draft although one is signed. */
  readonly afresh?: boolean;
  readonly trouble?: string;
};

/** The order note: as it was signed, or the draft from the numbers on record now. */
export async function loadOrderNote(
  db: Db,
  shop: Shop,
  caseId: string,
  now: Date,
  { cause: asked, afresh = false, trouble = '' }: Asked,
): Promise<Answered<OrderNoteView>> {
  const whole = await caseOf(db, shop, caseId);
  if (!whole) return 'no case';
  const { file, wearer, pair, job, papers } = whole;
  const signed = afresh ? undefined : newestSigned(papers, 'remake');
  const cause = asked ?? file.leading_cause ?? '';
  if (!signed && !causeById(cause)) return 'no cause';
  const paper = signed ? (signed.content as RemakePaper) : await draftOrder(db, file, cause, now);
  const { draft, facts } = paper;
  const design = await designOf(db, shop.shop_id, job.design_id);
  const lab = await labName(db, shop.shop_id, job.lab_id);
  const window = deadlinesOf(
    job,
    pair,
    shop.settings,
    await labTermsOf(db, shop.shop_id, job.lab_id),
    localDay(now, shop.time_zone),
  ).find((one) => one.whose === 'lab')!;
  return {
    ...(await sheetHead(shop, now)),
    caseId,
    caseHref: `/cases/${caseId}`,
    version: file.version,
    jobNumber: job.job_key,
    wearer: wearer.name,
    pair: pairWords(design?.name ?? 'design not known', job.first_multifocal),
    lab: lab ?? 'the lab',
    window: `${deadlineView(window).name}: ${daysLeftWords(window.daysLeft)}, ${shortDay(window.lastDay)}${window.atWorst ? ', at worst' : ''}`,
    reason: `${reasonOf(draft.bears)}: ${draft.because.replace(/\.$/, '')}`,
    changes: draft.changes.map((change) => changeView(change, draft)),
    order: orderLines(facts, design?.name ?? ''),
    expect: [...draft.limits.map(limitWords), ...draft.expectations.map(expectationWords)],
    second: draft.firstAnswer.length > 0,
    signers: await signersOf(db, shop, now),
    signed: signed ? signatureOf(signed, shop, now) : null,
    ...(signed ? await draftedJob(db, shop.shop_id, pair.pair_id) : {}),
    cause: draft.cause,
    others: signed
      ? [{ words: 'draft it again from today’s numbers', href: `/cases/${caseId}/remake?draft=new` }]
      : [...waitingPrescription(papers, caseId), ...(await otherCauses(db, file, draft.cause))],
    kept: keptLines(papers, 'remake', shop, now),
    trouble,
  };
}

/** The job that was made for a pair that is to be made again. */
async function draftedJob(db: Db, shopId: string, pairId: string): Promise<Pick<OrderNoteView, 'drafted'>> {
  const row = await db
    .selectFrom('job')
    .select(['job_id', 'job_key'])
    .where('shop_id', '=', shopId)
    .where('remake_of_pair_id', '=', pairId)
    .orderBy('created_at', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? { drafted: { words: `Job ${row.job_key} is drafted.`, href: `/jobs/${row.job_id}` } } : {};
}

const newestSigned = (papers: readonly PaperRow[], kind: PaperRow['kind']): PaperRow | undefined =>
  papers.findLast((one) => one.kind === kind && one.signed_at !== null);

const signatureOf = (row: PaperRow, shop: Shop, now: Date): NonNullable<OrderNoteView['signed']> => ({
  by: row.person_name ?? '',
  licence: `licence ${row.licence_number ?? ''}`,
  when: shortTime(row.signed_at ?? now, now, shop.time_zone),
});

const keptLines = (papers: readonly PaperRow[], kind: PaperRow['kind'], shop: Shop, now: Date): string[] =>
  papers
    .filter((one) => one.kind === kind && one.signed_at === null)
    .slice(-3)
    .map((one) => `Kept to be signed by ${one.made_by}, ${shortTime(one.at, now, shop.time_zone)}.`);

async function labName(db: Db, shopId: string, labId: string | null): Promise<string | undefined> {
  if (labId === null) return undefined;
  const row = await db
    .selectFrom('lab')
    .select('name')
    .where('shop_id', '=', shopId)
    .where('lab_id', '=', labId)
    .executeTakeFirst();
  return row?.name;
}

/** A prescription that was typed and kept goes before any cause. */
const waitingPrescription = (papers: readonly PaperRow[], caseId: string) => {
  const newest = papers.findLast(({ kind }) => kind === 'remake');
  return newest && newest.signed_at === null && (newest.content as RemakePaper).prescription
    ? [{ words: 'the new prescription that waits to be signed', href: `/cases/${caseId}/prescription` }]
    : [];
};

async function otherCauses(db: Db, file: CaseFile, drafted: string) {
  const weighing = (await newestRanking(db, file.shop_id, file.case_id))?.weighing as Weighing | undefined;
  return (weighing?.causes ?? [])
    .slice(0, 5)
    .filter(({ id }) => id !== drafted)
    .map(({ id }) => ({
      words: causeName(id),
      href: `/cases/${file.case_id}/remake?cause=${encodeURIComponent(id)}&draft=new`,
    }));
}

/** As the lab is told: made wrong where the lab bears it, a change of prescription where the prescriber does, else settling. */
const reasonOf = (bears: string | undefined): string =>
  bears === 'lab' ? 'made wrong' : bears === 'prescriber' ? 'prescription change' : 'settling';

function changeView(
  change: RemakeDraft['changes'][number],
  draft: RemakeDraft,
): OrderNoteView['changes'][number] {
  const { what, eye, from, to, because } = change;
  return {
    name: eye === 'both' ? what : `${what} ${eye}`,
    from: from ?? 'as it is',
    to,
    because,
    trace: {
      inputs: [{ name: what, value: from ?? 'not on record', from: 'numbers of this job' }],
      formula: because,
      source: `drafted for: ${draft.because} Confirm at the bench.`,
    },
  };
}

const EYES = ['R', 'L'] as const;
const signed = (value: number): string => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(2)}`;
const sized = (value: number): string => String(Math.round(value * 100) / 100);

function powerWords(value: unknown): string {
  const lens = lensOf(value);
  if (!lens) return '';
  return lens.cylinderD === 0
    ? signed(lens.sphereD)
    : `${signed(lens.sphereD)} ${signed(lens.cylinderD)} × ${lens.axisDeg}`;
}

type Line = OrderNoteView['order'][number];

function orderLines(facts: Facts, design: string): Line[] {
  const ofPair = (name: string, both: string): Line[] =>
    both === '' ? [] : [{ name, right: '', left: '', both }];
  const ofEyes = (name: string, words: (eye: 'R' | 'L') => string): Line[] => {
    const [right, left] = EYES.map(words) as [string, string];
    return right === '' && left === '' ? [] : [{ name, right, left, both: '' }];
  };
  const each = (name: string, key: string, unit: string, write = sized) =>
    ofEyes(name, (eye) => {
      const value = ofEye(facts[key], eye);
      return value === undefined ? '' : `${write(value)} ${unit}`;
    });
  const one = (name: string, key: string, unit: string) =>
    ofPair(name, typeof facts[key] === 'number' ? `${sized(facts[key] as number)} ${unit}` : '');
  return [
    ...ofPair('Lens', design),
    ...ofEyes('Power', (eye) => powerWords(facts[`order_${eye}`] ?? facts[`rx_${eye}`])),
    ...each('Addition', facts.order_add_D === undefined ? 'add_D' : 'order_add_D', 'D', signed),
    ...each('Prism, base up +', 'order_prism_up_pd', 'pd', signed),
    ...each('Prism, base in +', 'order_prism_in_pd', 'pd', signed),
    ...each('Monocular PD', 'wearer_pd_mm', 'mm'),
    ...each('Fitting height', 'fitting_height_mm', 'mm'),
    ...each('Vertex distance as worn', 'vertex_mm', 'mm'),
    ...each('Tilt as worn', 'tilt_deg', '°'),
    ...each('Wrap', 'wrap_deg', '°'),
    ...each('Base curve', 'base_curve_D', 'D', signed),
    ...one('Corridor', 'corridor_mm', 'mm'),
    ...one('Frame A', 'frame_a_mm', 'mm'),
    ...one('Frame B', 'frame_b_mm', 'mm'),
    ...one('Frame DBL', 'dbl_mm', 'mm'),
  ];
}

const UNITS = { D: 'D', deg: '°', pd: 'pd', mm: 'mm' } as const;

function limitWords({ what, eye, limit }: RemakeDraft['limits'][number]): string {
  const which = eye === 'both' ? '' : `${eye} `;
  const caution = limit.caution === undefined ? '' : `; ${limit.caution}`;
  return `To be checked: ${which}${what} within ±${sized(limit.limit)} ${UNITS[limit.unit]} (${limit.source}${caution}).`;
}

function expectationWords(one: RemakeDraft['expectations'][number]): string {
  const which = one.eye === 'both' ? '' : ` ${one.eye}`;
  return `${one.what}${which}: ${sized(one.number)} ${one.unit}, told ${one.when} ${one.threshold}. ${one.advice} (${one.source})`;
}

/** The note to the prescriber: as it was signed, or as it would stand now. */
export async function loadPrescriberNote(
  db: Db,
  shop: Shop,
  caseId: string,
  now: Date,
  { afresh = false, trouble = '', question }: Asked & { readonly question?: string },
): Promise<Answered<PrescriberNoteView>> {
  const whole = await caseOf(db, shop, caseId);
  if (!whole) return 'no case';
  const { file, wearer, papers } = whole;
  const signedRow = afresh ? undefined : newestSigned(papers, 'prescriber');
  const paper = signedRow
    ? (signedRow.content as PrescriberPaper)
    : await draftNote(db, file, file.leading_cause ?? '', now);
  const { note, facts, complaint } = paper;
  const line = ({ what, value }: { what: string; value: string }) => `${what}: ${value}`;
  const powerKeys = /^(checked|ordered|prescription|previous pair|addition)/;
  return {
    ...(await sheetHead(shop, now)),
    shopPhone: shop.settings.phone ? readable(shop.settings.phone) : 'number not set',
    caseId,
    caseHref: `/cases/${caseId}`,
    version: file.version,
    wearer: wearer.name,
    born: wearer.birth_year === null ? '' : String(wearer.birth_year),
    powers: powerLines(facts),
    place: note.placeOnFace.map(line),
    words: complaint.map((said) => ({
      words: { text: said.words, lang: wearer.locale === 'es' ? 'es' : 'en', marks: [] },
      when: shortTime(new Date(said.at), now, shop.time_zone),
    })),
    tried: note.triedSoFar.length > 0 ? note.triedSoFar : ['Nothing yet.'],
    question: question ?? note.question,
    signers: await signersOf(db, shop, now),
    signed: signedRow ? signatureOf(signedRow, shop, now) : null,
    seen: [...note.ourReadings.filter(({ what }) => !powerKeys.test(what)), ...note.answers].map(line),
    ...(note.caution === undefined ? {} : { caution: note.caution }),
    kept: keptLines(papers, 'prescriber', shop, now),
    trouble,
  };
}

const POWERS = [
  ['Prescription', 'rx', 'add_D'],
  ['Previous pair', 'prev', 'prev_add_D'],
  ['Ordered', 'order', 'order_add_D'],
  ['As worn, told by the lab', 'as_worn', 'as_worn_add_D'],
  ['Read on our lensmeter', 'read', 'read_add_D'],
] as const;

function powerLines(facts: Facts): PrescriberNoteView['powers'] {
  return POWERS.flatMap(([name, power, addition]) => {
    const words = (eye: 'R' | 'L') => {
      const add = ofEye(facts[addition], eye);
      const lens = powerWords(facts[`${power}_${eye}`]);
      return [lens, add === undefined ? '' : `add ${signed(add)}`].filter((part) => part !== '').join(', ');
    };
    const [right, left] = [words('R'), words('L')];
    return right === '' && left === '' ? [] : [{ name, right, left }];
  });
}

/** Links to what a case can have on paper. */
export async function casePapers(
  db: Db,
  file: CaseFile,
  jobId: string,
): Promise<{ words: string; href: string }[]> {
  const papers = await papersOf(db, file.shop_id, file.case_id);
  const stands = (kind: PaperRow['kind']) =>
    newestSigned(papers, kind)
      ? 'signed'
      : papers.some((one) => one.kind === kind)
        ? 'to be signed'
        : 'draft';
  const remake =
    file.leading_cause === null && !papers.some((one) => one.kind === 'remake')
      ? []
      : [{ words: `Order note for a remake (${stands('remake')})`, href: `/cases/${file.case_id}/remake` }];
  return [
    ...remake,
    { words: `Note to the prescriber (${stands('prescriber')})`, href: `/cases/${file.case_id}/prescriber` },
    { words: 'A new prescription came in', href: `/cases/${file.case_id}/prescription` },
    { words: 'Bench-check slip', href: `/jobs/${jobId}/slip` },
    { words: 'Measure at a distance', href: `/jobs/${jobId}/measure` },
    { words: 'Measure on a photograph', href: `/jobs/${jobId}/photo` },
  ];
}
