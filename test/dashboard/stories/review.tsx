import { LensDesignsPage } from '../../../dashboard/lens-designs/page.tsx';
import { LensPairsPage } from '../../../dashboard/lens-pairs/page.tsx';
import { designsFull } from './books.tsx';
import { shell } from './shop.ts';

const line = (number: number, outcome: string, reason: string) => ({
  href: `/jobs/j-${number}`,
  jobNumber: `HL-${number}`,
  design: 'compact 13',
  handedOver: 'Mon 4 May 2026',
  outcome,
  reason,
  looks: 'day 7 not yet, day 14 not yet, day 30 silent',
});

export const reviewStories = {
  'lens-designs-by-month': () => (
    <LensDesignsPage
      shell={shell('Lens designs', '/lens-designs')}
      view={{
        ...designsFull,
        by: 'month',
        behind:
          'Pairs that were taken in or changed of late are still being summed up; what is shown may be a few minutes behind.',
        bias: designsFull.bias.map((one) => ({
          ...one,
          warning: one.warning && {
            ...one.warning,
            on: true,
            words:
              'Said at the order: Fitting heights measured by photo have run 1.1 mm low here (0.6 to 1.6, 23 pairs measured again, as of 2026-08-03): measure again before you order.',
          },
        })),
        months: {
          centre: 0.06,
          points: [0.05, 0.08, 0.04, 0.06, 0.05, 0.07, 0.21, 0.06].map((rate, index) => ({
            month: `2026-0${index + 1}`,
            n: 40,
            rate,
            low: 0,
            high: 0.17,
            href: `/lens-designs/pairs?part=group&by=month&key=2026-0${index + 1}`,
          })),
          caption: 'Middle line 6 %; about 2 months in 1,000 lie outside by luck. settling-type reasons.',
          inWords: 'Outside their limits: 2026-07 (8 of 40, 20 % (10 to 35 %)).',
        },
      }}
    />
  ),
  'lens-pairs': () => (
    <LensPairsPage
      shell={shell('The pairs behind a number', '/lens-designs')}
      view={{
        what: 'compact 13: 14 of 62, 23 % (14 to 34 %); worse than the rest (13 of 256 of all others, 3 to 8.5 %).',
        count: '14 pairs behind the number, of 62 that it is out of.',
        method:
          'Ripe pairs (out 60 days or longer), remade, exchanged, refunded, settling-type reasons; Wilson 95 %.',
        backHref: '/lens-designs?by=design&reasons=settling',
        lines: [
          line(2071, 'remade in the same design', 'measured'),
          line(2064, 'exchanged', 'settling'),
          line(2058, 'refunded', 'settling'),
        ],
        more: 11,
      }}
    />
  ),
  'lens-pairs-none-counted': () => (
    <LensPairsPage
      shell={shell('The pairs behind a number', '/lens-designs')}
      view={{
        what: 'balanced 17: none of 84 (up to 4.4 % would not surprise); like the rest.',
        count: 'None of these 84 pairs is counted; all of them:',
        method: 'Ripe pairs (out 60 days or longer), settling-type reasons; Wilson 95 %.',
        backHref: '/lens-designs',
        lines: [line(2049, 'settled', ''), line(2041, 'still followed', '')],
        more: 0,
      }}
    />
  ),
};
