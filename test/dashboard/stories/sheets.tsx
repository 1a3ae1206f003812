import { BenchSlipPage } from '../../../dashboard/bench-slip/page.tsx';
import { BoxCardPage } from '../../../dashboard/box-card/page.tsx';
import { AnswerPage } from '../../../dashboard/for-wearers/answer/page.tsx';
import { FirstMultifocalsPage } from '../../../dashboard/for-wearers/first-multifocals/page.tsx';
import { HaveItPage } from '../../../dashboard/for-wearers/have-it/page.tsx';
import { LightReactivePage } from '../../../dashboard/for-wearers/light-reactive/page.tsx';
import { MeasurePage } from '../../../dashboard/for-wearers/measure/page.tsx';
import { NoLinkPage } from '../../../dashboard/for-wearers/no-link/page.tsx';
import { StopPage } from '../../../dashboard/for-wearers/stop/page.tsx';
import type { ForWearer } from '../../../dashboard/for-wearers/view.ts';
import { HandOverSheetPage } from '../../../dashboard/hand-over-sheet/page.tsx';
import { MonthSheetPage } from '../../../dashboard/month-sheet/page.tsx';
import { OrderNotePage } from '../../../dashboard/order-note/page.tsx';
import type { OrderNoteView } from '../../../dashboard/order-note/view.ts';
import { PrescriberNotePage } from '../../../dashboard/prescriber-note/page.tsx';
import { lensPicture } from './case.tsx';
import { jobFull } from './others.tsx';
import { trace, words } from './shop.ts';
import { tintPicture } from './tint.ts';

const sheet = { shopName: 'Harbour Lane Spectacles', invented: true, on: 'Thu 27 Aug 2026' };

const orderNote: OrderNoteView = {
  ...sheet,
  caseId: 'c-quill',
  caseHref: '/cases/c-quill',
  version: 4,
  jobNumber: '20731',
  wearer: 'Ida Quill',
  pair: 'first multifocal, soft 15',
  lab: 'Lab in the next town (invented)',
  window: 'the lab’s remake window: 4 days left, Mon 31 Aug',
  reason: 'measured',
  changes: [
    {
      name: 'Fitting height R',
      from: '18.0 mm',
      to: '20.0 mm',
      because: 'the cross sits 2.1 mm below the pupil',
      trace,
    },
  ],
  order: [
    { name: 'Power', right: '+1.25 −0.50 × 85', left: '+1.50 −0.75 × 95', both: '' },
    { name: 'Fitting height, mm', right: '20.0', left: '20.0', both: '' },
    { name: 'Design', right: '', left: '', both: 'soft 15' },
  ],
  expect: ['Height 20.0 mm, the design asks 17: 5.0 mm of near zone inside the rim.'],
  second: true,
  me: 'p-1',
  signers: [{ personId: 'p-1', words: 'Ana Brook, licensed until 30 Jun 2027' }],
  signed: null,
};

const about: ForWearer = {
  lang: 'en',
  shopName: 'Harbour Lane Spectacles',
  phone: '+1 303 555 0100',
  invented: true,
  base: '/w/token',
  localNumbers: ['Emergency department: +1 303 555 0199'],
  pages: [],
};
const tips: ForWearer = { ...about, pages: ['first-multifocals', 'light-reactive'] };
const haveIt = {
  lang: 'en',
  shopName: 'Harbour Lane Spectacles',
  invented: true,
  base: '/w/token',
  initial: 'R',
  came: 'today 09:12',
  person: 'Ana Brook',
  over: null,
  caseHref: null,
} as const;
const notYet = { answered: false, trouble: '', thanks: null, caution: [] };
const sobre: ForWearer = { ...about, lang: 'es' };

export const sheetStories = {
  'hand-over-sheet': () => (
    <HandOverSheetPage
      view={{
        ...sheet,
        jobHref: '/jobs/j-20731',
        jobNumber: '20731',
        wearer: 'Ida Quill',
        pair: 'First multifocal, soft 15, light-reactive',
        measures: [
          { name: 'Cross against pupil, mm', right: '0', left: '0' },
          { name: 'Vertex distance, mm', right: '13', left: '13' },
          { name: 'Tilt, degrees', right: '9', left: '9' },
        ],
        expect: ['First multifocal with a high add: +2.00 D'],
        teach: [
          'far: chin level',
          'middle: eyes down a little',
          'near: eyes down, chin level',
          'stairs: chin tucked, through the top, hand on the rail',
          'driving: not before all is clear and sure',
          'cleaning: warm water, mild soap, clean cloth',
        ],
        consentWords: jobFull.handOver!.consentWords,
        cautions: [
          '75 or older and new to multifocals: offer a pair for walking outdoors; a person makes the first call.',
        ],
      }}
    />
  ),
  'box-card': () => (
    <BoxCardPage
      view={{
        ...sheet,
        lang: 'en',
        jobHref: '/jobs/j-20744',
        title: 'Your new glasses',
        zones: { far: 'top: far away', middle: 'below: screen', near: 'bottom: reading' },
        multifocal: true,
        hello: 'Text HELLO to +1 303 555 0100 when you put them on.',
        agrees: 'With it you agree that we may ask you by text how they are going.',
        phone: 'Or ring +1 303 555 0100.',
        stop: 'Answer STOP at any time and it ends.',
        danger:
          'Flashes, a curtain over your sight, sudden loss of sight or eye pain: do not wait for us, go to an eye doctor or an emergency department today.',
      }}
    />
  ),
  'bench-slip': () => (
    <BenchSlipPage
      view={{
        ...sheet,
        jobHref: '/jobs/j-20731',
        jobNumber: '20731',
        wearer: 'Ida Quill',
        pair: 'soft 15',
        standard: 'ANSI Z80.1-2015',
        verdict: jobFull.checkVerdict,
        lines: jobFull.check,
        picture: lensPicture,
        cautions: ['From memory: confirm against your copy of the standard.'],
      }}
    />
  ),
  'order-note-draft': () => <OrderNotePage csrf="csrf-token" view={orderNote} />,
  'order-note-signed': () => (
    <OrderNotePage
      csrf="csrf-token"
      view={{
        ...orderNote,
        signed: { by: 'Ana Brook', licence: 'licence LX-1 (invented)', when: 'Thu 27 Aug 11:02' },
      }}
    />
  ),
  'prescriber-note': () => (
    <PrescriberNotePage
      csrf="csrf-token"
      view={{
        ...sheet,
        shopPhone: '+1 303 555 0100',
        caseId: 'c-quill',
        caseHref: '/cases/c-quill',
        version: 4,
        wearer: 'Ida Quill',
        born: '1958',
        powers: [
          {
            name: 'Prescription of 3 Aug',
            right: '+1.25 −0.50 × 85, add +2.00',
            left: '+1.50 −0.75 × 95, add +2.00',
          },
          { name: 'Read on our lensmeter', right: '+1.25 −0.50 × 85', left: '+1.50 −0.75 × 101' },
        ],
        place: ['Crosses on the pupils, vertex 13 mm, tilt 9 degrees'],
        words: [{ words: words('Far is soft in the left eye since I got them'), when: '21 Aug, by text' }],
        tried: ['adjusted 22 Aug', 'order checked: within limits'],
        question: 'Is the left distance power as intended?',
        signers: [{ personId: 'p-1', words: 'Ana Brook' }],
        signed: null,
      }}
    />
  ),
  'month-sheet': () => (
    <MonthSheetPage
      view={{
        ...sheet,
        month: 'August 2026',
        sentences: [
          {
            sentence:
              'Shallow frames with compact 13 came back 14 of 62 times (23 %, 14 to 34 %), the rest 5 %.',
            guard: 'Adjusted for 24 looks by Holm',
            pairs: '62 pairs',
          },
        ],
        otherwise: '',
        looks: '24 things were looked at.',
      }}
    />
  ),
  'wearer-answer': () => <AnswerPage view={{ ...notYet, about, question: null }} />,
  'wearer-question-es': () => (
    <AnswerPage
      view={{
        ...notYet,
        about: sobre,
        answered: true,
        trouble: 'No pudimos recibir esa foto. Envíe una de hasta 8 MB, o llámenos.',
        question: {
          text: 'Si los sube con el dedo, ¿lee bien?',
          answers: [
            { key: 'a', words: 'sí' },
            { key: 'b', words: 'no' },
            { key: 'c', words: 'un poco' },
          ],
        },
      }}
    />
  ),
  'wearer-thanks': () => (
    <AnswerPage
      view={{
        ...notYet,
        about,
        question: null,
        thanks: 'We have it. You can close this page, or go back and tell us more.',
      }}
    />
  ),
  'wearer-danger': () => (
    <AnswerPage
      view={{
        ...notYet,
        about,
        question: null,
        caution: [
          'Get help now: Emergency department +1 303 555 0199. What you tell us should be looked at today by an eye doctor or optometrist. Please do not wait for us.',
        ],
        thanks: 'We have it. You can close this page, or go back and tell us more.',
      }}
    />
  ),
  'wearer-no-link': () => <NoLinkPage view={{ lang: 'en', about: null, tooOften: false }} />,
  'wearer-link-ran-out-es': () => <NoLinkPage view={{ lang: 'es', about: sobre, tooOften: false }} />,
  'have-it': () => <HaveItPage view={haveIt} />,
  'have-it-over': () => (
    <HaveItPage view={{ ...haveIt, over: 'Ben Ito has it', caseHref: 'https://shop.example/cases/1' }} />
  ),
  'wearer-multifocals': () => <FirstMultifocalsPage view={{ about: tips }} />,
  'wearer-multifocals-es': () => <FirstMultifocalsPage view={{ about: sobre }} />,
  'wearer-light-reactive': () => (
    <LightReactivePage view={{ about: tips, air: 'cold', picture: tintPicture }} />
  ),
  'wearer-light-reactive-es': () => <LightReactivePage view={{ about: sobre, air: 'mild', picture: null }} />,
  'wearer-measure': () => (
    <MeasurePage
      view={{
        about,
        kind: 'marks',
        thanks: null,
        trouble: 'Right lens: 200 mm is more than a lens is high. Measure again, please.',
      }}
    />
  ),
  'wearer-measure-es': () => (
    <MeasurePage view={{ about: sobre, kind: 'photo', thanks: null, trouble: '' }} />
  ),
  'wearer-stop': () => <StopPage view={{ about, channels: ['text', 'email'], done: false }} />,
  'wearer-stopped-es': () => <StopPage view={{ about: sobre, channels: [], done: true }} />,
};
