import { CallSheetPage } from '../../../dashboard/call-sheet/page.tsx';
import { ClaimsPage } from '../../../dashboard/claims/page.tsx';
import { FindPage } from '../../../dashboard/find/page.tsx';
import { LensBookPage } from '../../../dashboard/lens-book/page.tsx';
import { LensDesignsPage } from '../../../dashboard/lens-designs/page.tsx';
import type { LensDesignsView, RateLine } from '../../../dashboard/lens-designs/view.ts';
import { LettersPage } from '../../../dashboard/letters/page.tsx';
import { LogPage } from '../../../dashboard/log/page.tsx';
import { PeoplePage } from '../../../dashboard/people/page.tsx';
import { RingListPage } from '../../../dashboard/ring-list/page.tsx';
import { ShopPage } from '../../../dashboard/shop/page.tsx';
import { WordsPage } from '../../../dashboard/words/page.tsx';
import { trayFull } from './others.tsx';
import { shell, words } from './shop.ts';

const lineAt = (n: number) => {
  const wide = 1.96 * Math.sqrt((0.06 * 0.94) / n);
  const wider = 3.09 * Math.sqrt((0.06 * 0.94) / n);
  return {
    n,
    low95: Math.max(0, 0.06 - wide),
    high95: 0.06 + wide,
    low998: Math.max(0, 0.06 - wider),
    high998: 0.06 + wider,
  };
};

const rate = (more: Partial<RateLine>): RateLine => ({
  group: 'soft 15',
  href: '/lens-designs/pairs?by=design&group=soft+15',
  ripe: 160,
  back: 9,
  rate: '6 %',
  interval: '3 to 10 %',
  shrunken: '6 %',
  chanceWorse: '4 in 10',
  verdict: 'like the rest',
  followed: '151 of 160',
  by30: '3 %',
  by60: '5 %',
  by90: '6 %',
  ...more,
});

export const designsFull: LensDesignsView = {
  groupings: [
    { value: 'design', words: 'lens design' },
    { value: 'lab', words: 'lab' },
    { value: 'measuredBy', words: 'who measured' },
  ],
  by: 'design',
  reasons: 'settling',
  denominator:
    'Of 412 pairs handed over in the last year 371 could be followed (90 %); 318 are ripe (90 days old).',
  tooFew: null,
  behind: '',
  month: [
    {
      sentence: 'Shallow frames with compact 13 came back 14 of 62 times (23 %, 14 to 34 %), the rest 5 %.',
      href: '/lens-designs/pairs?by=design&group=compact+13',
    },
  ],
  rates: [
    rate({
      group: 'compact 13',
      ripe: 62,
      back: 14,
      rate: '23 %',
      interval: '14 to 34 %',
      shrunken: '18 %',
      chanceWorse: 'more than 99 in 100',
      verdict: 'worse than the rest',
    }),
    rate({}),
    rate({
      group: 'balanced 17',
      ripe: 84,
      back: 3,
      rate: '4 %',
      interval: '1 to 10 %',
      chanceWorse: '2 in 10',
    }),
    rate({
      group: 'office room',
      ripe: 12,
      back: 1,
      rate: 'too few to say',
      interval: '',
      shrunken: '',
      chanceWorse: '',
      verdict: 'too few to say',
    }),
  ],
  looks: 'Four groups looked at; adjusted for that by Holm',
  strips: {
    shop: 0.06,
    rows: [
      {
        group: 'compact 13',
        rate: 0.226,
        low: 0.14,
        high: 0.344,
        drawn: 0.18,
        verdict: 'worse than the rest',
        sentence:
          'compact 13: 14 of 62, 23 % (14 to 34 %); worse than the rest (13 of 256 of all others, 3 to 8.5 %).',
        chanceWorse: 'more than 99 in 100',
        href: '/lens-designs/pairs?part=group&key=compact+13',
      },
      {
        group: 'soft 15',
        rate: 0.056,
        low: 0.03,
        high: 0.103,
        drawn: 0.058,
        verdict: 'like the rest',
        sentence:
          'soft 15: 9 of 160, 5.6 % (3 to 10 %); like the rest (18 of 158 of all others, 7.3 to 17 %).',
        chanceWorse: '4 in 100',
        href: '/lens-designs/pairs?part=group&key=soft+15',
      },
    ],
  },
  months: null,
  funnel: {
    centre: 0.06,
    points: [
      {
        group: 'compact 13',
        n: 62,
        rate: 0.226,
        verdict: 'worse than the rest',
        sentence: 'compact 13: 14 of 62 (23 %)',
        href: '/lens-designs/pairs?part=group&key=compact+13',
      },
      {
        group: 'soft 15',
        n: 160,
        rate: 0.056,
        verdict: 'like the rest',
        sentence: 'soft 15: 9 of 160 (6 %)',
        href: '/lens-designs/pairs?part=group&key=soft+15',
      },
      {
        group: 'balanced 17',
        n: 84,
        rate: 0.036,
        verdict: 'like the rest',
        sentence: 'balanced 17: 3 of 84 (4 %)',
        href: '/lens-designs/pairs?part=group&key=balanced+17',
      },
      {
        group: 'office room',
        n: 12,
        rate: 0.083,
        verdict: 'too few to say',
        sentence: 'office room: 1 of 12, too few to say',
        href: '/lens-designs/pairs?part=group&key=office+room',
      },
    ],
    lines: [5, 10, 20, 40, 60, 80, 120, 160].map(lineAt),
    caption:
      'Middle line: the shop, 6 % of 318 ripe pairs. Inner band: luck alone keeps 95 of 100 such groups inside; outer band: 998 of 1,000.',
    inWords: 'compact 13 stands above the outer band; the others are inside.',
  },
  drift: {
    points: Array.from({ length: 90 }, (_, index) => ({
      on: `pair ${index + 1}`,
      back: index % 17 === 0 || (index > 70 && index % 4 === 0),
      evidence: index < 70 ? Math.max(0, 0.25 - (index % 17) * 0.02) : Math.min(1.1, (index - 70) * 0.06),
    })),
    alarms: [
      {
        on: '14 Aug',
        point: 88,
        words: 'the line was crossed after 88 pairs',
        href: '/lens-designs/pairs?part=drift&key=at+87',
      },
    ],
    nowHref: '/lens-designs/pairs?part=drift&key=at+89',
    baselineHref: '/lens-designs/pairs?part=drift&key=baseline',
    caption:
      'With nothing wrong one false alarm in 1,500 pairs; a doubling is noticed after about 60 pairs, 70 days.',
    sentence: 'The rate has gone up since July.',
  },
  adapt: ['soft 15', 'balanced 17', 'compact 13'].map((group, index) => ({
    group,
    steps: [
      {
        day: 7,
        settled: 0.3 - index * 0.05,
        settledLow: 0.22,
        settledHigh: 0.4,
        back: 0.01 * index,
        atRisk: 120,
      },
      {
        day: 14,
        settled: 0.62 - index * 0.1,
        settledLow: 0.4,
        settledHigh: 0.7,
        back: 0.03 * (index + 1),
        atRisk: 80,
      },
      {
        day: 30,
        settled: 0.85 - index * 0.12,
        settledLow: 0.6,
        settledHigh: 0.9,
        back: 0.06 * (index + 1),
        atRisk: 30,
      },
    ],
    medianWords: 'half settled by day 14',
    sentence: `${group}: 62 % settled by day 14.`,
    href: `/lens-designs/pairs?group=${index}`,
  })),
  adaptUnder: 'Seen on days 7, 14 and 30 only.',
  causes: [
    { sentence: 'Settling: 11 of 27 (41 %, 25 to 59 %).', href: '/lens-designs/pairs?reason=settling' },
  ],
  suggestionRight: [
    { sentence: 'The leading cause was right in 19 of 24 made sure of (79 %, 60 to 91 %).', href: null },
  ],
  money: [{ sentence: 'Borne by the shop: $1,416. Lab credits promised $960, received $720.', href: null }],
  notCounted: ['postage for each return'],
  bias: [
    {
      sentence: 'Our photo heights run 1.1 mm low (0.6 to 1.6, 23 pairs).',
      href: '/lens-designs/pairs?bias=photo',
      warning: {
        what: 'fitting height',
        how: 'photo',
        on: false,
        words:
          'Warn at order when a job is measured like this (photo): check the fitting height again, it has run 1.1 mm low.',
      },
    },
  ],
  biasUnder:
    'Mostly pairs in trouble are measured again, so the lean of all our measurements is likely smaller.',
  compare: {
    groups: ['soft 15', 'balanced 17', 'compact 13'],
    first: 'soft 15',
    second: 'compact 13',
    says: [
      {
        sentence: 'compact 13 less soft 15: 17 points (7 to 29). About 0 more pairs are needed to know.',
        href: null,
      },
    ],
  },
};

export const bookStories = {
  'ring-list': () => (
    <RingListPage
      shell={shell('Ring list', '/ring-list')}
      view={{
        rows: [
          {
            ringId: 'r-1',
            wearer: 'Lee Marsh',
            wearerHref: '/wearers/w-marsh',
            phone: '+1 303 555 0188',
            localTime: '10:42 their time',
            civil: true,
            why: 'Asked to be rung, today 9:12: “please call”',
            promisedBy: 'Promised by today 12:00',
            overdue: false,
            attempts: ['today 9:30 no answer, Tom Reyes'],
            writeInstead: null,
          },
          {
            ringId: 'r-2',
            wearer: 'Noemí Lima Echeverría',
            wearerHref: '/wearers/w-lima',
            phone: '+1 808 555 0123',
            localTime: '6:42 their time',
            civil: false,
            why: 'Posted ten days ago, no word',
            promisedBy: 'Was promised by yesterday 17:00',
            overdue: true,
            attempts: [
              'Wed 15:10 no answer, Tom Reyes',
              'Tue 11:00 left name and number, Ana Brook',
              'Mon 16:20 no answer, Ana Brook',
            ],
            writeInstead: 'Three times without speaking: write a letter or an email.',
          },
          {
            ringId: 'r-3',
            wearer: 'Walter Pym',
            wearerHref: '/wearers/w-pym',
            phone: null,
            localTime: '10:42 their time',
            civil: true,
            why: 'Day 3; likes to be rung',
            promisedBy: '',
            overdue: false,
            attempts: [],
            writeInstead: null,
          },
        ],
      }}
    />
  ),
  'ring-list-empty': () => <RingListPage shell={shell('Ring list', '/ring-list')} view={{ rows: [] }} />,
  'call-sheet': () => (
    <CallSheetPage
      shell={shell('Call: Lee Marsh', '/ring-list')}
      view={{
        ringId: 'r-1',
        caseId: 'c-marsh',
        wearer: 'Lee Marsh',
        phone: '+1 303 555 0188',
        localTime: '10:42 their time',
        pair: 'First multifocal, soft 15; day 6',
        why: 'Asked to be rung, promised by 12:00',
        listenFor: [
          'new flashes, many new specks, a curtain or shadow',
          'sudden loss of sight or double sight',
          'a painful red eye',
          'a fall, or a near miss at the wheel',
        ],
        opening: 'This is Ana from Harbour Lane Spectacles, about your new glasses. Is it a good moment?',
        lastWords: {
          words: words('please call, reading is hopeless', [
            ['reading is hopeless', 'close print is not clear'],
          ]),
          when: 'today 9:12, by text',
        },
        question: {
          id: 'nearer-or-farther',
          text: 'Does print clear if you bring it nearer, or farther away?',
          answers: [
            { key: 'a', words: 'nearer' },
            { key: 'b', words: 'farther' },
            { key: 'c', words: 'neither' },
          ],
        },
        voiceMessage:
          'On a voice message only our name and number: “Harbour Lane Spectacles, please ring +1 303 555 0100.”',
        attempts: ['today 9:30 no answer, Tom Reyes'],
      }}
    />
  ),
  'lens-designs': () => <LensDesignsPage shell={shell('Lens designs', '/lens-designs')} view={designsFull} />,
  'lens-designs-empty': () => (
    <LensDesignsPage
      shell={shell('Lens designs', '/lens-designs')}
      view={{
        ...designsFull,
        denominator: 'Of 6 pairs handed over 6 could be followed; none is ripe yet.',
        behind: '',
        strips: null,
        months: null,
        tooFew:
          'Too few to say anything yet: a pair is ripe 90 days after hand-over, and a group needs 20 ripe pairs.',
        month: [],
        rates: [],
        funnel: null,
        drift: null,
        adapt: [],
        causes: [],
        suggestionRight: [],
        money: [],
        notCounted: [],
        bias: [],
        compare: { groups: [], first: '', second: '', says: [] },
      }}
    />
  ),
  'lens-book': () => (
    <LensBookPage
      shell={shell('Lens book', '/lens-book')}
      view={{
        designs: [
          {
            designId: 'd-1',
            name: 'soft 15',
            kind: 'multifocal',
            corridor: '15 mm, from the cross to 85 % of the add',
            minimumHeight: '17 mm',
            index: '1.60',
            abbe: '41',
            lightReactive: 'ordinary grade, 88 % clear, 15 % dark at 23 °C',
            source: 'invented starter design',
            jobs: 41,
          },
          {
            designId: 'd-2',
            name: 'plain reader',
            kind: 'single vision',
            corridor: '',
            minimumHeight: '',
            index: '1.50',
            abbe: '',
            lightReactive: '',
            source: 'invented starter design',
            jobs: 0,
          },
        ],
        labs: [
          {
            labId: 'l-1',
            name: 'Lab in the next town (invented)',
            terms: ['settling: 60 days from its invoice, once', 'made wrong: 180 days from its invoice'],
          },
          { labId: 'l-2', name: 'Second lab (invented)', terms: [] },
        ],
        kinds: [
          { value: 'progressive', words: 'multifocal' },
          { value: 'single vision', words: 'single vision' },
        ],
        refused: 'design',
        values: { name: 'short 11', corridor_mm: '110' },
        troubles: [{ field: 'corridor_mm', text: 'Corridor 110 mm: allowed 6 to 25 mm.' }],
      }}
    />
  ),
  claims: () => (
    <ClaimsPage
      shell={shell('Claims on labs', '/lens-book')}
      view={{
        lines: [
          {
            jobId: 'j-1',
            jobHref: '/jobs/j-1',
            jobNumber: '20731',
            wearer: 'Ida Quill',
            lab: 'Lab in the next town (invented)',
            stands: 'asked Mon 24 Aug for settling; lenses to go back by Mon 31 Aug',
            reminder: 'The lenses have to be on their way by Mon 31 Aug: 4 days left.',
            steps: ['sent', 'promised', 'credited'],
          },
          {
            jobId: 'j-2',
            jobHref: '/jobs/j-2',
            jobNumber: '20744',
            wearer: 'Otto Lind',
            lab: '',
            stands: 'nothing asked yet',
            reminder: null,
            steps: ['asked'],
          },
        ],
        refused: 'j-1',
        values: { what: 'promised', amount: 'some' },
        troubles: [{ field: 'amount', text: '“some” is no amount. Write 0 to 10000; 0 where they refuse.' }],
      }}
    />
  ),
  'claims-empty': () => (
    <ClaimsPage
      shell={shell('Claims on labs', '/lens-book')}
      view={{ lines: [], refused: null, values: {}, troubles: [] }}
    />
  ),
  words: () => (
    <WordsPage
      shell={shell('Words', '/words')}
      view={{
        tried: 'They slide down all day but reading is fine',
        locale: 'en',
        asked: 'check-in',
        reading: {
          words: words('They slide down all day but reading is fine', [['slide down all day', 'slips down']]),
          labels: [{ id: 'slipping', means: 'slips down', passages: ['slide down all day'] }],
          asks: [],
          urgent: false,
          stop: false,
          would: ['Opens a case', 'Answered with “thank you for telling us. One short question comes next.”'],
        },
        labelGroups: trayFull.labelGroups,
        corrections: [
          {
            when: '26 Aug',
            by: 'Ana Brook',
            words: 'they are a bit much on my ears',
            lang: 'en',
            before: [],
            after: ['pinches or rubs'],
            why: 'ears',
          },
        ],
        sorterVersion: '3',
        kept: {
          ending: 'or shall we ring you?',
          otherHref: '/words?locale=es#kept',
          otherWords: 'The Spanish ones.',
          answers: [
            {
              ask: 'cleaning',
              about: 'How do I clean them?',
              own: '',
              ours: 'warm water, a drop of mild soap, a clean cloth. Try that, or shall we ring you?',
              trouble: null,
            },
            {
              ask: 'returns',
              about: 'May I bring them back?',
              own: 'bring them back within 30 days',
              ours: '',
              trouble: 'It makes 2 parts of a text; at most 1 may go. Say it in fewer words.',
            },
          ],
        },
      }}
    />
  ),
  letters: () => (
    <LettersPage
      shell={shell('Letters', '/letters')}
      view={{
        pages: [
          {
            name: 'Answer',
            href: '/letters/pages/answer?lang=en',
            opens: 'from a check-in: five taps, own words, a photo',
          },
          { name: 'No more messages', href: '/letters/pages/stop?lang=en', opens: 'from every email' },
        ],
        withLinks: false,
        locale: 'en',
        channel: 'all',
        cannot: ['The caution cannot be written: no local help numbers are set.'],
        groups: [
          {
            name: 'Asked without being asked',
            letters: [
              {
                name: 'Day 3, the first message',
                channel: 'text',
                subject: '',
                body: 'Harbour Lane Spectacles: how are your new glasses? Answer 1 seeing well, 2 getting there, 3 something is not right, 4 not wearing them, 5 please ring me, or just tell us in your own words. STOP ends these texts.',
                templateId: 'check-in/text',
                templateVersion: 'en-1',
                size: '2 parts, 214 characters',
                goes: 'Day 3 of wear, at a civil hour',
              },
              {
                name: 'Day 3, the first message',
                channel: 'email',
                subject: 'How are your new glasses?',
                body: 'Hello Ida,\n\nYou have had your new glasses for a few days now. How do you get on with them?',
                templateId: 'check-in/email',
                templateVersion: 'en-1',
                size: '',
                goes: 'Day 3 of wear, at a civil hour',
              },
            ],
          },
        ],
      }}
    />
  ),
  shop: () => (
    <ShopPage
      shell={shell('Shop', '/shop')}
      view={{
        before: [
          {
            words: 'Public address: tried and comes here, or done without on purpose',
            done: true,
            href: '#try',
          },
          { words: 'Number that texts come from: the carrier lets us in', done: false, href: '#try' },
          { words: 'Mailbox: emails out and in let us in', done: true, href: '#try' },
          { words: 'Local help numbers: without them no caution can be sent', done: false, href: '#danger' },
          {
            words: 'Someone on call who can be reached by a carrier that is set',
            done: true,
            href: '/people',
          },
          { words: 'Opening hours', done: true, href: '#hours' },
          { words: 'The words in which you ask for consent, read', done: false, href: '#consent' },
          {
            words: 'A licensed person: remakes and notes to prescribers are signed',
            done: true,
            href: '/people',
          },
          {
            words: 'A backup made and opened again: run “afterfit backup”',
            done: false,
            href: '#backup',
          },
        ],
        consentWords:
          'May Harbour Lane Spectacles write to you about your new glasses? You can end the messages at any time.',
        mayGoLive: false,
        sections: [
          {
            id: 'shop',
            heading: 'The shop',
            says: 'As wearers know it.',
            fields: [
              { name: 'phone', label: 'Number that wearers may ring', hint: '', kind: 'tel', choices: [] },
              {
                name: 'locale',
                label: 'Language',
                hint: '',
                kind: 'choice',
                choices: [
                  { value: 'en', words: 'English' },
                  { value: 'es', words: 'Spanish' },
                ],
              },
            ],
          },
          {
            id: 'danger',
            heading: 'When someone may be in danger',
            says: 'The caution names these; check them against your local services.',
            fields: [
              {
                name: 'local_numbers',
                label: 'Local help, one to a line',
                hint: 'who: number',
                kind: 'lines',
                choices: [],
              },
            ],
          },
          {
            id: 'costs',
            heading: 'Costs',
            says: 'Empty means not counted.',
            fields: [
              {
                name: 'lenses_per_remake',
                label: 'Lenses for a remake',
                hint: '',
                kind: 'number',
                choices: [],
              },
              { name: 'weekend', label: 'Open on Saturdays', hint: '', kind: 'tick', choices: [] },
            ],
          },
        ],
        values: { phone: '+1 303 555 0100', lenses_per_remake: 'a lot' },
        troubles: [
          { field: 'lenses_per_remake', text: '“a lot” is not an amount. Write 118 or leave it empty.' },
        ],
        ways: [
          { name: 'Text', stands: 'rehearsal: nothing leaves' },
          { name: 'Email', stands: 'rehearsal: nothing leaves' },
        ],
        powerCut:
          'Replies are safe: each is forced to disk before it counts as received. Of other work the last moments may be lost, and if the database itself were damaged, all since the copy of today 09:58. Keep a backup elsewhere: afterfit backup.',
      }}
    />
  ),
  people: () => (
    <PeoplePage
      shell={shell('People', '/people')}
      view={{
        people: [
          {
            personId: 'p-1',
            name: 'Ana Brook',
            email: 'ana@example.org',
            phone: '+1 303 555 0101',
            role: 'owner',
            licence: 'licensed until 30 Jun 2027',
            onCall: 1,
            active: true,
          },
          {
            personId: 'p-2',
            name: 'Tom Reyes',
            email: '',
            phone: '',
            role: 'staff',
            licence: 'not licensed',
            onCall: null,
            active: false,
          },
        ],
        onCallTrouble: 'Only one person is on call: when she does not answer, nobody else is told.',
        values: {},
        troubles: [],
      }}
    />
  ),
  log: () => (
    <LogPage
      shell={shell('Log', '/log')}
      view={{
        about: 'all',
        abouts: [
          { value: 'all', words: 'everything' },
          { value: 'unsure', words: 'our messages that may not have arrived' },
        ],
        lines: [
          {
            at: 'today 10:41',
            by: 'Tom Reyes',
            act: 'held the case',
            subject: 'Ida Quill',
            href: '/cases/c-quill',
            detail: '',
          },
          {
            at: 'Fri 21 Aug 10:00',
            by: 'Afterfit',
            act: 'text handed over',
            subject: 'Ida Quill',
            href: '/wearers/w-quill',
            detail: 'day 3 question, delivered 10:01',
          },
        ],
        olderHref: '/log?page=2',
      }}
    />
  ),
  find: () => (
    <FindPage
      shell={shell('Find', '')}
      view={{ q: 'lind', hits: [{ href: '/wearers/w-1', name: 'Otto Lind', detail: 'day 12, job 20711' }] }}
    />
  ),
  'find-nothing': () => <FindPage shell={shell('Find', '')} view={{ q: '<zz>', hits: [] }} />,
};
