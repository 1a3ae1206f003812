import { causeById } from '../causes/catalogue/index.ts';
import type { Bearer } from '../causes/catalogue/types.ts';
import type { BothEyes, JobFactKey } from '../causes/jobFacts.ts';
import type { RemakeChange } from '../causes/remakeChanges.ts';
import { addCaseEvent, type CaseFile, changeCase } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, findJob, findPair, type Job, type NewFact } from '../store/jobs.ts';
import { carryOrder, chainedJob, endReplacedPair } from './chainedJob.ts';
import { REASON_OF_CAUSE } from './finishedPairs.ts';
import type { REMAKE_BEARERS } from './remakeJob.ts';
import type { RemakePaper } from './signDraft.ts';

/**
 * A signed remake becomes a job of its own: the order of the first with the changes in, chained to the pair that it replaces, whose
 * outcome stands now. The case stays open and goes on with the second pair (caseGoesOn.ts). A second signature for
 * the same pair adds its changes to the job that is drafted already. Returns the job's number.
 */
export async function orderAgain(
  trx: Trx,
  file: CaseFile,
  { draft, prescription }: RemakePaper,
  today: string,
  by: string,
  now: Date,
): Promise<string> {
  const shopId = file.shop_id;
  const pair = (await findPair(trx, shopId, file.pair_id))!;
  const first = (await findJob(trx, shopId, pair.job_id))!;
  const drafted = await draftedFor(trx, shopId, pair.pair_id);
  const made = drafted
    ? { jobId: drafted.job_id, jobKey: drafted.job_key }
    : await chainedJob(trx, first, pair, undefined, today, now);
  const changed = changedFacts(draft.changes, made.jobId, by);
  if (drafted) await addFacts(trx, shopId, changed, now);
  else {
    await carryOrder(trx, first, made.jobId, now, changed);
    await endReplacedPair(
      trx,
      shopId,
      pair,
      {
        reason: prescription ? 'prescription' : (REASON_OF_CAUSE.get(draft.cause) ?? 'settling'),
        borneBy: BORNE_BY[draft.bears ?? 'shop'],
        exchangedTo: null,
        today,
        by,
        ...(causeById(draft.cause) ? { cause: draft.cause, causeHow: 'said' } : {}),
      },
      now,
    );
  }
  await addFacts(trx, shopId, changedFacts(draft.changes, made.jobId, by), now);
  await changeCase(trx, shopId, file.case_id, { state: 'at the lab' }, now);
  await addCaseEvent(
    trx,
    shopId,
    file.case_id,
    'made again',
    { job: made.jobId, number: made.jobKey },
    by,
    now,
  );
  return made.jobKey;
}

async function draftedFor(trx: Trx, shopId: string, pairId: string): Promise<Job | undefined> {
  return trx
    .selectFrom('job')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('remake_of_pair_id', '=', pairId)
    .orderBy('created_at', 'desc')
    .limit(1)
    .executeTakeFirst();
}

/** Who bears a remake by rule, as it is put on record; the shop may decide otherwise when the case is closed. */
const BORNE_BY: Readonly<Record<Bearer, (typeof REMAKE_BEARERS)[number]>> = {
  nobody: 'the shop',
  shop: 'the shop',
  lab: 'the lab',
  prescriber: 'the prescriber',
  wearer: 'the wearer',
  'lab or shop': 'the lab',
  'lab or prescriber': 'the lab',
  'lab, or shop if from the PD': 'the lab',
  'shop or non-adapt terms': 'the shop',
  'wearer or shop': 'the shop',
  'wearer or warranty': 'the wearer',
  'non-adapt terms': 'the shop',
  'shop that replaced one lens, else lab': 'the shop',
};

/**
 * What the changes set, as facts of the new order, each with its because. Of one number for both eyes only the eye that a change
 * speaks of is new. A corridor is chosen with the design and is not written here.
 */
const changedFacts = (changes: readonly RemakeChange[], jobId: string, by: string): NewFact[] => {
  const whole: Record<string, unknown> = Object.assign({}, ...changes.map(({ sets }) => sets ?? {}));
  return Object.entries(whole).flatMap(([name, value]) => {
    const power = /^(rx|order)_([RL])$/.exec(name);
    const eyes = power ? ([power[2]] as ('R' | 'L')[]) : isEyes(value) ? (['R', 'L'] as const) : [null];
    return eyes.flatMap((eye): NewFact[] => {
      const why = changes.find(
        (one) =>
          one.sets?.[name as JobFactKey] !== undefined &&
          (eye === null || one.eye === 'both' || one.eye === eye),
      );
      if (!why || name === 'corridor_mm') return [];
      const held = eye === null || power ? value : (value as BothEyes)[eye];
      const key = power ? power[1]! : name;
      const how = `changed: ${why.because}`;
      return held === undefined
        ? []
        : [{ jobId, key, eye, value: held, unit: null, how, by, source: 'order' }];
    });
  });
};

const isEyes = (value: unknown): value is BothEyes =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
