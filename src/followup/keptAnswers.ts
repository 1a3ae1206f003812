import { partsAllowed } from '../../templates/budget.ts';
import { english } from '../../templates/en/words.ts';
import { spanish } from '../../templates/es/words.ts';
import { renderMessage } from '../../templates/renderMessage.ts';
import { textParts } from '../../templates/textParts.ts';
import { ASKS, type Ask, LOCALES, type Locale } from '../../templates/types.ts';
import { wordFaults } from '../../templates/wordsAllowed.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { keepSettings, lockShop, type Shop } from '../store/shops.ts';
import type { Shell } from './shell.ts';
import { shopWords } from './words.ts';

const WORDS = { en: english, es: spanish } as const;

/** What every kept answer ends with. */
export const OR_SHALL_WE_RING = { en: english.orShallWeRing, es: spanish.orShallWeRing } as const;

type KeptAnswer = {
  readonly ask: Ask;
  readonly locale: Locale;
  /** What the shop has written; empty: ours stands. */
  readonly own: string;
  /** Ours; empty where only the shop can know it: the question then goes to a person. */
  readonly ours: string;
};

/** Every answer to what wearers always ask, in both languages, as the shop has it now. */
export function keptAnswers(shop: Pick<Shop, 'settings'>): KeptAnswer[] {
  return LOCALES.flatMap((locale) =>
    ASKS.map((ask) => ({
      ask,
      locale,
      own: shop.settings.keptAnswers?.[ask]?.[locale] ?? '',
      ours: WORDS[locale].kept[ask] ?? '',
    })),
  );
}

/**
 * Keeps the shop's own answer to one question in one language. The offer to ring is put at its end by itself. Empty words
 * take the shop's answer away. Refused when a text with it would need more parts than an answer may have.
 */
export async function keepAnswer(
  shell: Shell,
  shopId: string,
  typed: { readonly ask: string; readonly locale: string; readonly text: string },
  by: string,
): Promise<Checked<{ ask: Ask; own: boolean }>> {
  const ask = ASKS.find((one) => one === typed.ask);
  const locale = LOCALES.find((one) => one === typed.locale);
  if (!ask || !locale) {
    return bad(trouble('ask', 'There is no such question.', 'Open the page again and choose from the list.'));
  }
  const text = typed.text.trim().replace(/\s+/g, ' ');
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const shop = await lockShop(trx, shopId);
    const { [locale]: _before, ...otherLocales } = shop.settings.keptAnswers?.[ask] ?? {};
    const settings = {
      ...shop.settings,
      keptAnswers: {
        ...shop.settings.keptAnswers,
        [ask]: text === '' ? otherLocales : { ...otherLocales, [locale]: text },
      },
    };
    const problems = text === '' ? [] : troublesOf(text, ask, locale, { ...shop, settings });
    if (problems.length > 0) return bad(...problems);
    await keepSettings(trx, shopId, settings);
    const detail = { locale, text };
    await addAudit(trx, shopId, { by, act: `kept answer set: ${ask}`, subject: shopId, detail }, now);
    return good({ ask, own: text !== '' });
  });
}

function troublesOf(text: string, ask: Ask, locale: Locale, shop: Shop): Problem[] {
  const faults = wordFaults(text).filter(({ kind }) => kind !== 'sender not named' && kind !== 'offer');
  if (faults.length > 0) {
    const words = faults.map((one) => `“${one.words}”`).join(', ');
    return [
      trouble(
        'text',
        `${words} must not stand in a text that anyone who holds the telephone can read.`,
        'Say it without powers, measurements, conditions and kinds of lens.',
      ),
    ];
  }
  const said = renderMessage({
    purpose: 'answer',
    pieces: [{ kind: 'kept', ask }],
    locale,
    channel: 'text',
    shop: shopWords(shop),
    wearer: { firstName: '' },
  });
  const parts = textParts(said.text).segments;
  const allowed = partsAllowed({ purpose: 'answer', locale, first: false, withLink: false });
  if (parts <= allowed) return [];
  return [
    trouble(
      'text',
      `With the shop’s name and the offer to ring it makes ${parts} parts of a text; at most ${allowed} may go.`,
      'Say it in fewer words.',
    ),
  ];
}

const trouble = (where: string, what: string, mend: string): Problem => ({
  code: 'kept-answer',
  what,
  where,
  mend,
});
