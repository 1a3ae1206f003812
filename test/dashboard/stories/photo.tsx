import { PhotoMarksPage, PhotosPage } from '../../../dashboard/photo/page.tsx';
import type { PhotoMarksView } from '../../../dashboard/photo/view.ts';
import { shell } from './shop.ts';

/** An invented face, drawn. */
const FACE = `data:image/svg+xml,${encodeURIComponent(
  '<svg xmlns="http://www.w3.org/2000/svg" width="1600" height="1200"><rect width="1600" height="1200" fill="#c9cfc6"/><ellipse cx="800" cy="640" rx="330" ry="440" fill="#d9b195"/><g fill="none" stroke="#222" stroke-width="9"><rect x="515" y="490" width="245" height="170" rx="60"/><rect x="845" y="490" width="245" height="170" rx="60"/><path d="M760 540q42 -30 85 0"/></g><circle cx="655" cy="560" r="23" fill="#5d7a55"/><circle cx="945" cy="560" r="23" fill="#5d7a55"/></svg>',
)}`;

const where = {
  jobId: 'j-20731',
  jobNumber: '20731',
  jobHref: '/jobs/j-20731',
  wearer: 'Ida Quill',
  caseHref: '/cases/c-quill',
};

const marks: PhotoMarksView = {
  ...where,
  pictureId: 'p-1',
  src: FACE,
  came: 'Photograph of Thu 27 Aug, sent by the wearer',
  width: 1600,
  height: 1200,
  fileWidth: 1600,
  fileHeight: 1200,
  quarter: 0,
  values: {
    r_outer_x: '515',
    r_inner_x: '760',
    r_top_y: '490',
    r_bottom_y: '660',
    r_pupil_x: '655',
    r_pupil_y: '560',
    l_outer_x: '1090',
    l_inner_x: '845',
    l_top_y: '490',
    l_bottom_y: '660',
    l_pupil_x: '945',
    l_pupil_y: '560',
    r_ear_x: '470',
    l_ear_x: '1132',
    a_mm: '52',
    b_mm: '34',
    dbl_mm: '18',
    camera_cm: '100',
    stood_as_usual: 'yes',
  },
  troubles: [],
  result: null,
  signers: [{ personId: 'p-ana', words: 'Ana Brook, licence LX-1' }],
};

const found: NonNullable<PhotoMarksView['result']> = {
  measureId: 'm-1',
  by: 'Tom Reyes',
  doubts: ['By the ears the head was turned by about 2° to the wearer’s left; that is taken out.'],
  lines: [
    {
      name: 'PD, right',
      found: '31.4 mm',
      plusMinus: '± 1.3 mm',
      ordered: '31.0 mm',
      against: 'as ordered, as near as can be said',
      from: 'turn of the head 1.2, marks 0.4, lens of the camera 0.4',
    },
    {
      name: 'Pupil height, right',
      found: '20.6 mm',
      plusMinus: '± 1.4 mm',
      ordered: '18.0 mm',
      against: '2.6 mm more than ordered',
      from: 'nod of the head 1.2, marks 0.5, sizes of the frame 0.4',
    },
    {
      name: 'Pupil height, left',
      found: null,
      plusMinus: '± 3.2 mm',
      ordered: '',
      against: '',
      from: 'nod of the head 3.1, marks 0.5',
    },
  ],
  signed: null,
  canSign: true,
};

const draw = (view: PhotoMarksView) => (
  <PhotoMarksPage shell={shell('Measure on a photograph: Ida Quill', '/deliveries')} view={view} />
);

export const photoStories = {
  'photo-first': () => (
    <PhotosPage
      shell={shell('Measure on a photograph: Ida Quill', '/deliveries')}
      view={{ ...where, caseHref: null, pictures: [], sent: [], troubles: [] }}
    />
  ),
  'photo-list': () => (
    <PhotosPage
      shell={shell('Measure on a photograph: Ida Quill', '/deliveries')}
      view={{
        ...where,
        pictures: [
          { href: '/jobs/j-20731/photo/p-1', src: FACE, words: 'Thu 27 Aug, handed in by Ana Brook' },
          {
            href: null,
            src: null,
            words: 'Mon 3 Aug, sent by the wearer; the picture is removed, as promised',
          },
        ],
        sent: [{ pictureId: 's-1', src: FACE, words: 'picture of Wed 26 Aug' }],
        troubles: [
          {
            field: 'picture',
            text: 'This picture cannot be read. Choose a JPEG, PNG or WebP of at most 8 MB.',
          },
        ],
      }}
    />
  ),
  'photo-marks': () => draw(marks),
  'photo-found': () => draw({ ...marks, result: found }),
  'photo-signed': () =>
    draw({
      ...marks,
      result: {
        ...found,
        signed: 'Signed by Ana Brook, licence LX-1, Thu 27 Aug. What can be said stands on the job.',
      },
    }),
  'photo-cannot-say': () =>
    draw({
      ...marks,
      values: { ...marks.values, r_ear_x: '', l_ear_x: '', stood_as_usual: '', camera_cm: '10' },
      troubles: [{ field: 'camera_cm', text: '“10” cannot be. Write a number from 40 to 600.' }],
      result: { ...found, lines: [found.lines[2]!], canSign: false },
      signers: [],
    }),
};
