import { BenchPage } from '../../../dashboard/bench/page.tsx';
import type { BenchRow, BenchView } from '../../../dashboard/bench/view.ts';
import { labWindow, promise, shell, trace, words } from './shop.ts';

const rows: readonly BenchRow[] = [
  {
    caseId: 'c-quill',
    version: 4,
    wearer: 'Ida Quill',
    day: 9,
    pair: 'first multifocal, soft 15',
    state: 'answered the question, today',
    words: words(
      'I have to lift my chin up to read the menu and the bottom of the page is still hazy, everything else is lovely',
      [['lift my chin up to read', 'reading part too far down']],
    ),
    said: 'today 9:58, by text',
    cause: {
      name: 'Fitting cross too low',
      share: 'about 6 in 10 likely',
      number: 'right cross 2.1 mm below the pupil',
      trace,
    },
    noCause: '',
    act: {
      act: 'adjust',
      words: 'Adjust',
      way: 'at the shop',
      why: 'Closing the pads lifts the frame by about 2 mm and costs nothing.',
      opensAt: null,
    },
    waitsFor: '',
    deadlines: [labWindow(4, 'Mon 31 Aug'), promise(21, 'Thu 17 Sep')],
    cost: 'Waiting past Monday costs about $118.',
  },
  {
    caseId: 'c-pratt',
    version: 2,
    wearer: 'Owen Pratt',
    day: 16,
    pair: 'multifocal, balanced 17, light-reactive',
    state: 'held by Tom Reyes since Tue',
    words: words(
      'Floor still moves like a boat when I walk. My old ones never did that, thinking I want my money back honestly',
      [
        ['Floor still moves like a boat when I walk', 'surroundings sway'],
        ['want my money back', 'wants the money back'],
      ],
    ),
    said: 'yesterday 18:20, by text',
    cause: {
      name: 'Base curve changed',
      share: 'about 4 in 10 likely',
      number: 'base curve 6.25 D, old pair 4.00 D',
      trace,
    },
    noCause: '',
    act: {
      act: 'remake',
      words: 'Make again',
      way: 'by post',
      why: 'Day 16 and no better; the old curve can be ordered inside the lab’s window.',
      opensAt: '/cases/c-pratt/remake',
    },
    waitsFor: '',
    deadlines: [labWindow(12, 'Tue 8 Sep', true), promise(2, 'Sat 29 Aug')],
    cost: '',
  },
  {
    caseId: 'c-lima',
    version: 1,
    wearer: 'Noemí Lima Echeverría',
    day: 3,
    pair: 'first multifocal, soft 15',
    state: 'asked the wearer, today 9:10',
    words: words('No veo bien, todo borroso', [['todo borroso', 'blurred, not said where']], 'es'),
    said: 'today 8:51, by text',
    cause: null,
    noCause: 'It is not known where it is blurred: far, arm’s length or near.',
    act: null,
    waitsFor: 'Waits for the answer until Fri 9:10.',
    deadlines: [labWindow(46, 'Mon 12 Oct'), promise(27, 'Wed 23 Sep')],
    cost: '',
  },
  {
    caseId: 'c-voss',
    version: 7,
    wearer: 'Petra Voss',
    day: 11,
    pair: 'multifocal, balanced 17',
    state: 'parcel to us, posted Mon',
    words: words('They slide down my nose all day', [['slide down my nose', 'slips down']]),
    said: 'Sat 22 Aug, by email',
    cause: {
      name: 'Frame slips',
      share: 'about 8 in 10 likely',
      number: 'slides in the slip test at hand-over',
      trace: null,
    },
    noCause: '',
    act: null,
    waitsFor: 'Waits for her parcel; expected Fri.',
    deadlines: [promise(19, 'Tue 15 Sep')],
    cost: '',
  },
];

const benchFull: BenchView = {
  danger: [],
  rows,
  more: 6,
  moreHref: '/bench?page=2',
  late: [
    { caseId: 'c-pratt', wearer: 'Owen Pratt', what: 'our promise', daysLeft: 2, lastDay: 'Sat 29 Aug' },
    {
      caseId: 'c-quill',
      wearer: 'Ida Quill',
      what: 'the lab’s remake window',
      daysLeft: 4,
      lastDay: 'Mon 31 Aug',
    },
    { caseId: 'c-x', wearer: 'Lee Marsh', what: 'our promise', daysLeft: 6, lastDay: 'Wed 2 Sep' },
    { caseId: 'c-y', wearer: 'Mina Osei', what: 'our promise', daysLeft: 8, lastDay: 'Fri 4 Sep' },
    { caseId: 'c-z', wearer: 'Joan Tull', what: 'our promise', daysLeft: 9, lastDay: 'Sat 5 Sep' },
    { caseId: 'c-w', wearer: 'Carl Abney', what: 'our promise', daysLeft: 12, lastDay: 'Tue 8 Sep' },
  ],
  trayCount: 3,
  unsent: { words: '2 of our messages may not have arrived', href: '/log?about=unsure' },
  firstSteps: [],
};

const benchDanger: BenchView = {
  ...benchFull,
  danger: [
    {
      caseId: 'c-hale',
      wearer: 'Ruth Hale',
      words: words(
        'Glasses fine but since this morning theres like a dark curtain in the corner of my left eye and little flashes',
        [
          ['dark curtain in the corner of my left eye', 'curtain over sight', 'danger'],
          ['little flashes', 'flashes', 'danger'],
        ],
      ),
      came: 'today 10:38, by text',
      phone: '+1 303 555 0142',
      localTime: '10:42 their time',
      caution: 'The caution was sent 10:38 and delivered',
      cautionReached: true,
      told: 'Ana Brook was told at 10:38 by text and email',
      hasIt: null,
    },
  ],
};

const benchEmpty: BenchView = {
  danger: [],
  rows: [],
  more: 0,
  moreHref: null,
  late: [],
  trayCount: 0,
  unsent: null,
  firstSteps: [
    { words: 'Set the shop’s number, hours and local help numbers', href: '/shop', done: true },
    { words: 'Type in a job, or take in a file of jobs', href: '/deliveries', done: false },
    {
      words: 'Hand a pair over: the first question goes out three days later',
      href: '/deliveries',
      done: false,
    },
  ],
};

/** A quiet day: nobody in danger, nothing late, one wearer who answered, three messages to read. */
const benchQuiet: BenchView = {
  ...benchFull,
  rows: rows.slice(2, 3),
  more: 0,
  moreHref: null,
  late: [],
  unsent: null,
};

const longText =
  'Hello, thank you for asking. '.repeat(12) +
  'Pneumonoultramicroscopicsilicovolcanoconiosis-Donaudampfschifffahrtsgesellschaftskapitän <script>alert(1)</script> & "quoted"';

const benchLong: BenchView = {
  ...benchFull,
  danger: [
    {
      ...benchDanger.danger[0]!,
      words: words(longText),
      wearer: 'Maximiliana-Theodora Wolfeschlegelsteinhausenbergerdorff-Featherstonehaugh',
      caution: 'The caution has NOT been sent: no local help numbers are set',
      cautionReached: false,
      hasIt: 'Tom Reyes',
      phone: null,
    },
    { ...benchDanger.danger[0]!, caseId: 'c-2', wearer: 'Otto Lind' },
  ],
  rows: [
    {
      ...rows[0]!,
      wearer: 'Maximiliana-Theodora Wolfeschlegelsteinhausenbergerdorff-Featherstonehaugh',
      words: words(longText),
      deadlines: [labWindow(-3, 'Mon 24 Aug'), promise(0, 'today')],
    },
    ...rows.slice(1),
  ],
};

export const benchStories = {
  'bench-full': () => <BenchPage shell={shell('Bench', '/bench')} view={benchFull} />,
  'bench-danger': () => <BenchPage shell={shell('Bench', '/bench', { dangerCount: 1 })} view={benchDanger} />,
  'bench-quiet': () => <BenchPage shell={shell('Bench', '/bench')} view={benchQuiet} />,
  'bench-empty': () => (
    <BenchPage
      shell={shell('Bench', '/bench', {
        invented: false,
        notices: [{ kind: 'done', text: 'The shop is set up.', undo: null }],
      })}
      view={benchEmpty}
    />
  ),
  'bench-long': () => (
    <BenchPage
      shell={shell('Bench', '/bench', {
        dangerCount: 2,
        notices: [
          {
            kind: 'done',
            text: 'Adjust was chosen for Ida Quill.',
            undo: { action: '/undo/e-1', secondsLeft: 9 },
          },
          { kind: 'standing', text: '12 messages from the journal are being taken in again.', undo: null },
        ],
      })}
      view={benchLong}
    />
  ),
};
