import { newId } from '../ids.ts';
import { rowDigest, type ValidJob } from '../intake/job.ts';
import type { Trx } from '../store/database.ts';
import { erasedAddresses } from '../store/erased.ts';
import { findShop, type Shop } from '../store/shops.ts';
import type { ChannelKind } from '../store/tables.ts';
import {
  contactsByAddress,
  designsByName,
  emptyBatch,
  type JobBatch,
  jobsByKey,
  labsByName,
  storeBatch,
  takeStock,
} from '../store/takeIn.ts';
import { jobsToSign, type OneSignature } from './orderToSign.ts';
import { pairRows, reckonOnce } from './pairRows.ts';
import type { Shell } from './shell.ts';
import { wearerZones } from './wearerZones.ts';

export type TakenJobs = {
  readonly taken: number;
  readonly same: number;
  /** Jobs that are here already with other values: nothing was changed. */
  readonly different: readonly string[];
  readonly neverMessaged: { readonly noContact: number; readonly noConsent: number };
  readonly jobIds: readonly string[];
  /** The numbers that came with some of them wait for the signature of a licensed person. */
  readonly toSign: boolean;
};

const BATCH = 500;
/** The database counts its tables anew whenever an import has taken in so many times as many jobs as at the last time. */
const GROWN = 8;

/**
 * Takes validated jobs in, each once: wearer, contact points, consent, job, facts and, where the glasses were handed
 * over, the pair with its plan. A job number that is here already is left as it is. One transaction for every 500 jobs.
 */
export async function takeJobs(
  shell: Shell,
  shopId: string,
  jobs: readonly ValidJob[],
  by: string,
  onProgress: (done: number) => void = () => {},
  signature?: OneSignature,
): Promise<TakenJobs> {
  const shop = await findShop(shell.db, shopId);
  let total: TakenJobs = {
    taken: 0,
    same: 0,
    different: [],
    neverMessaged: { noContact: 0, noConsent: 0 },
    jobIds: [],
    toSign: false,
  };
  let countAt = BATCH;
  for (let start = 0; start < jobs.length; start += BATCH) {
    const part = jobs.slice(start, start + BATCH);
    const done = await shell.db
      .transaction()
      .execute((trx) => takeBatch(trx, shop, part, by, shell.clock.now(), signature));
    total = {
      taken: total.taken + done.taken,
      same: total.same + done.same,
      different: [...total.different, ...done.different],
      neverMessaged: {
        noContact: total.neverMessaged.noContact + done.neverMessaged.noContact,
        noConsent: total.neverMessaged.noConsent + done.neverMessaged.noConsent,
      },
      jobIds: [...total.jobIds, ...done.jobIds],
      toSign: total.toSign || done.toSign,
    };
    if (total.taken >= countAt && start + BATCH < jobs.length) {
      await takeStock(shell.db);
      countAt = total.taken * GROWN;
    }
    onProgress(Math.min(start + BATCH, jobs.length));
  }
  return total;
}

async function takeBatch(
  trx: Trx,
  shop: Shop,
  jobs: readonly ValidJob[],
  by: string,
  at: Date,
  signature: OneSignature | undefined,
): Promise<TakenJobs> {
  const shopId = shop.shop_id;
  const here = new Map(
    (
      await jobsByKey(
        trx,
        shopId,
        jobs.map((job) => job.jobNumber),
      )
    ).map((row) => [row.job_key, row]),
  );
  const fresh: ValidJob[] = [];
  const different: string[] = [];
  let same = 0;
  for (const job of jobs) {
    const known = here.get(job.jobNumber);
    if (!known) fresh.push(job);
    else if (known.row_digest === rowDigest(job)) same += 1;
    else different.push(job.jobNumber);
  }
  const jobIds: string[] = [];
  let toSign = false;
  if (fresh.length > 0) {
    const designs = await designsByName(trx, shopId, unique(fresh.map((job) => job.lensDesign)), (name) => ({
      shop_id: shopId,
      design_id: newId(at),
      name,
      corridor_mm: null,
      corridor_how: null,
      min_height_mm: null,
      refractive_index: null,
      abbe: null,
      light_reactive: null,
      source: null,
      created_at: at,
    }));
    const labs = await labsByName(trx, shopId, unique(fresh.flatMap((job) => job.lab ?? [])), (name) => ({
      shop_id: shopId,
      lab_id: newId(at),
      name,
      terms: JSON.stringify([]),
      created_at: at,
    }));
    const batch = emptyBatch();
    const reckoned = reckonOnce();
    const contacts = await knownContacts(trx, shopId, fresh);
    const erased = await erasedAddresses(trx, shopId, addressesOf(fresh));
    for (const job of fresh) {
      const wearer = placeWearer(batch, contacts, erased, shop, job, by, at);
      const jobId = newId(at);
      jobIds.push(jobId);
      const designId = designs.get(job.lensDesign)!;
      const labId = job.lab ? labs.get(job.lab)! : null;
      placeJob(batch, shop, job, { jobId, designId, labId, ...wearer }, reckoned, at);
    }
    await storeBatch(trx, batch);
    if (signature) {
      const numbered = jobIds.filter((_, index) => fresh[index]!.facts.length > 0);
      toSign = await jobsToSign(trx, shopId, signature, numbered, at);
    }
  }
  return {
    taken: fresh.length,
    same,
    different,
    neverMessaged: {
      noContact: fresh.filter((job) => job.neverMessaged === 'no contact').length,
      noConsent: fresh.filter((job) => job.neverMessaged === 'no consent').length,
    },
    jobIds,
    toSign,
  };
}

type Contacts = Map<
  string,
  { contactId: string; wearers: { wearerId: string; name: string; zones: readonly string[] }[] }
>;

async function knownContacts(trx: Trx, shopId: string, jobs: readonly ValidJob[]): Promise<Contacts> {
  const known: Contacts = new Map();
  for (const row of await contactsByAddress(trx, shopId, addressesOf(jobs))) {
    const key = `${row.channel} ${row.address}`;
    const held = known.get(key) ?? { contactId: row.contact_id, wearers: [] };
    if (row.wearer_id && row.name && row.zone_candidates) {
      held.wearers.push({ wearerId: row.wearer_id, name: row.name, zones: row.zone_candidates });
    }
    known.set(key, held);
  }
  return known;
}

const addressesOf = (jobs: readonly ValidJob[]): string[] =>
  unique(jobs.flatMap((job) => [job.wearer.phoneE164 ?? [], job.wearer.email ?? []].flat()));

/** A wearer is the same as before when name and a contact agree; a contact alone may be a couple's. */
function placeWearer(
  batch: JobBatch,
  contacts: Contacts,
  erased: ReadonlySet<string>,
  shop: Shop,
  job: ValidJob,
  by: string,
  at: Date,
): PlacedWearer {
  const addresses: { channel: ChannelKind; address: string }[] = [];
  if (job.wearer.phoneE164) addresses.push({ channel: 'text', address: job.wearer.phoneE164 });
  if (job.wearer.email) addresses.push({ channel: 'email', address: job.wearer.email });
  const known = addresses
    .flatMap((one) => contacts.get(`${one.channel} ${one.address}`)?.wearers ?? [])
    .find((wearer) => sameName(wearer.name, job.wearer.name));
  const wearerId = known?.wearerId ?? newId(at);
  const row = known ? undefined : wearerRow(shop, job, wearerId, at);
  if (row) batch.wearers.push(row);
  const zones = row?.zone_candidates ?? known!.zones;
  for (const one of addresses) {
    const key = `${one.channel} ${one.address}`;
    let contact = contacts.get(key);
    if (!contact) {
      contact = { contactId: newId(at), wearers: [] };
      contacts.set(key, contact);
      batch.contacts.push({
        shop_id: shop.shop_id,
        contact_id: contact.contactId,
        ...one,
        unusable_why: null,
        created_at: at,
      });
    }
    if (contact.wearers.some((wearer) => wearer.wearerId === wearerId)) continue;
    contact.wearers.push({ wearerId, name: job.wearer.name, zones });
    // Who was erased on request is not messaged again on the strength of an old file.
    const stopped = erased.has(one.address);
    const agreed = !stopped && job.consent.given && job.consent.channels.includes(one.channel);
    batch.wearerContacts.push({
      shop_id: shop.shop_id,
      wearer_id: wearerId,
      contact_id: contact.contactId,
      channel: one.channel,
      consent: agreed ? 'given' : stopped ? 'withdrawn' : 'none',
      consent_at: agreed || stopped ? at : null,
    });
    if (!agreed && !stopped) continue;
    batch.consents.push({
      shop_id: shop.shop_id,
      consent_id: newId(at),
      wearer_id: wearerId,
      contact_id: contact.contactId,
      channel: one.channel,
      act: agreed ? 'given' : 'withdrawn',
      basis: agreed ? job.consent.basis : 'erased earlier on request',
      words: null,
      recorded_by: by,
      at,
    });
  }
  return { wearerId, zones };
}

type PlacedWearer = { readonly wearerId: string; readonly zones: readonly string[] };

function wearerRow(shop: Shop, job: ValidJob, wearerId: string, at: Date): JobBatch['wearers'][number] {
  const { wearer } = job;
  const { zones, how } = wearerZones(shop, job);
  return {
    shop_id: shop.shop_id,
    wearer_id: wearerId,
    name: wearer.name,
    locale: wearer.locale,
    prefers: wearer.prefers,
    time_zone: zones.length === 1 ? zones[0]! : null,
    zone_candidates: [...zones],
    zone_how: how,
    country: wearer.country ?? shop.country,
    region: wearer.region ?? null,
    postcode: wearer.postcode ?? null,
    birth_year: wearer.birthYear ?? null,
    automatic_held_why: null,
    created_at: at,
  };
}

function placeJob(
  batch: JobBatch,
  shop: Shop,
  job: ValidJob,
  ids: PlacedWearer & { jobId: string; designId: string; labId: string | null },
  reckoned: ReturnType<typeof reckonOnce>,
  at: Date,
): void {
  const { dates } = job;
  batch.jobs.push({
    shop_id: shop.shop_id,
    job_id: ids.jobId,
    job_key: job.jobNumber,
    wearer_id: ids.wearerId,
    design_id: ids.designId,
    lab_id: ids.labId,
    way: job.way,
    first_multifocal: job.firstMultifocal ?? null,
    sold_by: job.soldBy ?? null,
    ordered_on: dates.orderedOn ?? null,
    lab_invoiced_on: dates.labInvoicedOn ?? null,
    received_on: dates.receivedOn ?? null,
    posted_on: dates.postedOn ?? null,
    handed_over_on: dates.handedOverOn ?? null,
    arrived_on: dates.arrivedOn ?? null,
    remake_of_pair_id: null,
    row_digest: rowDigest(job),
    as_taken: JSON.stringify(job),
    created_at: at,
  });
  for (const fact of job.facts) {
    batch.facts.push({
      shop_id: shop.shop_id,
      fact_id: newId(at),
      job_id: ids.jobId,
      key: fact.key,
      eye: fact.eye,
      value: JSON.stringify(fact.value),
      unit: fact.unit,
      how: fact.how || null,
      by_name: fact.by,
      source: fact.source,
      at,
    });
  }
  const { jobId, wearerId, zones } = ids;
  const rows = pairRows(
    { shopId: shop.shop_id, jobId, wearerId, way: job.way, dates, zones, now: at },
    reckoned,
  );
  if (!rows) return;
  batch.pairs.push(rows.pair);
  batch.plans.push(rows.plan);
  batch.checkIns.push(...rows.checkIns);
}

const unique = <T>(values: readonly T[]): T[] => [...new Set(values)];

const sameName = (one: string, other: string): boolean => plainName(one) === plainName(other);

const plainName = (name: string): string =>
  name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s.,]+/g, ' ')
    .trim();
