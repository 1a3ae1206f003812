import { MEASURE_FOR_US } from '../../templates/measureForUs.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import { findJob } from '../store/jobs.ts';
import { writeMessage } from '../store/messages.ts';
import { findShop } from '../store/shops.ts';
import type { ChannelKind } from '../store/tables.ts';
import { contactsOf, findWearer } from '../store/wearers.ts';
import { noSuchJob } from './handOver.ts';
import { linkTo } from './letterLinks.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { leavesAt } from './unsend.ts';
import { localeOf, say } from './words.ts';

/**
 * Asks a wearer who told of trouble to measure at home: a link to their page by text or email, or the whole instructions by
 * email where the shop has no public address. A person presses; nothing asks by itself.
 */
export async function askToMeasure(
  shell: Shell,
  shopId: string,
  jobId: string,
  { channel, onceKey }: { readonly channel: ChannelKind; readonly onceKey: string },
  by: string,
): Promise<Checked<null>> {
  const now = shell.clock.now();
  const link = linkTo(shell, shopId, 'measure');
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    const wearer = job && (await findWearer(trx, shopId, job.wearer_id));
    if (!job || !wearer) return bad(noSuchJob);
    const pair = await trx
      .selectFrom('pair')
      .select('pair_id')
      .where('shop_id', '=', shopId)
      .where('job_id', '=', jobId)
      .executeTakeFirst();
    const file = pair && (await openCaseOf(trx, shopId, pair.pair_id));
    if (!pair || !file)
      return refuse(
        'There is no open case for these glasses.',
        'Print the sheet and hand it over; messages about trouble go only to a wearer who told of some.',
      );
    if (channel === 'text' && link === undefined)
      return refuse(
        'A text has no room for the instructions, and the shop has no public address for a link.',
        'Send the email, or print the sheet.',
      );
    const contact = (await contactsOf(trx, shopId, wearer.wearer_id)).find(
      (one) => one.channel === channel && one.consent === 'given' && one.unusable_why === null,
    );
    if (!contact)
      return refuse(`They cannot be written to by ${channel}.`, 'Choose the other way, or print the sheet.');
    const shop = await findShop(trx, shopId);
    const words = MEASURE_FOR_US[localeOf(wearer)];
    const said = say(shop, wearer, channel, {
      purpose: 'staff',
      words: link === undefined ? whole(words) : `${words.ask} ${link}`,
    });
    const messageId = await writeMessage(
      trx,
      shopId,
      {
        onceKey: `measure:${onceKey}`,
        wearerId: wearer.wearer_id,
        pairId: pair.pair_id,
        caseId: file.case_id,
        purpose: 'staff',
        unasked: false,
        automatic: false,
        channel,
        contactId: contact.contact_id,
        ...said,
        inAnswerTo: file.newest_inbound_id,
        writtenBy: by,
        localDay: localDay(now, wearer.zone_candidates[0] ?? shop.time_zone),
        sendAt: leavesAt(now),
      },
      now,
    );
    if (messageId !== undefined)
      await addCaseEvent(
        trx,
        shopId,
        file.case_id,
        'note',
        { text: `asked them by ${channel} to measure at home`, message: messageId },
        by,
        now,
      );
    return good(null);
  });
}

const refuse = (what: string, mend: string): Checked<never> =>
  bad({ code: 'cannot-ask', what, where: 'channel', mend });

const whole = ({
  title,
  tapeTitle,
  tape,
  photoTitle,
  photo,
  sendBack,
}: (typeof MEASURE_FOR_US)['en']): string =>
  [title, `${tapeTitle}\n${numbered(tape)}`, `${photoTitle}\n${numbered(photo)}`, sendBack].join('\n\n');

const numbered = (lines: readonly string[]): string =>
  lines.map((line, at) => `${at + 1}. ${line}`).join('\n');
