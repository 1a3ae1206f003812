import type { JSX } from 'hono/jsx/jsx-runtime';
import { AnswerPage } from '../../../dashboard/for-wearers/answer/page.tsx';
import { FirstMultifocalsPage } from '../../../dashboard/for-wearers/first-multifocals/page.tsx';
import { HaveItPage } from '../../../dashboard/for-wearers/have-it/page.tsx';
import { LightReactivePage } from '../../../dashboard/for-wearers/light-reactive/page.tsx';
import { MeasurePage } from '../../../dashboard/for-wearers/measure/page.tsx';
import { NoLinkPage } from '../../../dashboard/for-wearers/no-link/page.tsx';
import { StopPage } from '../../../dashboard/for-wearers/stop/page.tsx';
import { STARTER_DESIGNS } from '../../followup/starterDesigns.ts';
import { whatIsNotRight } from '../../followup/whatIsNotRight.ts';
import type { Shop } from '../../store/shops.ts';
import { shortTime } from '../format.ts';
import { wearerTint } from '../wearerTint.ts';
import { aboutShop, cautionWords, questionOf, thanksFor } from '../wearerViews.ts';

export type PageShown = {
  readonly page: string;
  readonly lang: 'en' | 'es';
  readonly air: string | undefined;
  readonly what: string | undefined;
};

/** A page behind a link as a wearer of this shop would see it, with nobody behind it: for staff to look at. */
export function wearerPageShown(shop: Shop, now: Date, asked: PageShown): JSX.Element | undefined {
  const { page, lang } = asked;
  const about = aboutShop(shop, `/letters/pages/${page}`, lang, []);
  const answer = { about, question: null, answered: false, trouble: '', thanks: null, caution: [] };
  // The two pages of tips lead to each other, as behind one link.
  const tips = aboutShop(shop, '/letters/pages', lang, ['first-multifocals', 'light-reactive']);
  switch (page) {
    case 'answer':
      return <AnswerPage view={answer} />;
    case 'question': {
      const question = questionOf({ kind: 'choices', ...whatIsNotRight }, lang);
      return <AnswerPage view={{ ...answer, question }} />;
    }
    case 'danger': {
      const caution = cautionWords(shop, 'eye', lang, now);
      return <AnswerPage view={{ ...answer, thanks: thanksFor('', null, lang), caution }} />;
    }
    case 'first-multifocals':
      return <FirstMultifocalsPage view={{ about: tips }} />;
    case 'light-reactive': {
      const air = asked.air === 'cold' || asked.air === 'hot' ? asked.air : 'mild';
      const lens = STARTER_DESIGNS.find((design) => design.lightReactive !== null)?.lightReactive ?? null;
      return <LightReactivePage view={{ about: tips, air, picture: wearerTint(lens, air, lang) }} />;
    }
    case 'measure': {
      const kind = asked.what === 'photo' ? 'photo' : 'marks';
      return <MeasurePage view={{ about, kind, thanks: null, trouble: '' }} />;
    }
    case 'stop':
      return <StopPage view={{ about, channels: ['text', 'email'], done: false }} />;
    case 'ran-out':
      return <NoLinkPage view={{ lang, about, tooOften: false }} />;
    case 'have-it': {
      const came = shortTime(now, now, shop.time_zone);
      const invented = shop.kind === 'invented';
      return (
        <HaveItPage
          view={{
            lang,
            shopName: shop.name,
            invented,
            base: '/letters/pages/have-it',
            initial: 'R',
            came,
            person: 'Robin',
            over: null,
            caseHref: null,
          }}
        />
      );
    }
    default:
      return undefined;
  }
}
