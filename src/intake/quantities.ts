import type { FactSource } from './job.ts';

/** How a quantity is written and read. `prism` is a cell such as "0.5 down 1 in"; it becomes two number quantities. */
type QuantityKind = 'number' | 'power' | 'prism' | 'date' | 'text' | 'yes/no' | 'choice' | 'consent';

type QuantityGroup =
  | 'job'
  | 'wearer'
  | 'dates'
  | 'powers'
  | 'measures'
  | 'frame'
  | 'lens'
  | 'hand-over'
  | 'previous pair';

export type Quantity = {
  /** Name of the fact, of the form field and of the JSON key. Units stand in the key. Per-eye fields add _R or _L. */
  readonly key: string;
  /** Head of the column in our templates. */
  readonly head: string;
  /** Label on a form. */
  readonly label: string;
  readonly unit: string | null;
  /** One sentence on the sign, where a sign can be mistaken. */
  readonly sign?: string;
  readonly min?: number;
  readonly max?: number;
  readonly perEye: boolean;
  readonly kind: QuantityKind;
  readonly choices?: readonly string[];
  /** For a figure that is often written as one for both eyes together: the range in which it is halved and marked. */
  readonly together?: { readonly min: number; readonly max: number };
  /** Most characters of a text. */
  readonly longest?: number;
  /** Other heads that mean the same, in any case and spacing. */
  readonly alsoWritten: readonly string[];
  /** One plain sentence for the glossary. */
  readonly glossary: string;
  readonly group: QuantityGroup;
  /** Which fact source a value has when it comes by file or form; left out for what is no fact of the lenses. */
  readonly source?: FactSource;
  /** True for the eight columns of the short template. */
  readonly short?: true;
};

type Extra = Partial<Omit<Quantity, 'key' | 'head' | 'label' | 'glossary'>>;

const column = (key: string, head: string, label: string, glossary: string, extra: Extra = {}): Quantity => ({
  key,
  head,
  label,
  glossary,
  unit: null,
  perEye: false,
  kind: 'text',
  alsoWritten: [],
  group: 'job',
  ...extra,
});

const AXIS =
  'Axis from 1 to 180, counter-clockwise as seen facing the wearer; 0 is written 180. Plus cylinder is turned into minus.';
const PRISM = 'Base up and base in are plus, base down and base out minus, whichever eye.';

const power = (
  key: string,
  head: string,
  label: string,
  source: FactSource,
  glossary: string,
  alsoWritten: readonly string[] = [],
) =>
  column(key, head, label, glossary, {
    kind: 'power',
    unit: 'D',
    perEye: true,
    sign: AXIS,
    min: -30,
    max: 30,
    alsoWritten,
    group: key === 'prev' ? 'previous pair' : 'powers',
    source,
  });

const add = (
  key: string,
  head: string,
  label: string,
  source: FactSource,
  alsoWritten: readonly string[] = [],
) =>
  column(key, head, label, 'Addition: how much more plus the near zone has than the distance zone.', {
    kind: 'number',
    unit: 'D',
    perEye: true,
    sign: 'Always plus.',
    min: 0,
    max: 4.5,
    alsoWritten,
    group: key === 'prev_add_D' ? 'previous pair' : 'powers',
    source,
  });

const prism = (
  key: string,
  head: string,
  label: string,
  source: FactSource,
  alsoWritten: readonly string[] = [],
): Quantity[] => {
  const common = {
    unit: 'pd',
    perEye: true,
    sign: PRISM,
    min: -20,
    max: 20,
    group: 'powers',
    source,
  } as const;
  return [
    column(key, head, label, 'Prism with its base, for example 0.5 down 1 in.', {
      ...common,
      kind: 'prism',
      alsoWritten,
    }),
    column(
      `${key}_up_pd`,
      `${head} base up`,
      `${label}, base up`,
      'Vertical part of the prism in prism dioptres.',
      {
        ...common,
        kind: 'number',
      },
    ),
    column(
      `${key}_in_pd`,
      `${head} base in`,
      `${label}, base in`,
      'Horizontal part of the prism in prism dioptres.',
      {
        ...common,
        kind: 'number',
      },
    ),
  ];
};

const eachMm = (
  key: string,
  head: string,
  label: string,
  min: number,
  max: number,
  glossary: string,
  extra: Extra = {},
) =>
  column(key, head, label, glossary, {
    kind: 'number',
    unit: 'mm',
    perEye: true,
    min,
    max,
    group: 'measures',
    source: 'order',
    ...extra,
  });

const one = (
  key: string,
  head: string,
  label: string,
  unit: string,
  min: number,
  max: number,
  glossary: string,
  extra: Extra = {},
) =>
  column(key, head, label, glossary, {
    kind: 'number',
    unit,
    min,
    max,
    group: 'lens',
    source: 'order',
    ...extra,
  });

const yesNo = (key: string, head: string, label: string, glossary: string, extra: Extra = {}) =>
  column(key, head, label, glossary, { kind: 'yes/no', group: 'hand-over', source: 'hand-over', ...extra });

const day = (
  key: string,
  head: string,
  label: string,
  glossary: string,
  alsoWritten: readonly string[],
  extra: Extra = {},
) => column(key, head, label, glossary, { kind: 'date', group: 'dates', alsoWritten, ...extra });

/**
 * Every quantity that can come in with a job: the columns of the CSV templates, the fields of the form, the keys of the
 * JSON, the facts of the job and the glossary are all read from here. Ranges are what is possible on a face and in a
 * spectacle lens, wide enough to refuse only slips of the pen (common practice, no source).
 */
export const QUANTITIES: readonly Quantity[] = [
  column('job_number', 'job number', 'Job number', 'The number that the shop itself gave to this order.', {
    longest: 60,
    alsoWritten: [
      'job',
      'job no',
      'job nr',
      'job id',
      'order number',
      'order no',
      'docket',
      'docket number',
      'work order',
      'tray number',
    ],
    short: true,
  }),
  column('name', 'name', 'Wearer’s name', 'Who wears the glasses.', {
    longest: 200,
    alsoWritten: [
      'wearer',
      'wearer name',
      'patient',
      'patient name',
      'customer',
      'customer name',
      'client',
      'full name',
    ],
    group: 'wearer',
    short: true,
  }),
  column('phone', 'phone', 'Mobile phone', 'The number for texts and calls.', {
    longest: 60,
    alsoWritten: [
      'mobile',
      'cell',
      'cell phone',
      'mobile phone',
      'telephone',
      'tel',
      'phone number',
      'mobile number',
    ],
    group: 'wearer',
    short: true,
  }),
  column('email', 'email', 'Email', 'The address for email.', {
    longest: 254,
    alsoWritten: ['e mail', 'mail', 'email address', 'e mail address'],
    group: 'wearer',
    short: true,
  }),
  column('consent', 'consent', 'May we write?', 'Whether the wearer agreed to be written to, and how.', {
    kind: 'consent',
    choices: ['yes', 'text', 'email', 'both', 'no'],
    alsoWritten: ['consent to messages', 'may we write', 'contact consent', 'agreed', 'opt in', 'permission'],
    group: 'wearer',
    short: true,
  }),
  day(
    'handed_over_on',
    'handed over on',
    'Handed over on',
    'The day on which the wearer got the glasses at the counter.',
    [
      'handed over',
      'hand over',
      'hand over date',
      'delivered',
      'delivered on',
      'delivery date',
      'dispensed',
      'dispensed on',
      'dispense date',
      'collected',
      'collected on',
      'collection date',
      'picked up',
      'pick up date',
    ],
    { short: true },
  ),
  column(
    'lens_design',
    'lens design',
    'Lens design',
    'Which lens was ordered, as it stands in the lens book.',
    {
      longest: 200,
      alsoWritten: ['design', 'lens', 'lens type and design', 'product', 'lens product'],
      group: 'lens',
      short: true,
    },
  ),
  column(
    'first_multifocal',
    'first multifocal',
    'First multifocals?',
    'Yes where the wearer never wore multifocals before.',
    {
      kind: 'yes/no',
      alsoWritten: [
        'first multifocals',
        'first progressive',
        'first progressives',
        'first varifocal',
        'first varifocals',
        'first time',
        'first time wearer',
        'new wearer',
        'new to multifocals',
      ],
      group: 'wearer',
      short: true,
    },
  ),

  column(
    'zone',
    'zone',
    'Time zone',
    'The wearer’s time zone by its IANA name, for example America/Chicago.',
    {
      longest: 60,
      alsoWritten: ['time zone', 'timezone', 'tz'],
      group: 'wearer',
    },
  ),
  column('country', 'country', 'Country', 'Two letters (ISO 3166) or the English name.', {
    longest: 60,
    group: 'wearer',
  }),
  column('region', 'state', 'State or province', 'State, province or county: it narrows the time zone.', {
    longest: 60,
    alsoWritten: ['region', 'province', 'county', 'state or province'],
    group: 'wearer',
  }),
  column('postcode', 'postcode', 'Postcode', 'Postal code: it narrows the time zone.', {
    longest: 12,
    alsoWritten: ['zip', 'zip code', 'post code', 'postal code'],
    group: 'wearer',
  }),
  column('prefers', 'prefers', 'Best reached by', 'Which way the wearer likes to be reached.', {
    kind: 'choice',
    choices: ['text', 'email', 'phone'],
    alsoWritten: ['preferred contact', 'contact by', 'best reached by', 'contact preference'],
    group: 'wearer',
  }),
  column('locale', 'language', 'Language', 'Language of the messages, for example en or es.', {
    longest: 12,
    alsoWritten: ['locale', 'lang'],
    group: 'wearer',
  }),
  column(
    'birth_year',
    'birth year',
    'Year of birth',
    'Year of birth: the age says what the eyes can still do near.',
    {
      kind: 'number',
      unit: 'year',
      min: 1900,
      max: 2100,
      alsoWritten: ['year of birth', 'born', 'yob'],
      group: 'wearer',
    },
  ),
  one(
    'height_cm',
    'wearer height',
    'Wearer’s height',
    'cm',
    100,
    230,
    'How tall the wearer is: tall people look down through the lens differently.',
    {
      alsoWritten: ['body height'],
      group: 'wearer',
    },
  ),
  column('way', 'way', 'Counter or post', 'How the glasses reach the wearer.', {
    kind: 'choice',
    choices: ['counter', 'post'],
    alsoWritten: ['delivery', 'delivery method', 'how delivered'],
  }),
  column('lab', 'lab', 'Lab', 'Which lab made the lenses.', {
    longest: 200,
    alsoWritten: ['laboratory', 'lens lab'],
  }),
  column('sold_by', 'sold by', 'Sold by', 'Who sold the lenses.', {
    longest: 200,
    alsoWritten: ['seller', 'dispensed by', 'salesperson'],
  }),

  day('ordered_on', 'ordered on', 'Ordered on', 'The day on which the lab was asked for the lenses.', [
    'ordered',
    'order date',
    'date ordered',
  ]),
  day(
    'lab_invoiced_on',
    'lab invoiced on',
    'Lab invoiced on',
    'The day on the lab’s invoice: many labs count their remake window from it.',
    ['invoiced', 'invoiced on', 'lab invoice date', 'invoice date', 'lab invoice'],
  ),
  day('received_on', 'received on', 'Received on', 'The day on which the glasses came from the lab.', [
    'received',
    'received from lab',
    'date received',
    'in shop on',
  ]),
  day('posted_on', 'posted on', 'Posted on', 'The day on which the parcel left for the wearer.', [
    'posted',
    'shipped',
    'shipped on',
    'mailed',
    'mailed on',
    'ship date',
    'sent on',
  ]),
  day('arrived_on', 'arrived on', 'Arrived on', 'The day on which the parcel reached the wearer.', [
    'arrived',
    'arrival date',
  ]),
  day('first_worn_on', 'first worn on', 'First worn on', 'Day 0 of everything that the wearer feels.', [
    'first worn',
    'first wear date',
    'wearing since',
  ]),

  power('rx', 'prescription', 'Prescription', 'order', 'The powers that the prescriber wrote.', [
    'rx',
    'prescribed',
  ]),
  power('order', 'order', 'As ordered', 'order', 'The powers that the lab was asked for.', [
    'ordered',
    'as ordered',
    '',
  ]),
  power(
    'as_worn',
    'as worn',
    'As worn',
    'lab form',
    'The lab’s compensated powers: what a lensmeter should read so that the wearer gets the order in the as-worn position.',
    ['compensated', 'verification power', 'verification', 'lab'],
  ),
  power('read', 'checked', 'Checked', 'lensmeter', 'What our own lensmeter read on the finished pair.', [
    'read',
    'lensmeter',
    'verified',
    'as checked',
    'measured',
  ]),
  power('prev', 'previous', 'Previous pair', 'lensmeter', 'Powers of the pair worn before.', [
    'prev',
    'previous pair',
    'old',
    'old pair',
    'habitual',
  ]),
  add('add_D', 'prescription add', 'Add, prescribed', 'order', ['prescribed add', 'rx add']),
  add('order_add_D', 'order add', 'Add, as ordered', 'order', [
    'add',
    'ordered add',
    'addition',
    'near add',
    'as ordered add',
  ]),
  add('as_worn_add_D', 'as worn add', 'Add, as worn', 'lab form', ['compensated add', 'lab add']),
  add('read_add_D', 'checked add', 'Add, checked', 'lensmeter', [
    'read add',
    'lensmeter add',
    'measured add',
  ]),
  add('prev_add_D', 'previous add', 'Add, previous pair', 'lensmeter', [
    'prev add',
    'old add',
    'previous pair add',
  ]),
  ...prism('order_prism', 'order prism', 'Prism, as ordered', 'order', [
    'prism',
    'ordered prism',
    'prescribed prism',
  ]),
  ...prism('as_worn_prism', 'as worn prism', 'Prism, as worn', 'lab form', [
    'lab prism',
    'compensated prism',
  ]),
  ...prism('read_prism', 'checked prism', 'Prism, checked', 'lensmeter', [
    'read prism',
    'lensmeter prism',
    'measured prism',
  ]),

  eachMm(
    'wearer_pd_mm',
    'PD',
    'Monocular PD, distance',
    20,
    42,
    'From the middle of the nose to the pupil, looking far; one eye at a time.',
    {
      together: { min: 44, max: 84 },
      alsoWritten: [
        'mono pd',
        'monocular pd',
        'distance pd',
        'far pd',
        'dpd',
        'wearer pd',
        'pupillary distance',
        'pd distance',
      ],
    },
  ),
  eachMm(
    'near_pd_mm',
    'near PD',
    'Monocular PD, near',
    18,
    40,
    'From the middle of the nose to the line of sight at reading distance.',
    {
      together: { min: 43, max: 80 },
      alsoWritten: ['npd', 'pd near', 'reading pd', 'near monocular pd'],
    },
  ),
  eachMm(
    'made_pd_mm',
    'checked PD',
    'PD of the crosses, checked',
    20,
    42,
    'Where the fitting crosses of the finished pair stand, from the middle of the bridge.',
    {
      together: { min: 44, max: 84 },
      alsoWritten: ['made pd', 'measured pd', 'read pd', 'lens pd'],
      source: 'lensmeter',
    },
  ),
  eachMm(
    'fitting_height_mm',
    'fitting height',
    'Fitting height',
    8,
    45,
    'From the lowest edge of the lens up to the fitting cross.',
    {
      alsoWritten: [
        'height',
        'heights',
        'seg height',
        'segment height',
        'fh',
        'fitting heights',
        'oc height',
      ],
    },
  ),
  eachMm(
    'made_height_mm',
    'checked fitting height',
    'Fitting height, checked',
    8,
    45,
    'Height of the cross on the finished pair, from the lowest edge of the lens.',
    {
      alsoWritten: ['made height', 'checked height', 'made fitting height'],
      source: 'lensmeter',
    },
  ),
  column(
    'measured',
    'how measured',
    'How measured',
    'How PD and heights were taken, for example seated, standing, with which tool.',
    {
      longest: 200,
      alsoWritten: ['measured how', 'measuring method', 'method'],
      group: 'measures',
      source: 'order',
    },
  ),
  column('measured_by', 'measured by', 'Measured by', 'Who took PD and heights.', {
    longest: 200,
    alsoWritten: ['measurer', 'taken by'],
    group: 'measures',
    source: 'order',
  }),
  one(
    'vertex_assumed_mm',
    'vertex assumed',
    'Vertex distance, assumed',
    'mm',
    4,
    25,
    'Distance from lens to eye that the order was made for.',
    { alsoWritten: ['assumed vertex', 'ordered vertex', 'vertex ordered', 'bvd assumed'], group: 'measures' },
  ),
  one(
    'tilt_assumed_deg',
    'tilt assumed',
    'Tilt, assumed',
    'deg',
    -10,
    30,
    'Forward tilt of the lenses that the order was made for.',
    {
      alsoWritten: ['assumed tilt', 'ordered tilt', 'tilt ordered', 'panto assumed', 'pantoscopic assumed'],
      group: 'measures',
      sign: 'Plus: lower edge nearer the cheek.',
    },
  ),
  one(
    'wrap_assumed_deg',
    'wrap assumed',
    'Wrap, assumed',
    'deg',
    -5,
    35,
    'Face form angle that the order was made for.',
    {
      alsoWritten: ['assumed wrap', 'ordered wrap', 'wrap ordered'],
      group: 'measures',
      sign: 'Plus: outer edge nearer the temple.',
    },
  ),
  yesNo(
    'wrap_compensated',
    'wrap compensated',
    'Powers compensated for wrap?',
    'Whether the lab reckoned the powers for the wrap.',
    { group: 'lens', source: 'lab form' },
  ),

  one('frame_a_mm', 'frame A', 'Frame A', 'mm', 30, 75, 'Width of the lens box.', {
    alsoWritten: ['a', 'a size', 'eye size', 'lens width', 'box width', 'hbox', 'frame width a'],
    group: 'frame',
  }),
  one('frame_b_mm', 'frame B', 'Frame B', 'mm', 15, 70, 'Height of the lens box.', {
    alsoWritten: ['b', 'b size', 'lens height', 'box height', 'vbox', 'lens depth'],
    group: 'frame',
  }),
  one('dbl_mm', 'DBL', 'Bridge (DBL)', 'mm', 8, 32, 'Distance between lenses.', {
    alsoWritten: ['bridge', 'distance between lenses', 'bridge size'],
    group: 'frame',
  }),
  yesNo(
    'pads_adjustable',
    'pads adjustable',
    'Pads can be moved?',
    'Whether the frame has nose pads that can be moved.',
    { group: 'frame', source: 'order' },
  ),

  column('lens_type', 'lens type', 'Kind of lens', 'Progressive unless said.', {
    kind: 'choice',
    choices: ['progressive', 'bifocal', 'single-vision', 'room-distance'],
    alsoWritten: ['type of lens'],
    group: 'lens',
    source: 'order',
  }),
  one('base_curve_D', 'base curve', 'Base curve', 'D', 0, 14, 'Nominal power of the front surface.', {
    perEye: true,
    alsoWritten: ['bc', 'front curve'],
  }),
  one(
    'corridor_mm',
    'corridor',
    'Corridor',
    'mm',
    6,
    25,
    'Length from the fitting cross down to the full near power; makers measure it differently.',
    { alsoWritten: ['corridor length'] },
  ),
  one(
    'design_min_height_mm',
    'design min height',
    'Least fitting height of the design',
    'mm',
    8,
    35,
    'The lowest fitting height for which the maker made the design.',
    {
      alsoWritten: [
        'minimum height',
        'min height',
        'minimum fitting height',
        'min fitting height',
        'design minimum height',
      ],
    },
  ),
  column('material', 'material', 'Material', 'Material of the lens, for example resin or glass.', {
    longest: 100,
    alsoWritten: ['lens material'],
    group: 'lens',
    source: 'order',
  }),
  one('refractive_index', 'index', 'Refractive index', 'none', 1.4, 2, 'Refractive index of the material.', {
    alsoWritten: ['refractive index', 'n'],
  }),
  one('abbe', 'Abbe', 'V number', 'none', 20, 95, 'V number (Abbe): the lower, the more colour fringes.', {
    alsoWritten: ['abbe number', 'v number', 'v value'],
  }),
  yesNo(
    'antireflection',
    'antireflection',
    'Anti-reflection coating?',
    'Whether the lenses were ordered with an anti-reflection coating.',
    {
      alsoWritten: ['anti reflection', 'ar', 'ar coating', 'anti reflective', 'antireflective', 'mar'],
      group: 'lens',
      source: 'order',
    },
  ),
  column('coating', 'coating', 'Other treatment', 'Hard coat, water-repellent coat, filter and the like.', {
    longest: 200,
    alsoWritten: ['treatment', 'treatments', 'coatings'],
    group: 'lens',
    source: 'order',
  }),
  yesNo('light_reactive', 'light-reactive', 'Light-reactive?', 'Whether the lenses darken in sunlight.', {
    alsoWritten: ['light reactive', 'photochromic', 'light sensitive', 'reactive'],
    group: 'lens',
    source: 'order',
  }),
  column(
    'light_reactive_grade',
    'light-reactive grade',
    'Light-reactive grade',
    'Colour, strength or speed of the light-reactive lens, in the shop’s words.',
    {
      longest: 100,
      alsoWritten: ['photochromic grade', 'reactive grade', 'tint grade'],
      group: 'lens',
      source: 'order',
    },
  ),

  eachMm(
    'vertex_mm',
    'vertex',
    'Vertex distance, worn',
    4,
    25,
    'Distance from the back of the lens to the eye, as worn.',
    {
      alsoWritten: ['vertex distance', 'bvd', 'back vertex distance', 'vertex worn'],
      group: 'hand-over',
      source: 'hand-over',
    },
  ),
  one('tilt_deg', 'tilt', 'Tilt, worn', 'deg', -10, 30, 'Forward tilt of the lenses on the face.', {
    alsoWritten: ['panto', 'pantoscopic tilt', 'pantoscopic angle', 'pantoscopic', 'tilt worn'],
    group: 'hand-over',
    source: 'hand-over',
    sign: 'Plus: lower edge nearer the cheek.',
  }),
  one(
    'wrap_deg',
    'wrap',
    'Wrap, worn',
    'deg',
    -5,
    35,
    'How far the lenses wrap round the face (face form angle).',
    {
      alsoWritten: ['face form', 'face form angle', 'wrap angle', 'wrap worn', 'ztilt'],
      group: 'hand-over',
      source: 'hand-over',
      sign: 'Plus: outer edge nearer the temple.',
    },
  ),
  eachMm(
    'cross_above_pupil_mm',
    'cross above pupil',
    'Cross above pupil',
    -10,
    10,
    'Where the fitting cross stands against the pupil in the wearer’s own posture.',
    {
      alsoWritten: ['cross height error', 'cross to pupil'],
      group: 'hand-over',
      source: 'hand-over',
      sign: 'Plus: cross above the pupil.',
    },
  ),
  eachMm(
    'cross_nasal_mm',
    'cross nasal',
    'Cross towards the nose',
    -10,
    10,
    'How far the fitting cross stands towards the nose from the pupil.',
    {
      alsoWritten: ['cross nasal of pupil'],
      group: 'hand-over',
      source: 'hand-over',
      sign: 'Plus: cross nearer the nose than the pupil.',
    },
  ),
  one(
    'marks_tilt_deg',
    'marks tilt',
    'Tilt of the engraved line',
    'deg',
    -20,
    20,
    'How far the line through the engravings is turned from level.',
    {
      perEye: true,
      alsoWritten: ['engraving tilt'],
      group: 'hand-over',
      source: 'hand-over',
      sign: 'Plus: counter-clockwise as seen facing the wearer.',
    },
  ),
  yesNo(
    'slips',
    'slips',
    'Slips in the slip test?',
    'Whether the frame slides when the wearer looks down and shakes the head.',
    { alsoWritten: ['slip test', 'frame slips'] },
  ),
  yesNo(
    'cheek_contact',
    'cheek contact',
    'Touches the cheeks?',
    'Whether the lenses or the rim touch the cheeks.',
  ),
  yesNo('brow_contact', 'brow contact', 'Touches the brows?', 'Whether the rim touches the brows.'),

  column('previous_lens', 'previous lens', 'Worn before', 'Which kind of lens the wearer had before.', {
    kind: 'choice',
    choices: ['none', 'single-vision', 'readers', 'bifocal', 'progressive'],
    alsoWritten: ['previous lens kind', 'previous lens type', 'old lens', 'worn before'],
    group: 'previous pair',
    source: 'order',
  }),
  one(
    'prev_base_curve_D',
    'previous base curve',
    'Base curve, previous pair',
    'D',
    0,
    14,
    'Front curve of the pair worn before.',
    { alsoWritten: ['prev base curve', 'old base curve'], perEye: true, group: 'previous pair' },
  ),
  yesNo(
    'prev_antireflection',
    'previous antireflection',
    'Previous pair with anti-reflection?',
    'Whether the pair worn before had an anti-reflection coating.',
    { group: 'previous pair', source: 'order' },
  ),
];

const BY_KEY = new Map(QUANTITIES.map((quantity) => [quantity.key, quantity]));

/** The quantity of a key; undefined for a key that is not in the table. */
export const quantityOf = (key: string): Quantity | undefined => BY_KEY.get(key);

/** Heads of the short template: the eight columns that start a follow-up. */
export const shortTemplateHeads = (): string[] =>
  QUANTITIES.filter((quantity) => quantity.short).map(({ head }) => head);

/** Heads of the full template: every quantity, those of each eye with R and L. */
export const fullTemplateHeads = (): string[] =>
  QUANTITIES.flatMap(({ head, perEye }) => (perEye ? [`${head} R`, `${head} L`] : [head]));

/** Names of the fields of a form: the keys, those of each eye with _R and _L. */
export const fieldNames = (): string[] =>
  QUANTITIES.flatMap(({ key, perEye }) => (perEye ? [`${key}_R`, `${key}_L`] : [key]));
