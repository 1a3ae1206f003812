import { DeliveryImportPage } from '../../../dashboard/delivery-import/page.tsx';
import type { RecordView } from '../../../dashboard/delivery-import/view.ts';
import { LabFormPage } from '../../../dashboard/lab-form/page.tsx';
import type { LabFormView } from '../../../dashboard/lab-form/view.ts';
import { shell } from './shop.ts';

const columns = ['Sphere', 'Cylinder', 'Axis', 'Add', 'Prism'];
const row = (name: 'Ordered' | 'As worn', key: string, eye: 'R' | 'L') => ({
  name,
  eye,
  fields: ['sphere', 'cylinder', 'axis']
    .map((part) => `${key}_${eye}_${part}`)
    .concat(`${key}_add_D_${eye}`, `${key}_prism_${eye}`),
});

const empty: LabFormView = {
  jobId: 'j-1',
  jobNumber: '20731',
  wearer: 'Ida Quill',
  lab: 'Lab in the next town (invented)',
  columns,
  rows: [
    row('Ordered', 'order', 'R'),
    row('Ordered', 'order', 'L'),
    row('As worn', 'as_worn', 'R'),
    row('As worn', 'as_worn', 'L'),
  ],
  position: [
    { name: 'refracted_vertex_mm', label: 'Vertex distance at the refraction, mm' },
    { name: 'vertex_assumed_mm', label: 'Vertex distance as worn, mm' },
    { name: 'tilt_assumed_deg', label: 'Tilt, degrees' },
    { name: 'wrap_assumed_deg', label: 'Wrap, degrees' },
  ],
  differences: [],
  eyes: [],
  notes: [],
  values: {},
  troubles: [],
};

const source = 'oblique astigmatism (Coddington), thin lens';
const looked: LabFormView = {
  ...empty,
  values: {
    order_R_sphere: '-6.00',
    as_worn_R_sphere: '-5.87',
    as_worn_R_cylinder: '+0.12',
    as_worn_R_axis: '90',
    tilt_assumed_deg: '9',
    wrap_assumed_deg: '60',
  },
  differences: ['R: the lab’s form has the order -6.00; ours is -6.25. Ask the lab before anything leaves.'],
  eyes: [
    {
      eye: 'R',
      isExplained: true,
      verdict: 'the lab’s powers are explained (0.06 D left over)',
      lines: [
        {
          what: 'ordered',
          power: '-6.00',
          change: '',
          why: 'what was asked of the lab',
          source: 'the order',
        },
        {
          what: 'for tilt and wrap',
          power: '-5.80 -0.14 x 90',
          change: '+0.20 -0.14 x 90',
          why: 'tilt 9',
          source,
        },
      ],
      gets: 'The wearer gets -6.02 from the lab’s powers; made as ordered it would be -6.07 -0.15 x 180.',
    },
  ],
  notes: ['The index is not known: 1.5 is taken.'],
  troubles: [
    { field: 'wrap_assumed_deg', text: 'Wrap 60 degrees is outside what is possible. Allowed: −5 to +30.' },
  ],
};

const record: RecordView = {
  fileName: 'order.txt',
  what: 'lens-order records',
  lines: [
    { name: 'Ordered', right: '−1.75 −0.50 × 180', left: '+0.25 −1.00 × 90' },
    { name: 'PD', right: '31.5', left: '32' },
  ],
  warnings: ['Records that are not known are left aside: PANTO.'],
  jobNumber: 'A-17',
  meaning: 'order',
  meanings: [
    { value: 'order', words: 'what was asked of the lab' },
    { value: 'as_worn', words: 'the lab’s as-worn powers' },
  ],
  readable: true,
  troubles: [
    'There is no job A-17. Write the number of a job that is here; take the job in first if it is not.',
  ],
  text: 'JOB=A-17',
};

/** The lab's form, and a file that holds a record of one pair. */
export const labFormStories = {
  'lab-form-empty': () => <LabFormPage shell={shell('The lab’s form', '/deliveries')} view={empty} />,
  'lab-form-looked': () => <LabFormPage shell={shell('The lab’s form', '/deliveries')} view={looked} />,
  'import-record': () => (
    <DeliveryImportPage
      shell={shell('Take in a file', '/deliveries')}
      view={{ templates: [], dryRun: null, taken: null, unreadable: null, record }}
    />
  ),
};
