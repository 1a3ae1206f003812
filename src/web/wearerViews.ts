import type { AnswerView } from '../../dashboard/for-wearers/answer/view.ts';
import type { ForWearer, TipsPage } from '../../dashboard/for-wearers/view.ts';
import { cautionReady, haveTheyComeIn, questionIn, renderMessage } from '../../templates/renderMessage.ts';
import type { Danger, Question } from '../../templates/types.ts';
import { QUESTIONS } from '../causes/catalogue/questions.ts';
import type { OpenLink } from '../followup/fromLink.ts';
import { isOpen } from '../followup/openHours.ts';
import { whatIsNotRight } from '../followup/whatIsNotRight.ts';
import { localeOf, shopWords } from '../followup/words.ts';
import type { Room } from '../house.ts';
import type { LightReactive } from '../store/lensBook.ts';
import { lensOfPair } from '../store/links.ts';
import { findShop, type Shop } from '../store/shops.ts';
import type { Wearer } from '../store/wearers.ts';

type Lang = ForWearer['lang'];

export const languageOf = (asked: string, wearer: Wearer): Lang =>
  asked === 'en' || asked === 'es' ? asked : localeOf(wearer);

/** What stands around a wearer's page: the shop and help near it, and nothing of the wearer. */
export async function aboutFor(room: Room, open: OpenLink, base: string, lang: Lang): Promise<ForWearer> {
  const shop = await findShop(room.shell.db, room.shopId);
  const { pages } = open.purpose === 'tips' ? await tipsOf(room, open) : { pages: [] };
  return aboutShop(shop, base, lang, pages);
}

export const aboutShop = (shop: Shop, base: string, lang: Lang, pages: readonly TipsPage[]): ForWearer => ({
  lang,
  shopName: shop.name,
  phone: shop.settings.phone ?? '',
  invented: shop.kind === 'invented',
  base,
  localNumbers: (shop.settings.localNumbers ?? []).map(({ who, number }) => `${who}: ${number}`),
  pages,
});

/** Lenses with zones: whoever has them is told where to look through them. */
const WITH_ZONES: ReadonlySet<string> = new Set(['progressive', 'room', 'bifocal', 'trifocal']);

/** The pages that a link to tips opens: what the pair of its message is. */
export async function tipsOf(
  room: Room,
  open: OpenLink,
): Promise<{ readonly pages: readonly TipsPage[]; readonly lens: LightReactive | null }> {
  const { pair_id } = open.message;
  const lens = pair_id === null ? undefined : await lensOfPair(room.shell.db, room.shopId, pair_id);
  const pages: TipsPage[] = [];
  if (!lens || WITH_ZONES.has(lens.kind)) pages.push('first-multifocals');
  if (lens?.light_reactive) pages.push('light-reactive');
  return { pages, lens: (lens?.light_reactive as LightReactive | null | undefined) ?? null };
}

/** The question that a message asked, in a language; null for the check-in with its five answers. */
export function questionOf(asked: unknown, lang: Lang): AnswerView['question'] {
  if (typeof asked !== 'object' || asked === null || !('kind' in asked) || asked.kind !== 'choices')
    return null;
  const { id, answers } = asked as unknown as Question;
  if (id === 'have-they-come') return haveTheyComeIn(lang);
  const known: Question | undefined =
    id === whatIsNotRight.id ? whatIsNotRight : QUESTIONS.find((one) => one.id === id);
  return questionIn(lang, known ?? { id, text: '', answers });
}

/** What is said back on the page; the answer itself comes by the way that the link went. */
export function thanksFor(words: string, question: AnswerView['question'], lang: Lang): string {
  if (question === null && words === '5') return THANKS[lang].ring;
  return THANKS[lang].got;
}

const THANKS = {
  en: {
    got: 'We have it. You can close this page, or go back and tell us more.',
    ring: 'We have it. Someone here will ring you in shop hours.',
  },
  es: {
    got: 'Lo tenemos. Puede cerrar esta página, o volver y contarnos más.',
    ring: 'Lo tenemos. Alguien le llamará en horario de la tienda.',
  },
} as const;

/** After a sign of danger the page says the caution at once, in the words in which it also goes out. */
export async function cautionOnPage(
  room: Room,
  inboundId: string | null,
  lang: Lang,
): Promise<readonly string[]> {
  if (inboundId === null) return [];
  const { db, clock } = room.shell;
  const read = await db
    .selectFrom('reading')
    .select(['urgent', 'labels'])
    .where('shop_id', '=', room.shopId)
    .where('inbound_id', '=', inboundId)
    .orderBy('at', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (!read?.urgent) return [];
  const shop = await findShop(db, room.shopId);
  return cautionWords(shop, read.labels.includes('urgent-eye') ? 'eye' : 'fall', lang, clock.now());
}

export function cautionWords(shop: Shop, danger: Danger, lang: Lang, now: Date): readonly string[] {
  const words = shopWords(shop);
  // The foot of the page says what cannot wait even where the shop has set no numbers.
  if (!cautionReady(words)) return [];
  const { text } = renderMessage({
    purpose: 'caution',
    danger,
    hours: isOpen(shop, now) ? 'open' : 'closed',
    locale: lang,
    channel: 'text',
    shop: words,
    wearer: { firstName: '' },
  });
  return [text];
}
