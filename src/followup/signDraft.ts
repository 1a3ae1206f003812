import { causeById } from '../causes/catalogue/index.ts';
import { type JobFacts, readJobFacts } from '../causes/jobFacts.ts';
import { differenceOf, type NewPrescription } from '../causes/newPrescription.ts';
import { notePrescriber, type PrescriberNote } from '../causes/prescriberNote.ts';
import { draftRemake, type RemakeDraft } from '../causes/remakeDraft.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addCaseEvent, type CaseFile, changeCase, findCase } from '../store/cases.ts';
import type { Db, Trx } from '../store/database.ts';
import { eventsOf } from '../store/pages/case.ts';
import {
  complaintOf,
  keepPaper,
  keepSignature,
  licensedOn,
  newestSnapshotId,
  remakesBefore,
} from '../store/papers.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { findWearer } from '../store/wearers.ts';
import { jobFactsOf } from './jobFactsOf.ts';
import { localDay } from './planSlots.ts';
import { orderAgain } from './remakeFromCase.ts';
import type { Shell } from './shell.ts';
import { standardOfShop } from './toleranceStandard.ts';

/** What an order note is made of. It is kept whole when it is signed, so that later numbers do not change it. */
export type RemakePaper = {
  readonly draft: RemakeDraft;
  /** It was drafted from a prescription that came in. */
  readonly prescription?: NewPrescription;
  readonly facts: Readonly<Record<string, unknown>>;
};
export type PrescriberPaper = {
  readonly note: PrescriberNote;
  readonly facts: Readonly<Record<string, unknown>>;
  readonly complaint: readonly { readonly words: string; readonly at: string }[];
};

/** The remake of a case, drafted for a cause from the numbers on record now. */
export async function draftOrder(
  db: Db | Trx,
  file: CaseFile,
  cause: string,
  now: Date,
  prescription?: NewPrescription,
): Promise<RemakePaper> {
  const shopId = file.shop_id;
  const shop = await findShop(db, shopId);
  const { raw, facts } = await factsNow(db, shop, file, now);
  const before = await remakesBefore(db, shopId, file.pair_id);
  const changes = prescription && differenceOf(prescription, facts).changes;
  const draft = draftRemake(cause, facts, before, standardOfShop(shop), changes);
  return { draft, facts: { ...raw, ...draft.changedJob }, ...(prescription ? { prescription } : {}) };
}

/** The note to the prescriber of a case as it would stand now. */
export async function draftNote(
  db: Db | Trx,
  file: CaseFile,
  cause: string,
  now: Date,
): Promise<PrescriberPaper> {
  const shopId = file.shop_id;
  const { raw, facts } = await factsNow(db, await findShop(db, shopId), file, now);
  const said = await complaintOf(db, shopId, file.wearer_id, file.case_id);
  const note = notePrescriber({
    leadingCause: cause,
    facts,
    complaint: said.map((one) => one.body),
    triedSoFar: await tried(db, file),
  });
  return {
    note,
    facts: raw,
    complaint: said.map((one) => ({ words: one.body, at: one.received_at.toISOString() })),
  };
}

async function factsNow(
  db: Db | Trx,
  shop: Shop,
  file: CaseFile,
  now: Date,
): Promise<{ raw: Record<string, unknown>; facts: JobFacts }> {
  const wearer = await findWearer(db, shop.shop_id, file.wearer_id);
  const today = localDay(now, wearer?.zone_candidates[0] ?? shop.time_zone);
  const raw = await jobFactsOf(db, shop.shop_id, file.pair_id, today);
  return { raw, facts: readJobFacts(raw).facts };
}

/** What was chosen and done so far, in the words of the case. */
async function tried(db: Db | Trx, file: CaseFile): Promise<string[]> {
  const events = await eventsOf(db as Db, file.shop_id, file.case_id);
  const back = new Set(events.filter(({ kind }) => kind === 'taken back').map(({ detail }) => detail.event));
  return events
    .filter((event) => event.kind === 'act' && !back.has(event.event_id))
    .map(({ detail, at }) => {
      const note = typeof detail.note === 'string' && detail.note !== '' ? `: ${detail.note}` : '';
      return `${at.toISOString().slice(0, 10)} ${String(detail.act).replaceAll('-', ' ')}, ${String(detail.way)}${note}`;
    });
}

export type Signing = {
  readonly personId: string;
  /** The cause that a remake was drafted for. */
  readonly cause: string;
  /** The question to the prescriber, as the person left it. */
  readonly question: string;
  readonly refractionChecked: boolean;
  readonly checkedByOther: boolean;
  /** A prescription that came in: the remake is drafted from it. */
  readonly prescription?: NewPrescription;
};

/**
 * A licensed person signs the order note or the note to the prescriber as it was on the screen; it is kept whole with the
 * licence as it stands today. A signed remake makes the new job, drafted and chained to the pair that it replaces; nothing goes to
 * a lab or a prescriber by itself. A remake of a remake is signed only when the refraction was checked again and
 * somebody else checked the pair on the bench.
 */
export async function signDraft(
  shell: Shell,
  shopId: string,
  caseId: string,
  kind: 'remake' | 'prescriber',
  signing: Signing,
  by: string,
  seenVersion: number | undefined,
): Promise<Checked<{ paperId: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const opened = await openFor(trx, shopId, caseId, signing.cause);
    if (!opened.ok) return opened;
    const { file, cause } = opened.value;
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const signer = (await licensedOn(trx, shopId, today)).find((one) => one.person_id === signing.personId);
    if (!signer)
      return bad({
        code: 'not-licensed',
        what: 'You are not marked as licensed today.',
        where: 'person_id',
        mend: 'Keep it as to be signed by a licensed person, or mend the licence on the page People.',
      });
    const content = await contentOf(trx, file, kind, cause, signing, now);
    if (!content.ok) return content;
    if (!(await changeCase(trx, shopId, caseId, {}, now, seenVersion))) return bad(changedMeanwhile);
    const paperId = await keep(trx, file, kind, content.value, by, now);
    const answers = { refractionChecked: signing.refractionChecked, checkedByOther: signing.checkedByOther };
    await keepSignature(trx, shopId, paperId, signer, kind === 'remake' ? answers : {}, now);
    const text = `${PAPER_NAMES[kind]} signed by ${signer.name}, licence ${signer.licence_number}`;
    await addCaseEvent(trx, shopId, caseId, 'note', { text, paper: paperId }, by, now);
    if (kind === 'remake') await orderAgain(trx, file, content.value as RemakePaper, today, by, now);
    return good({ paperId });
  });
}

/** Keeps a draft on the case as still to be signed, where nobody licensed is at hand. */
export async function keepUnsigned(
  shell: Shell,
  shopId: string,
  caseId: string,
  kind: 'remake' | 'prescriber',
  signing: Pick<Signing, 'cause' | 'question' | 'prescription'>,
  by: string,
): Promise<Checked<{ paperId: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const opened = await openFor(trx, shopId, caseId, signing.cause);
    if (!opened.ok) return opened;
    const { file, cause } = opened.value;
    const answered = { ...signing, personId: '', refractionChecked: true, checkedByOther: true };
    const content = await contentOf(trx, file, kind, cause, answered, now);
    if (!content.ok) return content;
    const paperId = await keep(trx, file, kind, content.value, by, now);
    const text = `${PAPER_NAMES[kind]} drafted: to be signed by a licensed person`;
    await addCaseEvent(trx, shopId, caseId, 'note', { text, paper: paperId }, by, now);
    return good({ paperId });
  });
}

const PAPER_NAMES = { remake: 'order note', prescriber: 'note to the prescriber' } as const;

const changedMeanwhile: Problem = {
  code: 'case-changed',
  what: 'Somebody changed this case after you opened the paper. Nothing was signed.',
  where: 'case',
  mend: 'Read the paper again, then sign.',
};

async function openFor(
  trx: Trx,
  shopId: string,
  caseId: string,
  asked: string,
): Promise<Checked<{ file: CaseFile; cause: string }>> {
  const file = await findCase(trx, shopId, caseId);
  if (!file)
    return bad({
      code: 'no-case',
      what: 'There is no such case.',
      where: 'case',
      mend: 'Open it again from the bench.',
    });
  if (file.closed_at !== null)
    return bad({
      code: 'case-closed',
      what: 'This case is closed.',
      where: 'case',
      mend: 'Open it again on its page first.',
    });
  return good({ file, cause: asked || (file.leading_cause ?? '') });
}

async function contentOf(
  trx: Trx,
  file: CaseFile,
  kind: 'remake' | 'prescriber',
  cause: string,
  signing: Signing,
  now: Date,
): Promise<Checked<RemakePaper | PrescriberPaper>> {
  if (kind === 'prescriber') {
    const paper = await draftNote(trx, file, cause, now);
    const question = signing.question.trim() || paper.note.question;
    return good({ ...paper, note: { ...paper.note, question: question.slice(0, 2000) } });
  }
  if (!causeById(cause) && !signing.prescription)
    return bad({
      code: 'no-cause',
      what: 'No cause is named that a remake could be drafted for.',
      where: 'cause',
      mend: 'Note what was measured on the case first.',
    });
  const paper = await draftOrder(trx, file, cause, now, signing.prescription);
  const unanswered =
    paper.draft.firstAnswer.length > 0 && !(signing.refractionChecked && signing.checkedByOther);
  return unanswered
    ? bad({
        code: 'second-remake',
        what: 'This pair was made again before.',
        where: 'refraction_checked',
        mend: paper.draft.firstAnswer.join(' '),
      })
    : good(paper);
}

async function keep(
  trx: Trx,
  file: CaseFile,
  kind: 'remake' | 'prescriber',
  content: RemakePaper | PrescriberPaper,
  by: string,
  now: Date,
): Promise<string> {
  const snapshotId = await newestSnapshotId(trx, file.shop_id, file.case_id);
  return keepPaper(trx, file.shop_id, { caseId: file.case_id, kind, content, snapshotId, by }, now);
}
