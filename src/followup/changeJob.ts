import { newId } from '../ids.ts';
import { type Fact, rowDigest, type ValidJob } from '../intake/job.ts';
import { addAudit } from '../store/audit.ts';
import { openCaseOf } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, type Job, type Pair } from '../store/jobs.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { designsByName, labsByName } from '../store/takeIn.ts';
import { lockWearer, type Wearer } from '../store/wearers.ts';
import { startWearing } from './applyToPlan.ts';
import { arrived } from './arrived.ts';
import { moveCheckIns } from './mendZone.ts';
import { jobsToSign, type OneSignature } from './orderToSign.ts';
import { insertPair, pairRows } from './pairRows.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';
import { wearerZones } from './wearerZones.ts';

/** Fields that a file may not change: who it is, how they are reached and whether they agreed are mended by a person. */
export const NOT_FROM_A_FILE: ReadonlySet<string> = new Set(['name', 'phone', 'email', 'consent']);

/**
 * Changes a job that is here already to what a line of a file says of the order: lens, lab, days, numbers, and of the wearer
 * language, wishes and where they live. Numbers that the line no longer has stay on record. Returns false when nothing of
 * that differs.
 */
export async function changeJob(
  shell: Shell,
  shopId: string,
  said: ValidJob,
  by: string,
  signature?: OneSignature,
): Promise<boolean> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await trx
      .selectFrom('job')
      .selectAll()
      .where('shop_id', '=', shopId)
      .where('job_key', '=', said.jobNumber)
      .executeTakeFirst();
    const wearer = job && (await lockWearer(trx, shopId, job.wearer_id));
    if (!job || !wearer) return false;
    const before = job.as_taken as ValidJob;
    const after = keepingContact(before, said);
    if (rowDigest(after) === rowDigest(before)) return false;
    const shop = await findShop(trx, shopId);
    const zones = await changeWearer(trx, shop, wearer, before, after, now);
    const moved = { ...wearer, zone_candidates: zones };
    const pair = await pairOf(trx, shopId, job.job_id);
    // Once the glasses have left, the way they went is a matter of record.
    const way = pair ? job.way : after.way;
    await changeRow(trx, job, after, way, now);
    await changeDays(trx, { ...job, way }, pair, moved, after, now);
    const added = await addNewFacts(trx, job, before, after, by, now);
    if (added && signature) await jobsToSign(trx, shopId, signature, [job.job_id], now);
    await addAudit(trx, shopId, { by, act: 'job changed by a file', subject: job.job_id, detail: {} }, now);
    return true;
  });
}

function keepingContact(before: ValidJob, said: ValidJob): ValidJob {
  const { phoneE164: _phone, email: _email, ...wearer } = said.wearer;
  const { neverMessaged: _never, ...rest } = said;
  const { name, phoneE164, email } = before.wearer;
  return {
    ...rest,
    consent: before.consent,
    ...(before.neverMessaged === undefined ? {} : { neverMessaged: before.neverMessaged }),
    wearer: {
      ...wearer,
      name,
      ...(phoneE164 === undefined ? {} : { phoneE164 }),
      ...(email === undefined ? {} : { email }),
    },
  };
}

async function changeWearer(
  trx: Trx,
  shop: Shop,
  wearer: Wearer,
  before: ValidJob,
  after: ValidJob,
  now: Date,
): Promise<string[]> {
  const found = wearerZones(shop, after);
  const lived = wearerZones(shop, before);
  const elsewhere = found.zones.join() !== lived.zones.join() && !wearer.zone_how.startsWith('set by');
  const zones = elsewhere ? [...found.zones] : wearer.zone_candidates;
  const { prefers, locale, country, region, postcode, birthYear } = after.wearer;
  await trx
    .updateTable('wearer')
    .set({
      ...(prefers === before.wearer.prefers ? {} : { prefers }),
      locale,
      country: country ?? wearer.country,
      region: region ?? wearer.region,
      postcode: postcode ?? wearer.postcode,
      birth_year: birthYear ?? wearer.birth_year,
      ...(elsewhere
        ? {
            time_zone: zones.length === 1 ? zones[0]! : null,
            zone_candidates: zones,
            zone_how: found.how,
          }
        : {}),
    })
    .where('shop_id', '=', shop.shop_id)
    .where('wearer_id', '=', wearer.wearer_id)
    .execute();
  if (elsewhere) await moveCheckIns(trx, shop.shop_id, wearer.wearer_id, zones, now);
  return zones;
}

async function changeRow(trx: Trx, job: Job, after: ValidJob, way: Job['way'], now: Date): Promise<void> {
  const shopId = job.shop_id;
  const designs = await designsByName(trx, shopId, [after.lensDesign], (name) => ({
    shop_id: shopId,
    design_id: newId(now),
    name,
    corridor_mm: null,
    corridor_how: null,
    min_height_mm: null,
    refractive_index: null,
    abbe: null,
    light_reactive: null,
    source: null,
    created_at: now,
  }));
  const labs = await labsByName(trx, shopId, after.lab === undefined ? [] : [after.lab], (name) => ({
    shop_id: shopId,
    lab_id: newId(now),
    name,
    terms: JSON.stringify([]),
    created_at: now,
  }));
  const { dates } = after;
  await trx
    .updateTable('job')
    .set({
      way,
      design_id: designs.get(after.lensDesign)!,
      lab_id: after.lab === undefined ? job.lab_id : labs.get(after.lab)!,
      first_multifocal: after.firstMultifocal ?? job.first_multifocal,
      sold_by: after.soldBy ?? job.sold_by,
      ordered_on: dates.orderedOn ?? job.ordered_on,
      lab_invoiced_on: dates.labInvoicedOn ?? job.lab_invoiced_on,
      received_on: dates.receivedOn ?? job.received_on,
      posted_on: dates.postedOn ?? job.posted_on,
      handed_over_on: dates.handedOverOn ?? job.handed_over_on,
      arrived_on: dates.arrivedOn ?? job.arrived_on,
      row_digest: rowDigest(after),
      as_taken: JSON.stringify(after),
    })
    .where('shop_id', '=', shopId)
    .where('job_id', '=', job.job_id)
    .execute();
}

/** A day of hand-over or arrival that the file brings makes the pair; another day of first wear moves its questions. */
async function changeDays(
  trx: Trx,
  job: Job,
  pair: Pair | undefined,
  wearer: Wearer,
  after: ValidJob,
  now: Date,
): Promise<void> {
  const { shop_id: shopId, job_id: jobId } = job;
  const rows = pairRows({
    shopId,
    jobId,
    wearerId: job.wearer_id,
    way: job.way,
    dates: after.dates,
    zones: wearer.zone_candidates,
    now,
    ...(job.remake_of_pair_id ? { replacesPairId: job.remake_of_pair_id } : {}),
  });
  if (!rows) return;
  if (!pair) {
    await insertPair(trx, rows);
    return;
  }
  const { first_worn_on: dayZero, first_worn_how: how } = rows.pair;
  if (how === 'reckoned' || (pair.first_worn_on === dayZero && pair.first_worn_how === how)) return;
  if (pair.first_worn_how === 'reckoned') await arrived(trx, shopId, wearer, pair.pair_id, dayZero, how, now);
  else if (pair.first_worn_on !== dayZero)
    await startWearing(trx, shopId, wearer, pair.pair_id, dayZero, now, how);
}

const pairOf = (trx: Trx, shopId: string, jobId: string): Promise<Pair | undefined> =>
  trx
    .selectFrom('pair')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .executeTakeFirst();

async function addNewFacts(
  trx: Trx,
  job: Job,
  before: ValidJob,
  after: ValidJob,
  by: string,
  now: Date,
): Promise<boolean> {
  const told = (fact: Fact) => JSON.stringify([fact.key, fact.eye, fact.value, fact.how, fact.by]);
  const known = new Set(before.facts.map(told));
  const fresh = after.facts.filter((fact) => !known.has(told(fact)));
  if (fresh.length === 0) return false;
  await addFacts(
    trx,
    job.shop_id,
    fresh.map((fact) => ({
      jobId: job.job_id,
      key: fact.key,
      eye: fact.eye,
      value: fact.value,
      unit: fact.unit,
      how: fact.how || null,
      by: fact.by ?? by,
      source: fact.source,
    })),
    now,
  );
  const pair = await pairOf(trx, job.shop_id, job.job_id);
  const file = pair && (await openCaseOf(trx, job.shop_id, pair.pair_id));
  if (file) await rankCase(trx, job.shop_id, file, now);
  return true;
}
