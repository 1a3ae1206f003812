import { describe, expect, it } from 'vitest';
import { dryRun, type JobHere } from '../../src/intake/dryRun.ts';
import { rowDigest, type ValidJob } from '../../src/intake/job.ts';
import type { IntakeOptions } from '../../src/intake/jobFromCells.ts';
import { readCsv } from '../../src/intake/readCsv.ts';
import { readForm } from '../../src/intake/readForm.ts';
import { readJson } from '../../src/intake/readJson.ts';

const OPTIONS: IntakeOptions = { country: 'US', invented: true, today: '2026-11-25' };
const FORM = {
  job_number: '1001',
  name: 'Ann Example',
  phone: '(212) 555-0123',
  email: 'ann@example.com',
  consent: 'yes',
  handed_over_on: '2026-11-03',
  lens_design: 'Generic 14',
  first_multifocal: 'yes',
  order_R: '-2.00 / -0.50 x 90',
  order_L: 'plano',
  wearer_pd_mm_R: '31',
  wearer_pd_mm_L: '30.5',
  birth_year: '1961',
};
const formJob = (fields: Record<string, string> = FORM): ValidJob => {
  const reading = readForm(fields, OPTIONS);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.value.job;
};
const JSON_JOB = {
  jobNumber: '1001',
  wearer: { name: 'Ann Example', phone: '(212) 555-0123', email: 'ann@example.com', birthYear: 1961 },
  consent: true,
  dates: { handedOverOn: '2026-11-03' },
  lensDesign: 'Generic 14',
  firstMultifocal: true,
  order: { R: [-2, -0.5, 90], L: 'plano' },
  wearer_pd_mm: { R: 31, L: 30.5 },
};

describe('a form', () => {
  it('gives a job whose facts say that they come from the form', () => {
    const job = formJob();
    expect(job.wearer.birthYear).toBe(1961);
    expect(job.facts.map(({ key, eye, value, from }) => [key, eye, value, from])).toEqual([
      ['order', 'R', [-2, -0.5, 90], 'form'],
      ['order', 'L', [0, 0, 180], 'form'],
      ['wearer_pd_mm', 'R', 31, 'form'],
      ['wearer_pd_mm', 'L', 30.5, 'form'],
    ]);
  });

  it('tells every problem with the field that it stands in', () => {
    const reading = readForm(
      { ...FORM, name: '', phone: '12', order_R: '-2 -0.5', wearer_pd_mm_L: '300' },
      OPTIONS,
    );
    if (reading.ok) throw new Error('taken');
    expect(reading.problems.map(({ field, code }) => [field, code])).toEqual([
      ['name', 'name-missing'],
      ['phone', 'phone-impossible'],
      ['order_R', 'axis-missing'],
      ['wearer_pd_mm_L', 'number-out-of-range'],
    ]);
    expect(reading.problems[1]?.where).toBe('form, field “Mobile phone”');
  });

  it('leaves buttons and tokens aside', () =>
    expect(formJob({ ...FORM, csrf: 'x', save: '1' })).toEqual(formJob()));
});

describe('JSON', () => {
  const said = (intake: ReturnType<typeof readJson>) => {
    expect(intake.refused).toEqual([]);
    return intake.jobs.map(({ job }) => rowDigest(job));
  };
  const wanted = rowDigest(formJob());

  it('says the same as the form and the CSV, whichever way it is written', () => {
    const flat = { ...FORM, wearer_pd_mm_R: 31, wearer_pd_mm_L: 30.5, first_multifocal: true };
    for (const text of [
      JSON.stringify([JSON_JOB]),
      JSON.stringify({ jobs: [JSON_JOB] }),
      JSON.stringify(JSON_JOB),
      `\ufeff${JSON.stringify(JSON_JOB, null, 2)}`,
      JSON.stringify(flat),
    ]) {
      expect(said(readJson(text, OPTIONS)), text).toEqual([wanted]);
    }
    const csv = readCsv(`${Object.keys(FORM).join(',')}\n${Object.values(FORM).join(',')}`, OPTIONS);
    expect(csv.jobs.map(({ job }) => rowDigest(job))).toEqual([wanted]);
  });

  it('takes one job a line, and tells the line that is none', () => {
    const text = `${JSON.stringify(JSON_JOB)}\n{"name":\n\n${JSON.stringify({ ...JSON_JOB, jobNumber: '1002' })}\n[1]\n`;
    const intake = readJson(text, OPTIONS);
    expect(intake.jobs.map(({ line, job }) => [line, job.jobNumber])).toEqual([
      [1, '1001'],
      [4, '1002'],
    ]);
    expect(intake.refused.map(({ line, problems }) => [line, problems[0]?.code])).toEqual([
      [2, 'entry-unread'],
      [5, 'entry-unread'],
    ]);
  });

  it('tells unknown keys and leaves them aside', () => {
    const intake = readJson(JSON.stringify({ ...JSON_JOB, shoeSize: 42 }), OPTIONS);
    expect(said(intake)).toEqual([wanted]);
    expect(intake.notes.unknownKeys).toEqual(['shoeSize']);
  });

  it('refuses a key that says again what another says', () => {
    const intake = readJson(JSON.stringify({ ...JSON_JOB, job_number: '7' }), OPTIONS);
    expect(intake.refused[0]?.problems[0]?.code).toBe('key-twice');
  });

  it.each(['', 'null', '7', '"text"', '[]x', '{"jobs":[null]}'])('takes no job from %j', (text) => {
    const intake = readJson(text, OPTIONS);
    expect(intake.jobs).toEqual([]);
    expect(intake.refused.length).toBe(1);
  });
});

describe('the dry run', () => {
  const jobs = (...changes: Record<string, string>[]) =>
    changes.map((change, index) => ({ line: index + 2, job: formJob({ ...FORM, ...change }) }));
  const here = (...held: ValidJob[]) =>
    new Map<string, JobHere>(held.map((job) => [job.jobNumber, { digest: rowDigest(job), job }]));

  it('tells new, same and changed apart, and hands on what was refused', () => {
    const refused = [{ line: 9, problems: [] }];
    const taken = jobs({}, { job_number: '1002' }, { job_number: '1003', lens_design: 'Generic 11' });
    const run = dryRun({ jobs: taken, refused }, here(formJob(), formJob({ ...FORM, job_number: '1003' })));
    expect([run.fresh, run.same, run.changed].map((list) => list.map(({ job }) => job.jobNumber))).toEqual([
      ['1002'],
      ['1001'],
      ['1003'],
    ]);
    expect(run.refused).toBe(refused);
  });

  it('says which fields would change, from what to what', () => {
    const [entry] = jobs({
      phone: '',
      email: 'ann@example.org',
      order_R: '-2.25 / -0.50 x 90',
      order_L: '',
      wearer_pd_mm_R: '31.5',
      lab: 'Lab One',
    });
    const run = dryRun({ jobs: [entry!], refused: [] }, here(formJob()));
    expect(run.changed[0]?.changes).toEqual([
      { field: 'Email', from: 'ann@example.com', to: 'ann@example.org' },
      { field: 'May we write?', from: 'given: email, text', to: 'given: email' },
      { field: 'Best reached by', from: 'text', to: 'email' },
      { field: 'Lab', from: '', to: 'Lab One' },
      { field: 'As ordered R', from: '-2.00 / -0.50 x 90', to: '-2.25 / -0.50 x 90' },
      { field: 'Monocular PD, distance R', from: '31 mm', to: '31.5 mm' },
      { field: 'Mobile phone', from: '+12125550123', to: '' },
      { field: 'As ordered L', from: '0.00 DS', to: '' },
    ]);
  });

  it('shows at least one field for every job whose digest differs', () => {
    const variants: Record<string, string>[] = [
      { name: 'Bo Example' },
      { consent: 'email' },
      { handed_over_on: '2026-11-04' },
      { first_multifocal: 'no' },
      { way: 'post' },
      { measured_by: 'Dee' },
      { zone: 'America/Chicago' },
      { antireflection: 'yes' },
      { order_prism_R: '1 up' },
      { sold_by: 'Dee' },
    ];
    for (const entry of jobs(...variants)) {
      const run = dryRun({ jobs: [entry], refused: [] }, here(formJob()));
      expect(run.changed[0]?.changes.length, JSON.stringify(entry.job)).toBeGreaterThan(0);
    }
  });
});
