import { MeasureAtHomePage } from '../../../dashboard/measure/page.tsx';
import type { MeasureAtHomeView } from '../../../dashboard/measure/view.ts';
import { MeasureSheetPage } from '../../../dashboard/measure-sheet/page.tsx';
import { PrescriptionPage } from '../../../dashboard/prescription/page.tsx';
import type { PrescriptionView } from '../../../dashboard/prescription/view.ts';
import { WeightsPage } from '../../../dashboard/weights/page.tsx';
import type { WeightsView } from '../../../dashboard/weights/view.ts';
import { MEASURE_FOR_US } from '../../../templates/measureForUs.ts';
import { shell } from './shop.ts';

const measure: MeasureAtHomeView = {
  jobId: 'j-20731',
  jobNumber: '20731',
  jobHref: '/jobs/j-20731',
  wearer: 'Ida Quill',
  caseHref: '/cases/c-quill',
  sheets: [
    { words: 'in English', href: '/jobs/j-20731/measure-sheet?lang=en' },
    { words: 'in Spanish', href: '/jobs/j-20731/measure-sheet?lang=es' },
  ],
  channels: [
    { value: 'email', words: 'Send it by email', cannot: null },
    { value: 'text', words: 'Send the link by text', cannot: 'they have not agreed to it' },
  ],
  sends: 'A link to their own page, in their language, good for thirty days.',
  fittingHeight: 'Ordered fitting height 18.0 mm on the right, 18.0 mm on the left.',
  lensHeightMm: '32',
  errors: { tape: 'Usual error 1.5 mm.', photo: 'Usual error 1 mm.' },
  kept: [
    {
      name: 'pupil above the lowest point of the lens as worn, mm',
      right: '20.1',
      left: '19.8',
      from: 'wearer, tape and ruler, usual error 1.5 mm, Ana Brook',
    },
    {
      name: 'fitting cross above (+) or below (-) the pupil',
      right: '-2.1',
      left: '-1.8',
      from: 'wearer, fitting height less pupil height; tape and ruler, usual error 1.5 mm, Ana Brook',
    },
  ],
  values: {},
  troubles: [],
};

const sheetOf = (lang: 'en' | 'es') => {
  const { ask: _ask, ...words } = MEASURE_FOR_US[lang];
  return {
    ...words,
    lang,
    shopName: 'Harbour Lane Spectacles',
    invented: true,
    on: 'Thu 27 Aug 2026',
    backHref: '/jobs/j-20731/measure',
    wearer: 'Ida Quill',
    jobNumber: '20731',
    phone: '+1 303 555 0100',
  };
};

const weights: WeightsView = {
  counted: 14,
  priorCases: 100,
  moved: [
    ['frame slipped down', 3.6, 8.4, 6],
    ['fitting cross too low', 3.1, 6.2, 4],
    ['order typed wrong', 1.5, 3.1, 2],
    ['dirt or smears', 1.3, 2.9, 2],
  ].map(([cause, catalogue, here, cases]) => ({
    cause: String(cause),
    catalogue: Number(catalogue),
    here: Number(here),
    cases: Number(cases),
    words: `here ${here} in 100, in the catalogue ${catalogue}`,
  })),
  outcomes: [
    {
      pairId: 'p-1',
      wearer: 'Ida Quill',
      job: '20731',
      cause: 'fitting cross too low',
      how: 'cured by the act',
      when: 'Thu 20 Aug, Ana Brook',
      leftOut: false,
    },
    {
      pairId: 'p-2',
      wearer: 'Otis Fenn',
      job: '20688',
      cause: 'frame slipped down',
      how: 'found at the bench',
      when: 'Tue 18 Aug, Ana Brook',
      leftOut: true,
    },
  ],
  changedWords: '5 of 23: something else was done than was suggested.',
  suggestions: [
    { act: 'Adjust', suggested: 12, changed: 1 },
    { act: 'Talk it through', suggested: 7, changed: 3 },
    { act: 'To the prescriber', suggested: 4, changed: 1 },
  ],
};

const prescription: PrescriptionView = {
  caseId: 'c-quill',
  version: 4,
  caseHref: '/cases/c-quill',
  jobNumber: '20731',
  jobHref: '/jobs/j-20731',
  wearer: 'Ida Quill',
  difference: {
    eyes: [
      {
        eye: 'R',
        before: '+1.25 −0.50 × 85',
        after: '+0.75 −0.50 × 95',
        lens: '−0.41 −0.17 × 135',
        size: '0.51 D',
        add: '+2.00 to +2.25',
      },
      {
        eye: 'L',
        before: '+1.50 −0.75 × 95',
        after: '+1.50 −0.75 × 95',
        lens: '+0.00',
        size: '0.00 D',
        add: '+2.00 to +2.25',
      },
    ],
    remarks: [
      'Right and left differ by 0.75 D along 90: 1.5 prism dioptres between the eyes 20 mm down (Prentice). Think of slab-off or a pair for reading.',
    ],
    changes: true,
  },
  second: true,
  me: 'p-1',
  signers: [{ personId: 'p-1', words: 'Ana Brook, licence LX-1' }],
  values: { rx_R: '+0.75 -0.50 x 95', rx_L: '+1.50 -0.75 x 95', add_R: '2.25', add_L: '' },
  troubles: [],
};

export const causesStories = {
  prescription: () => (
    <PrescriptionPage shell={shell('New prescription: Ida Quill', '/bench')} view={prescription} />
  ),
  'prescription-unlicensed': () => (
    <PrescriptionPage
      shell={shell('New prescription: Ida Quill', '/bench')}
      view={{ ...prescription, me: 'p-2', second: false }}
    />
  ),
  'prescription-refused': () => (
    <PrescriptionPage
      shell={shell('New prescription: Ida Quill', '/bench')}
      view={{
        ...prescription,
        difference: null,
        values: { rx_R: '0.75 x', rx_L: '', add_R: '', add_L: '' },
        troubles: [
          {
            field: 'rx_R',
            text: '“0.75 x” is not read as a power. Write sphere, cylinder and axis in this order.',
          },
          { field: 'rx_L', text: 'The left power is missing. Write it as on the prescription.' },
        ],
      }}
    />
  ),
  weights: () => <WeightsPage shell={shell('Weights', '/weights')} view={weights} />,
  'weights-none': () => (
    <WeightsPage
      shell={shell('Weights', '/weights')}
      view={{
        counted: 0,
        priorCases: 100,
        moved: [],
        outcomes: [],
        changedWords: 'Nothing was done on a case yet.',
        suggestions: [],
      }}
    />
  ),
  'measure-at-home': () => (
    <MeasureAtHomePage shell={shell('Measure at a distance: Ida Quill', '/deliveries')} view={measure} />
  ),
  'measure-at-home-refused': () => (
    <MeasureAtHomePage
      shell={shell('Measure at a distance: Ida Quill', '/deliveries')}
      view={{
        ...measure,
        caseHref: null,
        channels: measure.channels.map((one) => ({
          ...one,
          cannot: 'only to a wearer who told of trouble; print the sheet',
        })),
        kept: [],
        values: { right_mm: '201', left_mm: '20' },
        troubles: [
          {
            field: 'right_mm',
            text: '“201” cannot be. Write a number from 8 to 45: right, from the dot to the lowest point, in mm.',
          },
        ],
      }}
    />
  ),
  'measure-sheet': () => <MeasureSheetPage view={sheetOf('en')} />,
  'measure-sheet-spanish': () => <MeasureSheetPage view={sheetOf('es')} />,
};
