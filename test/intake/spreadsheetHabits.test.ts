import { describe, expect, it } from 'vitest';
import type { IntakeOptions } from '../../src/intake/jobFromCells.ts';
import { fullTemplateHeads, shortTemplateHeads } from '../../src/intake/quantities.ts';
import { type Intake, readCsv } from '../../src/intake/readCsv.ts';

const OPTIONS: IntakeOptions = { country: 'US', invented: true, today: '2026-11-25' };
const HEADS = 'job number,name,phone,email,consent,handed over on,lens design,first multifocal';
const LINE = '1001,Ann Example,(212) 555-0123,ann@example.com,yes,2026-11-03,Generic 14,yes';

const read = (text: string | Uint8Array, more: Partial<IntakeOptions> = {}) =>
  readCsv(text, { ...OPTIONS, ...more });
const one = (intake: Intake) => {
  if (intake.refused.length > 0) throw new Error(JSON.stringify(intake.refused));
  expect(intake.jobs.length).toBe(1);
  return intake.jobs[0]!.job;
};
/** One job with more columns behind those of the short template. */
const withColumns = (columns: Record<string, string>, more: Partial<IntakeOptions> = {}) => {
  const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
  const heads = [HEADS, ...Object.keys(columns).map(quoted)].join(',');
  return read(`${heads}\n${[LINE, ...Object.values(columns).map(quoted)].join(',')}\n`, more);
};
const facts = (intake: Intake) => one(intake).facts.map(({ key, eye, value }) => [key, eye, value]);
const codes = (intake: Intake) => intake.refused.flatMap(({ problems }) => problems.map(({ code }) => code));
const replaced = (column: string, text: string) => {
  const heads = HEADS.split(',');
  const cells = LINE.split(',');
  cells[heads.indexOf(column)] = text;
  return `${HEADS}\n${cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(',')}\n`;
};

describe('the way a file is written', () => {
  const plain = read(`${HEADS}\n${LINE}\n`);

  it('reads the short template', () => {
    expect(one(plain)).toEqual({
      jobNumber: '1001',
      wearer: {
        name: 'Ann Example',
        phoneE164: '+12125550123',
        email: 'ann@example.com',
        prefers: 'text',
        locale: 'en',
        country: 'US',
      },
      consent: { given: true, channels: ['text', 'email'], basis: 'column “consent” (E) says “yes”' },
      way: 'counter',
      dates: { handedOverOn: '2026-11-03' },
      lensDesign: 'Generic 14',
      firstMultifocal: true,
      facts: [],
    });
  });

  const text = `${HEADS}\n${LINE}\n`;
  it.each([
    ['a byte order mark', `\ufeff${text}`],
    ['a byte order mark in bytes', new TextEncoder().encode(`\ufeff${text}`)],
    ['UTF-16 with its mark', new Uint8Array(Buffer.from(`\ufeff${text}`, 'utf16le'))],
    ['UTF-16 without a mark', new Uint8Array(Buffer.from(text, 'utf16le'))],
    ['UTF-16 the other way about', new Uint8Array(Buffer.from(`\ufeff${text}`, 'utf16le').swap16())],
    ['CRLF', text.replaceAll('\n', '\r\n')],
    ['CR alone', text.replaceAll('\n', '\r')],
    ['semicolons', text.replaceAll(',', ';')],
    ['tabs', text.replaceAll(',', '\t')],
    ['a first line that names the separator', `sep=;\n${text.replaceAll(',', ';')}`],
    ['no line end at the end', text.trimEnd()],
    ['empty lines and lines of separators', `\n${HEADS}\n\n,,,,,,,\n${LINE}\n,,,,,,,\n\n`],
    ['trailing separators', text.replaceAll('\n', ',,\n')],
    ['everything in quotation marks', text.replace(/[^,\n]+/g, '"$&"')],
    ['spaces round the cells', text.replaceAll(',', ' , ')],
  ])('survives %s', (_habit, written) => expect(one(read(written))).toEqual(one(plain)));

  it.each([
    'Job Number,NAME,Mobile,E-mail,May we write?,Delivered,Design,First progressive',
    'job_number,Patient Name,phone_number,Email Address,Consent,Hand-over date,lens,First time',
    'JobNumber,wearer,cell phone,mail,opt-in,dispensed on,lensDesign,firstMultifocal',
    '"Order No.",client,TEL,E-MAIL,PERMISSION,Collected,"Lens  design",first varifocals',
  ])('knows the heads %s', (heads) => expect(one(read(`${heads}\n${LINE}`)).wearer.name).toBe('Ann Example'));

  it('counts only lines that hold something', () => {
    expect(read(`${HEADS}\n\n,,,,,,,\n${LINE}\n1,"\n`).notes.lines).toBe(2);
  });

  it('keeps accents of a file in Windows-1252 and says so', () => {
    const bytes = new Uint8Array(Buffer.from(text.replace('Ann', 'Zoë'), 'latin1'));
    const intake = read(bytes);
    expect(one(intake).wearer.name).toBe('Zoë Example');
    expect(intake.notes.warnings[0]?.what).toMatch(/Windows-1252/);
  });

  it('counts lines as an editor does, also behind a cell of two lines', () => {
    const intake = read(`${HEADS}\n1,"Ann\nExample",,,,,Generic,\n2,,,,,,Generic,\n`);
    expect(intake.refused.map(({ line }) => line)).toEqual([2, 4]);
    expect(codes(intake)).toEqual(['cell-over-lines', 'name-missing']);
  });

  it('lets a stray quotation mark spoil its own line only', () => {
    const intake = read(
      `${HEADS}\n1,"Ann,,,,,Generic,\n2,Bo,,,,,Generic,\n3,"Example, Cy",,,,,Generic,\n4,"Dee" Example,,,,,Generic,\n`,
    );
    expect(intake.jobs.map(({ line }) => line)).toEqual([3, 4]);
    expect(intake.refused.map(({ line, problems }) => [line, problems[0]?.code])).toEqual([
      [2, 'line-broken'],
      [5, 'line-broken'],
    ]);
  });

  it('tells columns that it does not know and leaves them aside', () => {
    const intake = read(`${HEADS},Remarks\n${LINE},likes blue\n`);
    expect(one(intake)).toEqual(one(plain));
    expect(intake.notes.unknownColumns).toEqual(['Remarks']);
  });

  it.each([
    ['no heads', `${LINE}\n${LINE}`, 'heads-missing'],
    ['an empty file', '', 'heads-missing'],
    ['no column for the name', 'job number,lens design\n1,Generic', 'column-missing'],
    ['two columns for one thing', `${HEADS},mobile\n${LINE},212 555 0124`, 'column-twice'],
  ])('refuses a file with %s', (_what, written, code) => expect(codes(read(written))).toContain(code));

  it('refuses a line with more cells than heads', () => {
    const intake = read(`${HEADS}\n${LINE},stray\n`);
    expect(intake.refused[0]?.problems[0]).toMatchObject({
      code: 'too-many-cells',
      column: 'column I',
      found: 'stray',
    });
  });

  it('tells all problems of a line at once', () => {
    const intake = read(`${HEADS}\n,,212,ann,perhaps,2026-13-01,,maybe\n`);
    expect(codes(intake)).toEqual([
      'name-missing',
      'design-missing',
      'job-number-missing',
      'phone-impossible',
      'email-malformed',
      'consent-unread',
      'yes-no-unread',
      'date-impossible',
    ]);
  });

  it('reads its own templates', () => {
    for (const heads of [shortTemplateHeads(), fullTemplateHeads()]) {
      const cells = heads.map(
        (head) => ({ 'job number': '1', name: 'Ann Example', 'lens design': 'Generic' })[head] ?? '',
      );
      const intake = read(`${heads.join(',')}\n${cells.join(',')}`);
      expect(one(intake).jobNumber).toBe('1');
      expect(intake.notes.unknownColumns).toEqual([]);
    }
    expect(shortTemplateHeads().join(',')).toBe(HEADS);
  });
});

describe('job numbers', () => {
  it('counts a line that comes again word for word, and refuses another job of the same number', () => {
    const intake = read(`${HEADS}\n${LINE}\n${LINE}\n${LINE.replace('Ann', 'Bo')}\n`);
    expect(intake.jobs.length).toBe(1);
    expect(intake.notes.sameLines).toEqual([3]);
    expect(intake.refused).toMatchObject([{ line: 4, problems: [{ code: 'job-number-twice' }] }]);
    expect(intake.refused[0]?.problems[0]?.what).toContain('line 2');
  });

  it('makes them of wearer, design and date where the file has none at all', () => {
    const intake = read(
      'name,lens design,ordered on\nAnn Example,Generic 14,2026-11-03\nBo Example,Generic 14,\n',
    );
    expect(intake.jobs.map(({ job }) => job.jobNumber)).toEqual(['Ann Example / Generic 14 / 2026-11-03']);
    expect(codes(intake)).toEqual(['job-number-unmade']);
  });
});

describe('consent and contact', () => {
  it.each([
    ['yes', true, ['text', 'email']],
    ['YES ', true, ['text', 'email']],
    ['both', true, ['text', 'email']],
    ['text + email', true, ['text', 'email']],
    ['SMS', true, ['text']],
    ['text', true, ['text']],
    ['e-mail', true, ['email']],
    ['no', false, []],
    ['', false, []],
  ])('reads %j', (word, given, channels) => {
    const { consent, neverMessaged } = one(read(replaced('consent', word)));
    expect([consent.given, consent.channels]).toEqual([given, channels]);
    expect(neverMessaged).toBe(given ? undefined : 'no consent');
  });

  it('rings who wants to be rung', () => {
    const job = one(read(replaced('consent', 'phone only')));
    expect([job.wearer.prefers, job.consent.given]).toEqual(['phone', false]);
  });

  it('takes a wearer without contact in, and never messages them', () => {
    const intake = read(
      `${HEADS}\n1,Ann Example,,,yes,2026-11-03,Generic,\n2,Bo Example,,bo@example.com,,,Generic,\n`,
    );
    expect(intake.jobs.map(({ job }) => job.neverMessaged)).toEqual(['no contact', 'no consent']);
    expect(intake.notes.neverMessaged).toEqual({ noContact: 1, noConsent: 1 });
  });

  it('does not text a number with an extension', () => {
    const intake = read(replaced('phone', '+1 212 555 0123 ext. 4'));
    expect(one(intake).consent.channels).toEqual(['email']);
    expect(intake.notes.warnings[0]?.what).toMatch(/cannot take a text/);
  });

  it('takes only numbers and addresses that reach nobody into the invented shop, any into one’s own', () => {
    const text = replaced('phone', '212 555 0200').replace('ann@example.com', 'ann@examples.org');
    expect(codes(read(text))).toEqual(['phone-real', 'email-real']);
    expect(one(read(text, { invented: false })).wearer.email).toBe('ann@examples.org');
  });

  it('reads a number by the country of its line', () => {
    const job = one(read(`${HEADS},country\n${LINE.replace('(212) 555-0123', '07700 900123')},UK\n`));
    expect([job.wearer.phoneE164, job.wearer.country]).toEqual(['+447700900123', 'GB']);
  });
});

describe('dates', () => {
  const day = (text: string, more: Partial<IntakeOptions> = {}) => {
    const intake = read(replaced('handed over on', text), more);
    return codes(intake)[0] ?? one(intake).dates.handedOverOn;
  };

  it.each([
    ['2026-11-03', '2026-11-03'],
    ['2026/11/3', '2026-11-03'],
    ['20261103', '2026-11-03'],
    ['2026-11-03T14:30:00Z', '2026-11-03'],
    ['3 Nov 2026', '2026-11-03'],
    ['03-Nov-26', '2026-11-03'],
    ['November 3, 2026', '2026-11-03'],
    ['13/11/2026', '2026-11-13'],
    ['11/13/2026 09:15', '2026-11-13'],
    ['11.11.2026', '2026-11-11'],
    ['03/04/2026', 'date-ambiguous'],
    ['13/14/2026', 'date-ambiguous'],
    ['03/11/26', 'date-ambiguous'],
    ['2026-02-30', 'date-impossible'],
    ['2026-11-26', 'date-in-future'],
    ['2002-11-26', 'date-too-old'],
    ['45964', 'date-is-a-day-number'],
    ['last week', 'date-unread'],
  ])('without a declared order reads %s as %s', (text, wanted) => expect(day(text)).toBe(wanted));

  it('reads 03/04/2026 in the declared order', () => {
    expect(day('03/04/2026', { dateOrder: 'dmy' })).toBe('2026-04-03');
    expect(day('03/04/2026', { dateOrder: 'mdy' })).toBe('2026-03-04');
    expect(day('26/04/03', { dateOrder: 'ymd' })).toBe('2026-04-03');
    expect(day('2026-11-03', { dateOrder: 'dmy' })).toBe('2026-11-03');
  });

  it('does not change the declared order for a day that does not fit', () => {
    expect(day('13/04/2026', { dateOrder: 'mdy' })).toBe('date-impossible');
  });

  it('keeps the seven days apart', () => {
    const job = one(
      withColumns({
        'ordered on': '2026-10-20',
        'lab invoiced on': '2026-10-25',
        'received on': '2026-10-28',
        'posted on': '',
        'arrived on': '',
        'first worn on': '2026-11-04',
      }),
    );
    expect(job.dates).toEqual({
      orderedOn: '2026-10-20',
      labInvoicedOn: '2026-10-25',
      receivedOn: '2026-10-28',
      handedOverOn: '2026-11-03',
      firstWornOn: '2026-11-04',
    });
  });

  it('refuses a hand-over before the order and a first wear before the hand-over', () => {
    const intake = withColumns({ 'ordered on': '2026-11-04', 'first worn on': '2026-11-01' });
    expect(codes(intake)).toEqual(['dates-out-of-order', 'dates-out-of-order']);
  });

  it('takes a posted pair as posted', () => {
    const job = one(read(`${HEADS},posted on\n${LINE.replace('2026-11-03', '')},2026-11-02\n`));
    expect([job.way, job.dates]).toEqual(['post', { postedOn: '2026-11-02' }]);
  });
});

describe('powers', () => {
  it.each([
    ['-2.00 / -0.50 x 90', [-2, -0.5, 90]],
    ['-2.00 -0.50 x 90', [-2, -0.5, 90]],
    ['-2.00-0.50x90', [-2, -0.5, 90]],
    ['-2,00 / -0,50 x 90', [-2, -0.5, 90]],
    ['\u22122.00 \u22120.50 \u00d7 90\u00b0', [-2, -0.5, 90]],
    ['-2.00 (-0.50) ax 90', [-2, -0.5, 90]],
    ['-2.00 DS -0.50 DC x 90', [-2, -0.5, 90]],
    ['-2.50 +0.50 x 90', [-2, -0.5, 180]],
    ['plano +1.00 x 0', [1, -1, 90]],
    ['pl -0.50 x 0', [0, -0.5, 180]],
    ['plano', [0, 0, 180]],
    ['PL', [0, 0, 180]],
    ['-2.00 DS', [-2, 0, 180]],
    ['+2', [2, 0, 180]],
    ['- 2.00', [-2, 0, 180]],
    ['-2.00 sph', [-2, 0, 180]],
  ])('reads %s in one cell', (text, wanted) => {
    expect(facts(withColumns({ 'order R': text }))).toEqual([['order', 'R', wanted]]);
  });

  it.each([
    ['sphere R', 'cyl R', 'axis R'],
    ['R sph', 'R cyl', 'R axis'],
    ['OD Sphere', 'OD Cylinder', 'OD Axis'],
    ['Right sphere (D)', 'Right cyl (D)', 'Right axis (deg)'],
    ['order_R_sphere', 'order_R_cylinder', 'order_R_axis'],
  ])('reads three columns %s, %s, %s', (sphere, cylinder, axis) => {
    expect(facts(withColumns({ [sphere]: '-2.00', [cylinder]: '+0.50', [axis]: '0' }))).toEqual([
      ['order', 'R', [-1.5, -0.5, 90]],
    ]);
    expect(facts(withColumns({ [sphere]: 'plano', [cylinder]: 'DS', [axis]: '' }))).toEqual([
      ['order', 'R', [0, 0, 180]],
    ]);
  });

  it.each([
    ['order L', 'order'],
    ['as worn OS', 'as_worn'],
    ['checked left', 'read'],
    ['lensmeter L', 'read'],
    ['previous pair L', 'prev'],
    ['Rx L', 'rx'],
  ])('keeps the pairs apart: %s is %s', (head, key) => {
    expect(facts(withColumns({ [head]: '-1.00' }))).toEqual([[key, 'L', [-1, 0, 180]]]);
  });

  it.each([
    [{ 'order R': '-200' }, 'sphere-out-of-range'],
    [{ 'order R': '-2.00 -0.50' }, 'axis-missing'],
    [{ 'order R': '-2.00 -0.50 x 181' }, 'axis-out-of-range'],
    [{ 'order R': '-2.00 -50 x 90' }, 'cylinder-out-of-range'],
    [{ 'order R': 'balance' }, 'power-unread'],
    [{ 'order R': '-2.00 -0.50 x 90 add 2.00' }, 'power-unread'],
    [{ 'sphere R': '', 'cyl R': '-0.50', 'axis R': '90' }, 'sphere-missing'],
    [{ 'sphere R': '-1', 'cyl R': '', 'axis R': '35' }, 'cylinder-missing'],
    [{ 'sphere R': '-1', 'cyl R': '-0.50', 'axis R': '' }, 'axis-missing'],
    [{ 'order R': '-1.00', 'order R sphere': '-1.00' }, 'said-twice'],
    [{ add: '22' }, 'number-out-of-range'],
    [{ 'prism R': '1' }, 'prism-unread'],
    [{ 'prism R': '1 up 2 up' }, 'prism-unread'],
    [{ prism: '1 up' }, 'eye-missing'],
  ])('refuses %j: %s', (columns, code) => expect(codes(withColumns(columns))).toEqual([code]));

  it('offers the decimal point where it was left out', () => {
    expect(withColumns({ 'order R': '-200' }).refused[0]?.problems[0]?.mend).toContain('-2.00');
  });

  it.each([
    ['0.5 down', -0.5, 0],
    ['1 BI', 0, 1],
    ['0,5 base up / 1 out', 0.5, -1],
    ['BD 0.75', -0.75, 0],
    ['1\u0394 in 2 up', 2, 1],
  ])('reads prism %s', (text, up, inwards) => {
    expect(facts(withColumns({ 'prism L': text }))).toEqual([
      ['order_prism_up_pd', 'L', up],
      ['order_prism_in_pd', 'L', inwards],
    ]);
  });
});

describe('measures', () => {
  it('reads PD as right and left', () => {
    for (const text of [
      '31/30',
      '31 / 30',
      '31;30',
      'R 31 L 30',
      '31 mm / 30 mm',
      '31 30',
      'OD: 31 OS: 30',
    ]) {
      expect(facts(withColumns({ PD: text })), text).toEqual([
        ['wearer_pd_mm', 'R', 31],
        ['wearer_pd_mm', 'L', 30],
      ]);
    }
    expect(facts(withColumns({ PD: '31,5/30,5' })).map(([, , value]) => value)).toEqual([31.5, 30.5]);
    expect(facts(withColumns({ 'PD R': '31', 'PD L (mm)': '30' })).map(([, , value]) => value)).toEqual([
      31, 30,
    ]);
  });

  it('splits one PD equally and marks that nobody measured it so', () => {
    const job = one(withColumns({ PD: '63' }));
    expect(job.facts.map(({ value }) => value)).toEqual([31.5, 31.5]);
    for (const { how } of job.facts) expect(how).toContain('split equally');
  });

  it.each([
    ['62/59', 'pd-far-and-near'],
    ['31', 'pd-single-out-of-range'],
    ['120', 'pd-single-out-of-range'],
    ['31/12', 'number-out-of-range'],
    ['about 62', 'number-unread'],
  ])('refuses PD %s', (text, code) => expect(codes(withColumns({ PD: text }))).toEqual([code]));

  it('refuses a near PD over the distance PD, and a height that the frame cannot hold', () => {
    expect(codes(withColumns({ PD: '30/30', 'near PD': '31/29' }))).toEqual(['near-pd-over-far']);
    expect(codes(withColumns({ height: '38/20', 'frame B': '38' }))).toEqual(['height-over-frame']);
  });

  it('says who measured and how, at the figures taken from the face', () => {
    const job = one(
      withColumns({
        'fitting height': '20/19',
        'how measured': 'standing',
        'measured by': 'Dee',
        'frame A': '52',
      }),
    );
    const height = job.facts.find(({ key }) => key === 'fitting_height_mm');
    expect(height).toMatchObject({ how: 'standing', by: 'Dee', source: 'order', from: 'line 2', unit: 'mm' });
    expect(job.facts.find(({ key }) => key === 'frame_a_mm')).toMatchObject({ how: '', by: null });
  });

  it('reads decimal commas with semicolons between cells', () => {
    const intake = read(
      `${HEADS.replaceAll(',', ';')};vertex R;tilt\n${LINE.replaceAll(',', ';')};12,5;8,5°\n`,
    );
    expect(facts(intake)).toEqual([
      ['vertex_mm', 'R', 12.5],
      ['tilt_deg', null, 8.5],
    ]);
  });

  it.each([
    ['SV', 'single-vision'],
    ['Varifocal', 'progressive'],
    ['reading', 'readers'],
    ['none', 'none'],
  ])('knows the trade word %s for the lens worn before', (word, wanted) => {
    expect(facts(withColumns({ 'previous lens': word }))).toEqual([['previous_lens', null, wanted]]);
  });
});

describe('cells that a spreadsheet would run', () => {
  it.each(['=HYPERLINK("x")', '+cmd|calc', '-Ann', '@SUM(A1)'])('are data only: %s', (name) => {
    expect(one(read(replaced('name', name))).wearer.name).toBe(name);
  });

  it('refuses names too long, without letters, or with signs that cannot be printed', () => {
    expect(codes(read(replaced('name', 'a'.repeat(201))))).toEqual(['too-long']);
    expect(codes(read(replaced('name', '12345')))).toEqual(['name-without-letters']);
    expect(codes(read(replaced('name', 'Ann\u0000')))).toEqual(['control-signs']);
    expect(codes(read(replaced('name', 'a'.repeat(5000))))).toEqual(['too-long']);
  });
});
