import { bad, type Checked, good } from '../problems.ts';
import { findWearer } from '../store/wearers.ts';
import { noteRingAttempt } from './ringAttempt.ts';
import type { Shell } from './shell.ts';
import { noSuchWearer } from './stopByStaff.ts';
import { takeReply } from './takeReply.ts';

/** How it goes, as it is tapped on the call sheet: the same endings that every asking message has, in the same words. */
export const SAID_WORDS: Readonly<Record<string, string>> = {
  '1': 'Seeing well.',
  '2': 'Getting there.',
  '3': 'Something is not right.',
  '4': 'Not wearing them.',
};

const LONGEST = 5000;

export type RingSaid = {
  /** 1 to 4 of the endings; empty where none was tapped. */
  readonly answer: string;
  /** In the wearer's own words, as they were typed in. */
  readonly text: string;
  /** Of the form, so that a double press is one call. */
  readonly onceKey: string;
};

/**
 * What a wearer said on the telephone is a reply like any other: it is stored raw, sorted, opens a case where there is
 * trouble, raises the alarm where there is danger. It also ends the reasons for ringing that came before it.
 */
export async function takeRung(
  shell: Shell,
  shopId: string,
  wearerId: string,
  said: RingSaid,
  by: string,
): Promise<Checked<{ inboundId: string | null; isNew: boolean }>> {
  const text = said.text.trim();
  const tapped = SAID_WORDS[said.answer] ?? '';
  if (text === '' && (tapped === '' || said.answer === '3')) {
    return bad({
      code: 'said-nothing',
      what: tapped === '' ? 'Nothing is written down.' : 'It is not written down what is not right.',
      where: 'text',
      mend: 'Write what they said, in their words.',
    });
  }
  if (text.length > LONGEST) {
    return bad({
      code: 'said-too-long',
      what: `That is ${text.length} characters; ${LONGEST} are kept.`,
      where: 'text',
      mend: 'Shorten it.',
    });
  }
  if (!(await findWearer(shell.db, shopId, wearerId))) return bad(noSuchWearer);
  const taken = await takeReply(shell, {
    shopId,
    channel: 'phone',
    farId: `typed-${said.onceKey}`,
    from: by,
    to: null,
    body: [tapped, text].filter((part) => part !== '').join(' '),
    receivedAt: shell.clock.now().toISOString(),
    raw: { wearerId, typedBy: by, tapped: said.answer || null },
  });
  if (taken.isNew)
    await noteRingAttempt(shell, shopId, wearerId, { what: 'spoke', againAt: '', note: '' }, by);
  return good(taken);
}
