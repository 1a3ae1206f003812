import { resolveTxt } from 'node:dns/promises';
import { HERE_PATH } from './channels/linkPlaces.ts';
import { visitMailbox } from './channels/mailbox.ts';
import { STATUS_PATH } from './channels/text.ts';
import type { Clock } from './clock.ts';
import type { CarrierSettings } from './config.ts';
import type { Worked } from './followup/noteTried.ts';
import type { NamedOutside } from './followup/readyToGoLive.ts';
import { type CarrierTrial, realCarriers } from './realCarriers.ts';

export type SetupCheck = {
  readonly what: string;
  readonly how: 'well' | 'off' | 'look' | 'wrong';
  readonly told: string;
};

/** What a check needs of the world outside; a test hands in its own. */
export type SetupWorld = {
  readonly trial?: CarrierTrial;
  /** TXT records of a name; throws where there are none. */
  txtOf(name: string): Promise<readonly string[]>;
  /** The status that an unsigned post to an address is answered with; throws where nobody answers. */
  postStatus(url: string): Promise<number>;
};

/** Newest data known when this was written; British Columbia and Alberta no longer go back an hour from it on (IANA tz 2026d). */
const NEWEST_ZONES = '2026d';

/** Data of time zones come with Node, not with the system. `version` as in `2026d`. */
export function checkZones(version: string | undefined): SetupCheck {
  const what = 'time zones';
  if (version !== undefined && version >= NEWEST_ZONES)
    return { what, how: 'well', told: `data of ${version}` };
  return {
    what,
    how: 'look',
    told: `Node carries data of ${version ?? 'unknown age'}; ${NEWEST_ZONES} is newer, and some places may be an hour off. Update Node.`,
  };
}

const ANSWER_WITHIN_MS = 10_000;

/** The world outside as it is. */
export const REAL_WORLD: SetupWorld = {
  txtOf: async (name) => (await resolveTxt(name)).map((pieces) => pieces.join('')),
  async postStatus(url) {
    const answer = await fetch(url, { method: 'POST', signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
    return answer.status;
  },
};

/** What the settings name of the world outside. */
export const namedOutside = ({ text, mail, links }: CarrierSettings): NamedOutside => ({
  address: text?.publicBase ?? links?.base,
  sender: text?.from,
  mailbox: mail?.mailbox,
});

/** Which of the ways that the settings name were seen to work; a public address that is not set is done without. */
export function whatWorked(checks: readonly SetupCheck[]): Worked {
  const how = (what: string) => checks.find((one) => one.what === what)?.how;
  const well = (what: string) => how(what) === 'well';
  return {
    address:
      (well('public address') && how('calls of the carrier') !== 'wrong') || how('public address') === 'off',
    sender: well('sign-in for texts'),
    mailbox: well('emails out') && well('emails in'),
  };
}

/** Signs in at every carrier that is set and looks at what the world sees of us. Sends nothing. */
export async function checkCarriers(
  settings: CarrierSettings,
  clock: Clock,
  world: SetupWorld,
): Promise<SetupCheck[]> {
  const carriers = realCarriers(settings, async () => undefined, clock, { name: 'Setup' }, world.trial);
  try {
    const { text, mail } = settings;
    const address = namedOutside(settings).address;
    return [
      await checkAddress(address, world),
      ...(text ? await checkText(text, carriers.textLine?.('')?.channel, clock, world) : [off('texts')]),
      ...(mail ? await checkMail(mail, carriers, clock, world) : [off('emails')]),
    ];
  } finally {
    carriers.close();
  }
}

const off = (what: string): SetupCheck => ({ what, how: 'off', told: 'not set: none are sent' });

async function checkAddress(address: string | undefined, world: SetupWorld): Promise<SetupCheck> {
  const what = 'public address';
  if (address === undefined) {
    return {
      what,
      how: 'off',
      told: 'not set: the carrier is asked each minute, and letters go without links',
    };
  }
  return tried(what, async () => {
    const status = await world.postStatus(`${address}${HERE_PATH}`);
    if (status !== 204)
      throw new Error(
        `${address}${HERE_PATH} answered ${status}; this shop's server answers 204: see the proxy`,
      );
    return `${address} comes to this shop`;
  });
}

async function checkText(
  text: NonNullable<CarrierSettings['text']>,
  channel: { newTexts(since: Date): Promise<unknown> } | undefined,
  clock: Clock,
  world: SetupWorld,
): Promise<SetupCheck[]> {
  const signIn = await tried('sign-in for texts', async () => {
    await channel?.newTexts(clock.now());
    return `the carrier lets ${text.accountSid.slice(0, 6)}… in`;
  });
  if (text.publicBase === undefined) return [signIn];
  const url = `${text.publicBase}${STATUS_PATH}`;
  const reached = await tried('calls of the carrier', async () => {
    const status = await world.postStatus(url);
    // Unsigned calls are refused by us; any other answer comes from somebody else.
    if (status !== 403)
      throw new Error(`${url} answered ${status}; it should be this shop's server, which refuses with 403`);
    return `${url} comes to this shop`;
  });
  return [signIn, reached];
}

async function checkMail(
  mail: NonNullable<CarrierSettings['mail']>,
  carriers: ReturnType<typeof realCarriers>,
  clock: Clock,
  world: SetupWorld,
): Promise<SetupCheck[]> {
  const out = await tried('emails out', async () => {
    const wrong = await carriers.verifyMail();
    if (wrong !== undefined) throw new Error(wrong);
    return `${mail.host} lets us in`;
  });
  const inbox = carriers.mail?.('')?.inbox;
  const read = await tried('emails in', async () => {
    const visit =
      inbox &&
      (await visitMailbox(
        inbox,
        undefined,
        clock.now(),
        async () => false,
        async () => {},
      ));
    if (!visit?.ok) throw new Error(visit?.why ?? 'no mailbox');
    return `${mail.imap.host} lets us in`;
  });
  const domain = mail.mailbox.slice(mail.mailbox.lastIndexOf('@') + 1);
  return [out, read, await checkSpf(domain, world), await checkDmarc(domain, world), DKIM_ADVICE];
}

async function tried(what: string, check: () => Promise<string>): Promise<SetupCheck> {
  try {
    return { what, how: 'well', told: await check() };
  } catch (error) {
    return { what, how: 'wrong', told: error instanceof Error ? error.message : String(error) };
  }
}

/** RFC 7208 section 4.5: exactly one record that begins with this version. */
async function checkSpf(domain: string, world: SetupWorld): Promise<SetupCheck> {
  const found = (await txt(domain, world)).filter((record) => /^v=spf1(\s|$)/i.test(record));
  const what = `SPF of ${domain}`;
  if (found.length === 1) return { what, how: 'well', told: found[0]! };
  const told =
    found.length === 0
      ? 'no record: large mailboxes will refuse our mail'
      : 'several records, which counts as none';
  return { what, how: 'look', told };
}

/** RFC 9989 (DMARC): the record stands at `_dmarc` before the domain. */
async function checkDmarc(domain: string, world: SetupWorld): Promise<SetupCheck> {
  const found = (await txt(`_dmarc.${domain}`, world)).find((record) => /^v=DMARC1\b/.test(record));
  const what = `DMARC of ${domain}`;
  return found
    ? { what, how: 'well', told: found }
    : { what, how: 'look', told: 'no record: set one, at least p=none' };
}

/** Where a signing key stands is known only to who signs. */
const DKIM_ADVICE: SetupCheck = {
  what: 'DKIM',
  how: 'look',
  told: 'send yourself an email and look in its headers for dkim=pass; its h= must name list-unsubscribe and list-unsubscribe-post, or the one-click stop is not offered',
};

const txt = (name: string, world: SetupWorld): Promise<readonly string[]> =>
  world.txtOf(name).catch(() => []);
