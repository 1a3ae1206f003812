import { MeasureAtHomePage } from '../../../dashboard/measure/page.tsx';
import type { MeasureAtHomeView } from '../../../dashboard/measure/view.ts';
import { MeasureSheetPage } from '../../../dashboard/measure-sheet/page.tsx';
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

export const causesStories = {
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
