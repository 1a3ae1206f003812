import { DeliveriesPage } from '../../../dashboard/deliveries/page.tsx';
import { DeliveryFormPage } from '../../../dashboard/delivery-form/page.tsx';
import type { JobField } from '../../../dashboard/delivery-form/view.ts';
import { DeliveryImportPage } from '../../../dashboard/delivery-import/page.tsx';
import { JobPage } from '../../../dashboard/job/page.tsx';
import type { JobView } from '../../../dashboard/job/view.ts';
import { RehearsalPage } from '../../../dashboard/rehearsal/page.tsx';
import { TrayPage } from '../../../dashboard/tray/page.tsx';
import type { TrayItem, TrayView } from '../../../dashboard/tray/view.ts';
import { TroublePage } from '../../../dashboard/trouble/page.tsx';
import { WearerPage } from '../../../dashboard/wearer/page.tsx';
import { WearerRecordsPage } from '../../../dashboard/wearer-records/page.tsx';
import { WearersPage } from '../../../dashboard/wearers/page.tsx';
import type { WearerLine } from '../../../dashboard/wearers/view.ts';
import { WelcomePage } from '../../../dashboard/welcome/page.tsx';
import { lensPicture } from './case.tsx';
import { shell, trace, words } from './shop.ts';

const item: TrayItem = {
  inboundId: 'i-1',
  from: '+1 303 555 0188',
  channel: 'by text',
  came: 'today 9:12',
  words: words('Left side of my face went a bit numb reading last night, glasses ok', [
    ['numb', 'weighty words', 'left over'],
  ]),
  why: 'These words weigh and nothing accounts for them: “numb”.',
  danger: false,
  wearer: { name: 'Lee Marsh', href: '/wearers/w-marsh', caseHref: '/cases/c-marsh' },
  candidates: [],
  find: '',
  labels: ['settled'],
  pictures: [],
};

/** One grey dot as a PNG, in place of a wearer's picture. */
const DOT =
  'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfz0AEYBxVSF+FAAhKDveksOjmAAAAAElFTkSuQmCC';

export const trayFull: TrayView = {
  items: [
    {
      ...item,
      inboundId: 'i-0',
      danger: true,
      why: 'A danger sign and nobody known on this number.',
      wearer: null,
      words: words('flashes in my eye', [['flashes in my eye', 'flashes', 'danger']]),
    },
    item,
    {
      ...item,
      inboundId: 'i-2',
      wearer: null,
      words: words('<b>Hi</b> it is about the "new" glasses & the bill', []),
      why: 'Two wearers share this number and both have a pair under 60 days.',
      candidates: [
        { wearerId: 'w-1', name: 'Otto Lind', detail: 'day 12, job 20711' },
        { wearerId: 'w-2', name: 'Greta Lind', detail: 'day 3, job 20745' },
      ],
      labels: [],
    },
    {
      ...item,
      inboundId: 'i-3',
      wearer: null,
      from: 'someone@example.org',
      channel: 'by email',
      words: words(''),
      pictures: [
        { href: DOT, words: 'picture 1' },
        { href: null, words: 'picture 2: not kept, too large' },
      ],
      why: 'A picture and no words, from an unknown address.',
      find: 'lind',
      labels: [],
    },
  ],
  labelGroups: [
    {
      name: 'Multifocal lenses',
      labels: [
        { id: 'swim', means: 'surroundings sway' },
        { id: 'near-too-low', means: 'reading part too far down' },
      ],
    },
    {
      name: 'How it is going',
      labels: [
        { id: 'settled', means: 'used to them, sees well' },
        { id: 'getting-there', means: 'not there yet but better' },
      ],
    },
    {
      name: 'Danger',
      labels: [
        { id: 'urgent-eye', means: 'danger sign of the eye' },
        { id: 'fall-or-injury', means: 'a fall or an injury' },
      ],
    },
  ],
};

const line = (more: Partial<WearerLine>): WearerLine => ({
  href: '/wearers/w-1',
  name: 'Ida Quill',
  day: 9,
  pair: 'first multifocal, soft 15',
  standing: 'answered day 9: reading part too far down',
  caseHref: '/cases/c-quill',
  marks: [
    { day: 3, kind: 'sent', words: 'day 3, Fri 21 Aug: sent' },
    { day: 3, kind: 'trouble', words: 'day 3, Fri 21 Aug: “lift my chin up to read”' },
    { day: 7, kind: 'sent', words: 'day 7, Tue 25 Aug: sent' },
    { day: 9, kind: 'answered', words: 'day 9: answered b' },
    { day: 14, kind: 'planned', words: 'day 14 planned' },
    { day: 30, kind: 'planned', words: 'day 30 planned' },
  ],
  stretches: [
    { fromDay: 0, toDay: 3, kind: 'wearing' },
    { fromDay: 3, toDay: 9, kind: 'trouble' },
  ],
  ...more,
});

const wearerLines: readonly WearerLine[] = [
  line({
    name: 'Ruth Hale',
    day: 5,
    standing: 'danger sign today',
    marks: [
      { day: 3, kind: 'answered', words: 'day 3: seeing well' },
      { day: 5, kind: 'danger', words: 'day 5: danger sign' },
    ],
    stretches: [{ fromDay: 0, toDay: 5, kind: 'wearing' }],
  }),
  line({}),
  line({
    name: 'Sam Okoro',
    day: 22,
    caseHref: null,
    standing: 'settled since day 14',
    marks: [
      { day: 3, kind: 'answered', words: 'day 3' },
      { day: 7, kind: 'sent', words: 'day 7' },
      { day: 10, kind: 'rang', words: 'day 10: spoke' },
      { day: 12, kind: 'act', words: 'day 12: adjusted' },
      { day: 14, kind: 'settled', words: 'day 14: settled' },
      { day: 30, kind: 'planned', words: 'day 30 planned' },
    ],
    stretches: [
      { fromDay: 0, toDay: 7, kind: 'wearing' },
      { fromDay: 7, toDay: 12, kind: 'trouble' },
      { fromDay: 12, toDay: 14, kind: 'wearing' },
      { fromDay: 14, toDay: 22, kind: 'settled' },
    ],
  }),
  line({
    name: 'Petra Voss',
    day: 11,
    standing: 'back in the old pair',
    marks: [
      { day: 3, kind: 'may not have arrived', words: 'day 3: may not have arrived' },
      { day: 7, kind: 'trouble', words: 'day 7: slides' },
    ],
    stretches: [
      { fromDay: 0, toDay: 7, kind: 'wearing' },
      { fromDay: 7, toDay: 11, kind: 'not worn' },
    ],
  }),
  line({
    name: 'Noemí Lima Echeverría',
    day: null,
    caseHref: null,
    standing: 'posted Tue, not arrived yet',
    marks: [],
    stretches: [],
  }),
];

const field = (name: string, label: string, more: Partial<JobField> = {}): JobField => ({
  name,
  label,
  unit: '',
  range: '',
  kind: 'text',
  choices: [],
  needed: false,
  eyes: false,
  hint: '',
  ...more,
});

const sections = [
  {
    heading: 'The job',
    fields: [
      field('job_number', 'Job number'),
      field('name', 'Name of the wearer', { needed: true }),
      field('phone', 'Telephone', { kind: 'tel' }),
      field('email', 'Email', { kind: 'email' }),
      field('consent', 'May be written to', {
        kind: 'choice',
        choices: [
          { value: 'none', words: 'not asked' },
          { value: 'text', words: 'by text' },
          { value: 'email', words: 'by email' },
          { value: 'both', words: 'by both' },
        ],
      }),
      field('handed_over_on', 'Handed over on', {
        kind: 'date',
        hint: 'Leave empty if the pair is still to come.',
      }),
      field('lens_design', 'Lens design', { needed: true }),
      field('first_multifocal', 'First multifocal', {
        kind: 'choice',
        choices: [
          { value: '', words: 'not known' },
          { value: 'yes', words: 'yes' },
          { value: 'no', words: 'no' },
        ],
      }),
    ],
  },
  {
    heading: 'Powers ordered',
    fields: [
      field('order_sphere', 'Sphere', { unit: 'D', range: '−30 to +30', kind: 'number', eyes: true }),
      field('order_add', 'Add', { unit: 'D', range: '0.50 to 4.00', kind: 'number', eyes: true }),
    ],
  },
  {
    heading: 'Place on the face',
    fields: [
      field('fitting_height', 'Fitting height', { unit: 'mm', range: '8 to 40', kind: 'number', eyes: true }),
    ],
  },
];

export const jobFull: JobView = {
  jobId: 'j-20731',
  jobNumber: '20731',
  wearer: { name: 'Ida Quill', href: '/wearers/w-quill' },
  pair: 'first multifocal, soft 15, light-reactive',
  way: 'counter',
  dates: [
    { which: 'ordered', name: 'ordered', on: 'Tue 11 Aug', canSet: false },
    { which: 'lab_invoiced', name: 'invoiced by the lab', on: '', canSet: true },
    { which: 'received', name: 'received', on: 'Mon 17 Aug', canSet: true },
    { which: 'handed_over', name: 'handed over', on: '', canSet: false },
    { which: 'first_worn', name: 'first worn', on: '', canSet: false },
  ],
  facts: [
    { name: 'Sphere', unit: 'D', right: '+1.25', left: '+1.50', both: '', from: 'order' },
    {
      name: 'Fitting height',
      unit: 'mm',
      right: '18.0',
      left: '19.5',
      both: '',
      from: 'order, pen and ruler, Tom Reyes',
    },
    { name: 'Box width', unit: 'mm', right: '', left: '', both: '52', from: 'frame' },
  ],
  factKinds: [
    { heading: 'Read at the bench', kinds: [{ key: 'made_height_mm', name: 'Fitting height, checked, mm' }] },
    { heading: 'Frame', kinds: [{ key: 'frame_a_mm', name: 'Frame A, mm' }] },
  ],
  expect: [
    { words: 'First multifocal with a high add:', number: 'add +2.00 D, from +2.00', trace },
    { words: 'The frame is shallow for this design:', number: 'height 18.0 mm, the design asks 17', trace },
  ],
  check: [
    {
      name: 'R sphere',
      ordered: '+1.25',
      asWorn: '+1.18',
      read: '+1.25',
      allowed: '±0.13 D',
      margin: '0.06 D',
      verdict: 'pass',
      trace,
    },
    {
      name: 'L axis',
      ordered: '95',
      asWorn: '95',
      read: '101',
      allowed: '±5°',
      margin: '−1°',
      verdict: 'out',
      trace,
    },
    {
      name: 'R prism',
      ordered: '0',
      asWorn: '',
      read: '0.2',
      allowed: '',
      margin: '',
      verdict: 'cannot judge',
      trace: null,
    },
  ],
  noCheck: '',
  checkVerdict: 'One of three is out: left axis. Hold it before it leaves.',
  picture: lensPicture,
  handOver: {
    today: '2026-08-27',
    consentWords:
      'May we ask you in the next weeks, by text or email, how the new glasses are going? You can stop it at any time by answering STOP.',
    hasPhone: true,
    hasEmail: false,
  },
  handedOver: '',
  papers: [
    { words: 'Hand-over sheet', href: '/jobs/j-20731/hand-over-sheet' },
    { words: 'Bench-check slip', href: '/jobs/j-20731/slip' },
  ],
  caseHref: null,
  values: {},
  troubles: [],
};

const question =
  'Harbour Lane Spectacles: how are your new glasses? Answer 1 seeing well, 2 getting there, 3 something is not right, 4 not wearing them, 5 please ring me, or just tell us in your own words. STOP ends these texts.';

export const otherStories = {
  'tray-full': () => <TrayPage shell={shell('Tray', '/tray', { dangerCount: 1 })} view={trayFull} />,
  'tray-empty': () => <TrayPage shell={shell('Tray', '/tray')} view={{ ...trayFull, items: [] }} />,
  'wearers-full': () => (
    <WearersPage
      shell={shell('Wearers', '/wearers')}
      view={{
        lines: wearerLines,
        q: '',
        show: 'settling',
        range: '1–5 of 5',
        nextHref: null,
        previousHref: null,
      }}
    />
  ),
  'wearers-empty': () => (
    <WearersPage
      shell={shell('Wearers', '/wearers')}
      view={{ lines: [], q: '', show: 'settling', range: 'none', nextHref: null, previousHref: null }}
    />
  ),
  'wearer-records': () => (
    <WearerRecordsPage
      shell={shell('Records of Petra Voss', '/wearers')}
      view={{
        wearerId: 'w-voss',
        name: 'Petra Voss',
        asksPassword: true,
        kinds: [
          { words: 'wearer', count: 1 },
          { words: 'job', count: 2 },
          { words: 'fact', count: 34 },
          { words: 'message', count: 12 },
          { words: 'inbound', count: 5 },
          { words: 'case event', count: 9 },
        ],
        troubles: [
          { field: 'name', text: 'That is not the name on record. Type “Petra Voss” to erase all of it.' },
        ],
      }}
    />
  ),
  'wearer-full': () => (
    <WearerPage
      shell={shell('Ida Quill', '/wearers')}
      view={{
        wearerId: 'w-quill',
        name: 'Ida Quill',
        localTime: '10:42 their time',
        zone: { zones: ['America/Denver', 'America/Phoenix'], how: 'by state only' },
        timeZones: ['America/Denver', 'America/Phoenix', 'America/New_York'],
        prefers: 'text',
        contacts: [
          {
            channel: 'text',
            address: '+1 303 555 0117',
            consent: 'yes, at hand-over 18 Aug, asked by Ana Brook',
            sharedWith: ['Otto Lind'],
            unusable: null,
            canStop: true,
          },
          {
            channel: 'email',
            address: 'ida.quill@example.org',
            consent: 'stopped 20 Aug: “no more mails please”',
            sharedWith: [],
            unusable: 'refused by its server',
            canStop: false,
          },
        ],
        pairs: [
          {
            words: 'first multifocal, soft 15',
            jobHref: '/jobs/j-20731',
            jobNumber: '20731',
            day: 9,
            firstWorn: 'first worn Tue 18 Aug',
            outcome: null,
            caseHref: '/cases/c-quill',
            marks: wearerLines[1]!.marks,
            stretches: wearerLines[1]!.stretches,
            planned: ['day 14, Tue 1 Sep about 10:00 their time'],
            plan: 'running',
          },
        ],
        said: [
          {
            when: 'today 9:58',
            who: 'Ida Quill',
            text: 'b. The bottom of the page is still hazy',
            lang: 'en',
          },
        ],
        troubles: [],
      }}
    />
  ),
  'deliveries-full': () => (
    <DeliveriesPage
      shell={shell('Deliveries', '/deliveries')}
      view={{
        lines: [
          {
            jobHref: '/jobs/1',
            jobNumber: '20744',
            wearer: 'Cleo Barr',
            pair: 'multifocal, balanced 17',
            way: 'by post',
            state: 'received today, to be bench-checked',
            next: { words: 'Bench check', href: '/jobs/1' },
            silent: null,
          },
          {
            jobHref: '/jobs/2',
            jobNumber: '20745',
            wearer: 'Greta Lind',
            pair: 'first multifocal, soft 15',
            way: 'at the counter',
            state: 'on the shelf since Mon',
            next: { words: 'Hand over', href: '/jobs/2' },
            silent: 'no number and no address: never messaged',
          },
          {
            jobHref: '/jobs/3',
            jobNumber: '20750',
            wearer: 'Hugo Santangelo-Whitworth',
            pair: 'single vision, light-reactive',
            way: 'at the counter',
            state: 'ordered 24 Aug',
            next: null,
            silent: null,
          },
        ],
        q: '',
        show: 'open',
        range: '1–3 of 3',
        nextHref: null,
        previousHref: null,
        silentCount: 1,
      }}
    />
  ),
  'deliveries-empty': () => (
    <DeliveriesPage
      shell={shell('Deliveries', '/deliveries')}
      view={{ lines: [], q: '', show: 'open', range: '', nextHref: null, previousHref: null, silentCount: 0 }}
    />
  ),
  'delivery-form': () => (
    <DeliveryFormPage
      shell={shell('A new job', '/deliveries')}
      view={{
        sections,
        warnings: [
          'Fitting heights measured by photo have run 1.1 mm low here (0.6 to 1.6, 23 pairs measured again, as of 2026-08-03): measure again before you order.',
        ],
        values: {},
        troubles: [],
      }}
    />
  ),
  'delivery-form-refused': () => (
    <DeliveryFormPage
      shell={shell('A new job', '/deliveries')}
      view={{
        sections,
        warnings: [],
        values: { name: '"><script>alert(1)</script>', phone: '12', order_sphere_R: '60' },
        troubles: [
          {
            field: 'phone',
            text: '“12” is not a telephone number. Write it with the country, as +1 303 555 0117.',
          },
          { field: 'order_sphere_R', text: 'Right sphere 60 D: allowed −30 to +30 D.' },
        ],
      }}
    />
  ),
  'import-start': () => (
    <DeliveryImportPage
      shell={shell('Take in a file', '/deliveries')}
      view={{
        templates: [
          { words: 'Template with 8 columns', href: '/deliveries/template.csv' },
          { words: 'Template with every column', href: '/deliveries/template-full.csv' },
        ],
        record: null,
        dryRun: null,
        taken: null,
        unreadable:
          'The file holds no line with a heading. The first line must name the columns, as in the template.',
      }}
    />
  ),
  'import-looked': () => (
    <DeliveryImportPage
      shell={shell('Take in a file', '/deliveries')}
      view={{
        templates: [{ words: 'Template with 8 columns', href: '/deliveries/template.csv' }],
        record: null,
        taken: null,
        unreadable: null,
        dryRun: {
          fileName: 'orders-august.csv',
          newCount: 63,
          sameCount: 12,
          silentCount: 4,
          dateOrder: 'mdy',
          text: 'job number;name\n1;"A <b>"',
          sample: [
            {
              line: 2,
              words: 'Cleo Barr, job 20744, multifocal balanced 17, handed over Mon 24 Aug, texts agreed',
            },
          ],
          changes: [
            { line: 9, jobNumber: '20711', changes: [{ name: 'email', was: '', would: 'otto@example.org' }] },
          ],
          bad: [
            {
              line: 14,
              column: 'handed over on',
              found: '31/02/2026',
              allowed: 'a day that exists, month first',
              mend: 'Write the true day, for instance 02/28/2026.',
            },
            {
              line: 22,
              column: 'phone',
              found: 'ask wife',
              allowed: 'a telephone number with its country, or nothing',
              mend: 'Write +1 303 555 0117, or leave it empty.',
            },
          ],
        },
      }}
    />
  ),
  'job-full': () => <JobPage shell={shell('Job 20731', '/deliveries')} view={jobFull} />,
  'job-bare': () => (
    <JobPage
      shell={shell('Job 20731', '/deliveries')}
      view={{
        ...jobFull,
        facts: [],
        expect: [],
        check: [],
        noCheck: 'Nothing was read on the lensmeter yet.',
        picture: null,
        handOver: null,
        handedOver: 'Handed over Tue 18 Aug by Ana Brook; texts yes, email no.',
        papers: [],
        remake: {
          reasons: [{ value: 'finish or breakage', words: 'finish or breakage' }],
          bearers: [{ value: 'lab', words: 'the lab' }],
          designs: [{ value: 'd-2', words: 'balanced 17' }],
        },
      }}
    />
  ),
  rehearsal: () => (
    <RehearsalPage
      shell={shell('Rehearsal', '/rehearsal')}
      view={{
        handsets: [
          {
            contactId: 'k-1',
            address: '+1 303 555 0117',
            names: ['Ida Quill'],
            localTime: '10:42 their time',
            messages: [
              {
                direction: 'from the shop',
                when: 'Fri 21 Aug 10:00',
                subject: '',
                body: `${question} Tap http://127.0.0.1:4310/w/abcdefghijklmnopqrstu`,
                lang: 'en',
              },
              {
                direction: 'from the wearer',
                when: 'Fri 21 Aug 12:31',
                subject: '',
                body: 'Have to lift my chin up to read',
                lang: 'en',
              },
            ],
          },
          {
            contactId: 'k-2',
            address: '+44 7700 900112',
            names: ['Otto Lind', 'Greta Lind'],
            localTime: '17:42 their time',
            messages: [],
          },
        ],
        mailbox: {
          contactId: 'k-3',
          address: 'sam.okoro@example.org',
          names: ['Sam Okoro'],
          localTime: '12:42 their time',
          messages: [
            {
              direction: 'from the shop',
              when: 'Fri 21 Aug 10:00',
              subject: 'Your new glasses',
              body: `Hello Sam,\n\n${question}\n\nHarbour Lane Spectacles`,
              lang: 'en',
            },
          ],
        },
        nextDue: 'day 14 question to Ida Quill, Tue 1 Sep 10:00',
        others: [{ words: 'Petra Voss', href: '/rehearsal?contact=k-9' }],
      }}
    />
  ),
  'rehearsal-empty': () => (
    <RehearsalPage
      shell={shell('Rehearsal', '/rehearsal')}
      view={{ handsets: [], mailbox: null, nextDue: null, others: [] }}
    />
  ),
  welcome: () => (
    <WelcomePage
      view={{
        csrf: 'csrf-token',
        timeZones: ['America/Denver', 'America/New_York', 'Europe/London'],
        countries: [
          { code: 'US', name: 'United States' },
          { code: 'GB', name: 'United Kingdom' },
        ],
        values: {},
        troubles: [],
        filling: null,
      }}
    />
  ),
  'welcome-filling': () => (
    <WelcomePage
      view={{
        csrf: 'csrf-token',
        timeZones: [],
        countries: [],
        values: {},
        troubles: [],
        filling: { words: 'Ten weeks of sixty wearers are being played through.', done: 31, of: 60 },
      }}
    />
  ),
  'not-found': () => (
    <TroublePage
      view={{
        status: 404,
        what: 'There is no such page',
        mend: 'The address may be old. Go on from one of these.',
        problems: [],
        logMark: null,
        side: shell('', '').side,
      }}
    />
  ),
  trouble: () => (
    <TroublePage
      view={{
        status: 422,
        what: 'This was not taken in',
        mend: 'Mend what is named below, then send it again.',
        problems: [{ what: 'Right sphere 60 D.', where: 'order sphere, R', mend: 'Allowed −30 to +30 D.' }],
        logMark: 'E-7Q2',
        side: [],
      }}
    />
  ),
};
