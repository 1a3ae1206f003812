import { actOnCase, type CaseAct } from '../followup/actOnCase.ts';
import { addJobFact } from '../followup/addJobFact.ts';
import { noteClaim } from '../followup/claimOnLab.ts';
import { consentWords } from '../followup/consentWords.ts';
import { handOver } from '../followup/handOver.ts';
import { addDays, localDay } from '../followup/planSlots.ts';
import { remakeJob } from '../followup/remakeJob.ts';
import { noteRingAttempt } from '../followup/ringAttempt.ts';
import { takeRung } from '../followup/ringSaid.ts';
import { setJobDate } from '../followup/setJobDate.ts';
import { correctLabels, doneWithTray } from '../followup/settleTray.ts';
import type { Shell } from '../followup/shell.ts';
import { signDraft } from '../followup/signDraft.ts';
import { stopByStaff } from '../followup/stopByStaff.ts';
import { takeReply } from '../followup/takeReply.ts';
import type { Checked } from '../problems.ts';
import { people } from '../store/shops.ts';
import { FITTER, type InventedWearer, OWNER, type Step } from './invented.ts';
import { INVENTED_SHOP } from './shop.ts';

const SHOP = INVENTED_SHOP.shopId;

/** Where a wearer of the invented shop stands on record: their job by its number, the newest pair, the open case. */
type Standing = {
  readonly wearerId: string;
  readonly jobId: string;
  readonly caseId: string | undefined;
};

/** Plays one step of a story through the use case that does it in a real shop. What is refused is our slip: it is thrown. */
export async function playStep(
  shell: Shell,
  wearer: InventedWearer,
  jobNumber: string,
  step: Step,
  key: string,
): Promise<void> {
  if ('says' in step) return writes(shell, wearer, step.says, key);
  const stands = await standing(shell, jobNumber);
  const { wearerId, jobId } = stands;
  if ('rung' in step) {
    const said = { answer: step.answer ?? '', text: step.rung, onceKey: key };
    return done(await takeRung(shell, SHOP, wearerId, said, OWNER), key);
  }
  if ('tried' in step) {
    const tried = { what: step.tried, againAt: '', note: '' };
    return done(await noteRingAttempt(shell, SHOP, wearerId, tried, FITTER), key);
  }
  if ('stopTold' in step)
    return done(await stopByStaff(shell, SHOP, wearerId, 'all', step.stopTold, OWNER), key);
  if ('read' in step) {
    for (const inboundId of await inTray(shell, wearerId))
      done(await correctLabels(shell, SHOP, inboundId, step.read, null, OWNER), key);
    return;
  }
  if ('madeAgain' in step) {
    const to = step.to === undefined ? undefined : await designNamed(shell, step.to);
    const asked = { reason: step.madeAgain, borneBy: step.bears, toDesign: to?.design_id ?? '' };
    return done(await remakeJob(shell, SHOP, jobId, asked, OWNER), key);
  }
  if ('againHandedOver' in step) return handOverAgain(shell, `${jobNumber} again`);
  if ('arrived' in step)
    return done(await setJobDate(shell, SHOP, jobId, 'arrived', today(shell), FITTER), key);
  if ('claim' in step) {
    const sendBackBy = step.backInDays === undefined ? '' : addDays(today(shell), step.backInDays);
    const noted = { what: step.claim, amount: step.amount ?? '', sendBackBy, reason: 'made wrong' };
    return done(await noteClaim(shell, SHOP, jobId, noted, FITTER), key);
  }
  return onCase(shell, stands, step, key);
}

async function onCase(shell: Shell, stands: Standing, step: Step, key: string): Promise<void> {
  const { caseId } = stands;
  if (caseId === undefined) {
    // What has closed by itself needs nobody to close it.
    if ('closed' in step) return;
    throw new Error(`the invented shop: no case is open for ${key}`);
  }
  if ('signed' in step) {
    const signer = (await people(shell.db, SHOP)).find((one) => one.name === OWNER)!;
    const signing = {
      personId: signer.person_id,
      cause: step.cause,
      question: '',
      refractionChecked: true,
      checkedByOther: true,
    };
    return done(await signDraft(shell, SHOP, caseId, step.signed, signing, OWNER, undefined), key);
  }
  if ('measured' in step) {
    for (const [eye, value] of [['R', step.right] as const, ['L', step.left] as const]) {
      const how = 'marks on the lens, wearer standing';
      const fact = { key: step.measured, eye, value, unit: 'mm', how, by: OWNER, source: 'bench' };
      done(await actOnCase(shell, SHOP, caseId, { kind: 'fact', fact }, OWNER), key);
    }
    return;
  }
  // Who closes a case has looked at what lay in the tray.
  if ('closed' in step) await emptyTray(shell, stands.wearerId);
  done(await actOnCase(shell, SHOP, caseId, caseAct(shell, step, key), FITTER), key);
}

function caseAct(shell: Shell, step: Step, key: string): CaseAct {
  if ('act' in step) return { kind: 'act', act: step.act, way: step.way, note: step.note, state: step.state };
  if ('held' in step) return { kind: 'hold' };
  if ('wrote' in step) return { kind: 'write', text: step.wrote, channel: 'text', onceKey: key };
  if ('state' in step) {
    const againOn = step.againInDays === undefined ? undefined : addDays(today(shell), step.againInDays);
    return { kind: 'state', state: step.state, againOn };
  }
  if (!('closed' in step)) throw new Error(`the invented shop: no act for ${key}`);
  const { closed: outcome, reason, bears: borneBy, cause } = step;
  return { kind: 'close', outcome, reason, borneBy, cause, causeHow: cause === null ? null : 'said' };
}

async function writes(shell: Shell, wearer: InventedWearer, text: string, key: string): Promise<void> {
  const byEmail = wearer.consent === 'email';
  await takeReply(shell, {
    shopId: SHOP,
    channel: byEmail ? 'email' : 'text',
    farId: `invented ${key}`,
    from: byEmail ? wearer.email! : e164(wearer.phone),
    to: null,
    body: text,
    receivedAt: shell.clock.now().toISOString(),
    raw: { invented: true },
  });
}

/** The pair reaches the wearer: over the counter, where they are asked whether we may write; or by post. */
export async function leaveShop(shell: Shell, wearer: InventedWearer, jobNumber: string): Promise<void> {
  const { jobId } = await standing(shell, jobNumber);
  if (wearer.way === 'post')
    return done(await setJobDate(shell, SHOP, jobId, 'posted', today(shell), FITTER), jobNumber);
  const answer = (channel: 'text' | 'email') =>
    wearer.consent === channel || wearer.consent === 'both' ? ('given' as const) : ('refused' as const);
  const consent = {
    text: answer('text'),
    ...(wearer.email === undefined ? {} : { email: answer('email') }),
  };
  const over = {
    on: today(shell),
    firstWornOn: '',
    consent,
    words: consentWords({ name: INVENTED_SHOP.name }),
    askedBy: wearer.soldBy,
    slips: false,
  };
  done(await handOver(shell, SHOP, jobId, over, wearer.soldBy), jobNumber);
  for (const [eye, value] of Object.entries(wearer.crossFound ?? {})) {
    const found = {
      key: 'cross_above_pupil_mm',
      value: String(value),
      eye,
      how: 'marks on the lens, wearer standing',
    };
    done(await addJobFact(shell, SHOP, jobId, found, FITTER), jobNumber);
  }
}

/** A pair that was made again reaches its wearer, who has answered about messages already. */
export async function handOverAgain(shell: Shell, jobNumber: string): Promise<void> {
  const { jobId } = await standing(shell, jobNumber);
  const over = { on: today(shell), firstWornOn: '', consent: {}, words: '', askedBy: '' };
  done(await handOver(shell, SHOP, jobId, over, OWNER), jobNumber);
}

/** Somebody looks through the tray, or at what lies there of one wearer: nothing more follows from it. */
export async function emptyTray(shell: Shell, wearerId?: string): Promise<void> {
  for (const inboundId of await inTray(shell, wearerId)) await doneWithTray(shell, SHOP, inboundId);
}

async function inTray(shell: Shell, wearerId: string | undefined): Promise<string[]> {
  const lying = await shell.db
    .selectFrom('inbound_standing')
    .select('inbound_id')
    .where('shop_id', '=', SHOP)
    .where('state', '=', 'tray')
    .$if(wearerId !== undefined, (some) => some.where('wearer_id', '=', wearerId!))
    .execute();
  return lying.map((row) => row.inbound_id);
}

async function standing(shell: Shell, jobNumber: string): Promise<Standing> {
  const found = await shell.db
    .selectFrom('job as j')
    .leftJoin('case_file as f', (join) =>
      join
        .onRef('f.shop_id', '=', 'j.shop_id')
        .onRef('f.wearer_id', '=', 'j.wearer_id')
        .on('f.closed_at', 'is', null),
    )
    .select(['j.wearer_id', 'j.job_id', 'f.case_id'])
    .where('j.shop_id', '=', SHOP)
    .where('j.job_key', '=', jobNumber)
    .executeTakeFirstOrThrow();
  return { wearerId: found.wearer_id, jobId: found.job_id, caseId: found.case_id ?? undefined };
}

export const e164 = (phone: string): string => phone.replace(/[^+\d]/g, '');

const designNamed = (shell: Shell, name: string) =>
  shell.db
    .selectFrom('lens_design')
    .select('design_id')
    .where('shop_id', '=', SHOP)
    .where('name', '=', name)
    .executeTakeFirstOrThrow();

const today = (shell: Shell): string => localDay(shell.clock.now(), INVENTED_SHOP.timeZone);

function done(checked: Checked<unknown>, key: string): void {
  if (!checked.ok)
    throw new Error(`the invented shop is refused at ${key}: ${JSON.stringify(checked.problems)}`);
}
