import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/causes/catalogue/index.ts';
import { FACT_KEYS, type JobFactKey, type JobFacts, readJobFacts } from '../../src/causes/jobFacts.ts';
import { rankCauses, SOMETHING_ELSE_FLOOR } from '../../src/causes/rank.ts';
import { weigh } from '../../src/causes/weigh.ts';
import { LABELS, type Label } from '../../src/replies/types.ts';
import { drawWearer, randomFrom } from './simulatedShop.ts';

const anyWearer = fc.integer({ min: 1, max: 2 ** 31 }).map((seed) => drawWearer(randomFrom(seed)));
const factsOf = (job: Readonly<Record<string, unknown>>): JobFacts => readJobFacts(job).facts;
const share = (ranking: ReturnType<typeof rankCauses>, id: string): number =>
  ranking.find(({ cause }) => cause.id === id)?.share ?? Number.NaN;

describe('the ranking', () => {
  it('shares sum to one, each between nothing and all, the largest first', () => {
    fc.assert(
      fc.property(anyWearer, ({ labels, job }) => {
        const shares = rankCauses(labels, factsOf(job)).map((ranked) => ranked.share);
        expect(shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
        expect(shares.every((one) => one >= 0 && one <= 1)).toBe(true);
        expect(shares).toEqual([...shares].sort((a, b) => b - a));
      }),
      { numRuns: 80 },
    );
  });

  it('does not depend on the order in which labels and facts are given', () => {
    fc.assert(
      fc.property(anyWearer, fc.integer(), ({ labels, job }, seed) => {
        const random = randomFrom(seed);
        const shuffled = Object.entries(job)
          .map((entry) => [random(), entry] as const)
          .sort((a, b) => a[0] - b[0])
          .map(([, entry]) => entry);
        const turned = rankCauses([...labels].reverse(), factsOf(Object.fromEntries(shuffled)));
        expect(turned).toEqual(rankCauses(labels, factsOf(job)));
      }),
      { numRuns: 50 },
    );
  });

  it('lets each fact speak with the sign that the catalogue gives it, alone or beside others', () => {
    fc.assert(
      fc.property(anyWearer, ({ labels, job }) => {
        for (const { contributions } of rankCauses(labels, factsOf(job))) {
          for (const { times, timesAlone } of contributions) {
            expect(Math.sign(Math.log(times))).toBe(Math.sign(Math.log(timesAlone)));
            expect(Math.abs(Math.log(times))).toBeLessThanOrEqual(Math.abs(Math.log(timesAlone)) + 1e-12);
          }
        }
      }),
      { numRuns: 50 },
    );
  });

  it('never lowers the share of a cause by a fact that speaks for that cause only', () => {
    const said = ({ contributions }: ReturnType<typeof rankCauses>[number]) =>
      contributions.map(({ finding, timesAlone }) => `${finding} ${timesAlone}`);
    let checked = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const { labels, whole } = drawWearer(randomFrom(seed));
      const facts = factsOf(whole);
      const after = rankCauses(labels, facts);
      for (const left of Object.keys(facts) as JobFactKey[]) {
        const { [left]: _fact, ...without } = facts;
        const before = rankCauses(labels, without as JobFacts);
        const was = new Map(before.map((ranked) => [ranked.cause.id, said(ranked)]));
        const touched = after.filter((ranked) => said(ranked).join() !== was.get(ranked.cause.id)?.join());
        const [only] = touched;
        if (touched.length !== 1 || !only) continue;
        const old = was.get(only.cause.id) ?? [];
        const added = only.contributions.filter((_, i) => !old.includes(said(only)[i] as string));
        if (added.length + old.length !== only.contributions.length) continue;
        if (!added.every((c) => c.timesAlone > 1)) continue;
        checked += 1;
        expect(only.share, `${left} for ${only.cause.id}`).toBeGreaterThanOrEqual(
          share(before, only.cause.id) - 1e-12,
        );
      }
    }
    expect(checked).toBeGreaterThan(20);
  });

  it('counts the strongest fact of a group fully and another of the same group a quarter', () => {
    // Order and lensmeter agree and both differ from the prescription; the addition differs too: one slip, not two.
    const facts = factsOf({
      rx_R: [-2, 0, 0],
      order_R: [-1, 0, 0],
      rx_L: [-2, 0, 0],
      order_L: [-1, 0, 0],
      add_D: 2,
      order_add_D: 1,
    });
    const slip = rankCauses(['near-blur'], facts).find(({ cause }) => cause.id === 'transcription-error');
    const order = slip?.contributions.filter(({ group }) => group === 'order') ?? [];
    expect(order.map(({ timesAlone }) => timesAlone)).toEqual([80, 80]);
    expect(order.map(({ times }) => times).sort((a, b) => a - b)).toEqual([80 ** 0.25, 80]);
  });

  it('keeps two in a hundred for what no catalogue holds, however sure the rest is', () => {
    const ranking = rankCauses(
      ['near-too-high'],
      factsOf({ cross_above_pupil_mm: 3, chin_down_helps: true }),
    );
    expect(share(ranking, 'something-else')).toBeCloseTo(SOMETHING_ELSE_FLOOR, 9);
  });

  it('lets a fact that is unknown neither help nor hurt', () => {
    const known = weigh({ reply_labels: ['swim'], job: { day: 3, vertex_mm: null, slips: null } });
    expect(known).toEqual(weigh({ reply_labels: ['swim'], job: { day: 3 } }));
  });

  it('believes less in settling-in as the days of wear go by', () => {
    const at = (day: number) => share(rankCauses(['swim'], { day }), 'early-adaptation');
    expect(at(3)).toBeGreaterThan(at(10));
    expect(at(10)).toBeGreaterThan(at(18));
    expect(at(18)).toBeGreaterThan(at(25));
    expect(at(25)).toBeGreaterThan(at(40));
  });

  it('shows the number that speaks, in words, with its value and source', () => {
    const { causes } = weigh({
      reply_labels: ['near-too-low'],
      job: { cross_above_pupil_mm: { R: -2.1, L: -2 }, slips: false },
    });
    const low = causes.find(({ id }) => id === 'cross-too-low');
    expect(low?.evidence).toContainEqual({
      fact: 'cross_above_pupil_mm',
      value: { R: -2.1, L: -2 },
      toward: 'for',
      times: 12,
      timesAlone: 12,
      words: 'lower cross 2.1 mm below the pupil',
      source: 'Taylor, Progressive lenses: how to troubleshoot common problems, part II',
    });
  });
});

describe('danger', () => {
  const harmless = LABELS.filter((label) => label !== 'urgent-eye' && label !== 'fall-or-injury');
  it.each(['urgent-eye', 'fall-or-injury'] as const)(
    '%s goes to a person at once, whatever stands beside it',
    (danger) => {
      fc.assert(
        fc.property(anyWearer, fc.subarray(harmless), ({ job }, beside) => {
          const { act, question } = weigh({ reply_labels: [...beside, danger], job });
          expect(act).toMatchObject({ id: 'urgent', way: 'by phone' });
          expect(question).toBeUndefined();
        }),
        { numRuns: 30 },
      );
    },
  );
  it('is seen in sight that changed suddenly, though the words were mild', () => {
    expect(weigh({ reply_labels: ['doubling'], job: { onset: 'sudden' } }).act.id).toBe('urgent');
    expect(weigh({ reply_labels: ['slipping'], job: { onset: 'sudden' } }).act.id).toBe('adjust');
  });
  it('is never seen where there is none', () => {
    fc.assert(
      fc.property(anyWearer, ({ labels, job }) => {
        expect(weigh({ reply_labels: labels, job }).act.id).not.toBe('urgent');
      }),
      { numRuns: 30 },
    );
  });
});

describe('clean bench and lasting blur', () => {
  const blurs = ['distance-blur', 'near-blur', 'unclear-blur', 'one-eye-off'] as const;
  it.each(blurs)('%s after two weeks never ends at "give it time"', (blur) => {
    fc.assert(
      fc.property(anyWearer, fc.integer({ min: 15, max: 60 }), ({ job }, day) => {
        const { act, causes } = weigh({
          reply_labels: [blur],
          job: { ...job, day, bench_within_limits: true },
        });
        const named = ['needs-task-pair', 'dirty-or-smeared', 'low-abbe-material', 'switching-pairs'];
        expect(act.id === 'coach' && !named.includes(causes[0]?.id ?? '')).toBe(false);
      }),
      { numRuns: 30 },
    );
  });
  it('goes to the prescriber when face and bench are clean', () => {
    const job = { day: 20, bench_within_limits: true, cross_above_pupil_mm: 0, vertex_mm: 12 };
    expect(weigh({ reply_labels: ['distance-blur'], job }).act.id).toBe('prescriber');
  });
});

describe('what the lens does by nature', () => {
  it.each([
    ['clear-in-car', { darkens_outside: true }, 'windscreen-uv'],
    ['weak-outdoors', { temp_C: 35, in_open_sun: true }, 'hot-weather-limit'],
    ['slow-to-clear', { temp_C: 4 }, 'cold-slow-clear'],
    ['tinted-indoors', { by_window: true }, 'stray-uv-indoors'],
    ['swim', { day: 2, previous_lens: 'single-vision', bench_within_limits: true }, 'early-adaptation'],
  ] as const)('%s is explained, not remade', (label, job, cause) => {
    const { act, causes } = weigh({ reply_labels: [label], job });
    expect([causes[0]?.id, act.id]).toEqual([cause, 'coach']);
  });
});

const NUMBER_FACTS =
  'day age_y design_min_height_mm corridor_mm prism_h_imbalance_pd prism_v_imbalance_pd abbe height_cm screen_cm screen_hours temp_C prev_segment_width_mm reading_level_mm_below_centre reading_cm_wanted clear_after_min'.split(
    ' ',
  );
const EYES_FACTS =
  'add_D prev_add_D read_add_D order_add_D cross_above_pupil_mm cross_nasal_mm fitting_height_mm vertex_mm vertex_assumed_mm tilt_deg tilt_assumed_deg wrap_deg prism_both_base_up_pd base_curve_D prev_base_curve_D marks_tilt_deg lens_age_months made_pd_mm wearer_pd_mm centre_height_error_mm faded_transmittance_pct'.split(
    ' ',
  );
const POWER_FACTS = 'rx_R rx_L prev_R prev_L read_R read_L order_R order_L'.split(' ');
const YES_NO_FACTS =
  'bench_within_limits read_within_limits wrap_compensated antireflection prev_antireflection slips pads_adjustable screen_above_eye_level better_when_frame_tilted pinhole_helps old_pair_also cheek_contact brow_contact light_reactive behind_windscreen darkens_outside one_lens_replaced by_window fell_before diabetes heat_or_solvent order_height_same_as_made motion_sick brow_line_level sat_on fell_off haze_seen film_on_lens clears_after_cleaning dirty_lower_edge chin_down_helps head_turn distance_clear one_eye_only_persists varies_by_day old_pair_complaint vision_complaint in_open_sun even_both_lenses'.split(
    ' ',
  );
const WORD_FACTS =
  'previous_lens lens_type material measured known dominant_eye temples temple_spread heights_look pressure_at sore option_ordered option_found coating side zone light where says onset when blur_when'.split(
    ' ',
  );
const NUMBERS: Readonly<Record<string, number>> = {
  design_min_height_mm: 18,
  corridor_mm: 14,
  abbe: 42,
  height_cm: 170,
  screen_cm: 60,
  reading_cm_wanted: 40,
  fitting_height_mm: 20,
  vertex_mm: 13,
  vertex_assumed_mm: 13,
  made_pd_mm: 31,
  wearer_pd_mm: 31,
  faded_transmittance_pct: 88,
};

describe('facts that cannot be weighed', () => {
  it('are told by name, and the rest is weighed', () => {
    const job = {
      day: 3,
      cross_above_pupil_mm: { R: 2, L: 2 },
      shoe_size: 9,
      tilt_deg: 'steep',
      rx_R: [1, -2],
    };
    const { problems, causes } = weigh({ reply_labels: ['near-too-high', 'bad-hair'], job });
    expect(problems?.map(({ code, where }) => [code, where])).toEqual([
      ['unknown-label', 'reply_labels'],
      ['unknown-fact', 'job.shoe_size'],
      ['bad-fact', 'job.tilt_deg'],
      ['bad-fact', 'job.rx_R'],
    ]);
    expect(problems?.[0]?.what).toContain('bad-hair');
    expect(causes[0]?.id).toBe('cross-too-high');
  });
  it('include numbers that no pair has', () => {
    const { problems } = weigh({
      reply_labels: ['swim'],
      job: { day: 3, vertex_mm: 400, rx_R: [0, 0, 270], add_D: -4 },
    });
    expect(problems?.map(({ where }) => where)).toEqual(['job.vertex_mm', 'job.rx_R', 'job.add_D']);
  });
  it.each([
    ['a height in centimetres', 'fitting_height_mm', 1.8],
    ['a vertex distance in centimetres', 'vertex_mm', 1.3],
    ['heat in Fahrenheit', 'temp_C', 95],
    ['light passed as a share', 'faded_transmittance_pct', 0.87],
    ['a screen distance in metres', 'screen_cm', 0.7],
    ['a body height in metres', 'height_cm', 1.85],
    ['an index where the V number belongs', 'abbe', 1.6],
    ['a number with its unit', 'tilt_deg', '9 degrees'],
    ['a number with a comma', 'vertex_mm', '13,5'],
    ['a power in hundredths', 'rx_R', [-225, 0, 0]],
    ['a cylinder without its axis', 'rx_R', [-2.25, -1]],
    ['a PD in centimetres', 'wearer_pd_mm', 6.4],
  ])('refuse %s and weigh as if it were unknown', (_what, fact, value) => {
    const { problems, ...weighed } = weigh({ reply_labels: ['swim'], job: { day: 3, [fact]: value } });
    expect(problems?.map(({ code, where }) => [code, where])).toEqual([['bad-fact', `job.${fact}`]]);
    expect(weighed).toEqual(weigh({ reply_labels: ['swim'], job: { day: 3 } }));
  });
  it('take every fact that the checks speak of', () => {
    // Names and sense of the job facts of the check vignettes, by kind of value.
    const EVERY: Readonly<Record<string, unknown>> = {
      ...Object.fromEntries(NUMBER_FACTS.map((fact) => [fact, NUMBERS[fact] ?? 1])),
      ...Object.fromEntries(
        EYES_FACTS.map((fact) => [fact, { R: NUMBERS[fact] ?? 1, L: NUMBERS[fact] ?? 1 }]),
      ),
      ...Object.fromEntries(POWER_FACTS.map((fact) => [fact, [-1.25, -0.5, 90]])),
      ...Object.fromEntries(YES_NO_FACTS.map((fact) => [fact, true])),
      ...Object.fromEntries(WORD_FACTS.map((fact) => [fact, 'as the wearer told it'])),
      print_must_come: 'nearer',
    };
    expect(readJobFacts(EVERY).problems).toEqual([]);
    expect(Object.keys(readJobFacts(EVERY).facts).sort()).toEqual(Object.keys(EVERY).sort());
    for (const fact of Object.keys(EVERY)) {
      const { problems } = weigh({ reply_labels: ['swim'], job: { day: 3, [fact]: null } });
      expect(problems, fact).toBeUndefined();
    }
  });
  it('read a yes or a no that goes on', () => {
    const job = {
      pinhole_helps: 'no, not at all',
      chin_down_helps: 'Yes, a little',
      slips: 'never',
      sat_on: 'dog',
    };
    expect(readJobFacts(job).facts).toEqual({
      pinhole_helps: false,
      chin_down_helps: true,
      slips: false,
      sat_on: true,
    });
  });
  it('take a number, a pair of eyes and a written number alike', () => {
    const one = readJobFacts({
      vertex_mm: 14,
      cross_above_pupil_mm: { R: 1, L: null },
      day: '3',
      slips: 'yes',
    });
    expect(one.facts).toEqual({
      vertex_mm: { R: 14, L: 14 },
      cross_above_pupil_mm: { R: 1 },
      day: 3,
      slips: true,
    });
  });
  it('never stop the weighing, whatever a job holds', () => {
    const keys = Object.keys(FACT_KEYS);
    fc.assert(
      fc.property(
        fc.dictionary(fc.constantFrom(...keys), fc.jsonValue()),
        fc.subarray([...LABELS]),
        (job, labels) => {
          const { causes, act } = weigh({ reply_labels: labels, job });
          if (causes.length > 0) expect(causes.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 9);
          expect(act.why.length).toBeGreaterThan(10);
        },
      ),
      { numRuns: 120 },
    );
  });
});

describe('the catalogue', () => {
  const usable = (label: string): label is Label => (LABELS as readonly string[]).includes(label);
  it('gives every cause an act, a bearer, a sentence and a sourced weight', () => {
    for (const cause of CATALOGUE) {
      expect(cause.acts.length, cause.id).toBeGreaterThan(0);
      expect(cause.what.endsWith('.'), cause.id).toBe(true);
      expect(cause.startingWeight, cause.id).toBeGreaterThan(0);
      expect(cause.weightSource.length, cause.id).toBeGreaterThan(5);
    }
    expect(new Set(CATALOGUE.map(({ id }) => id)).size).toBe(CATALOGUE.length);
  });
  it('gives every rule a source and a number that moves the odds', () => {
    for (const { id, evidence } of CATALOGUE) {
      for (const { times, source } of evidence) {
        expect(source.length, id).toBeGreaterThan(4);
        expect(times > 0 && times !== 1, id).toBe(true);
      }
    }
  });
  it('weighs the great groups as the pooled studies do: fit and use over half, prescription a fifth, eye a few', () => {
    const of = (group: string) =>
      CATALOGUE.filter((cause) => cause.group === group).reduce(
        (sum, { startingWeight }) => sum + startingWeight,
        0,
      );
    expect(of('use-and-time')).toBeCloseTo(35, 0);
    expect(of('place-on-face')).toBeGreaterThan(24);
    expect(of('place-on-face')).toBeLessThan(31);
    expect(of('health-and-safety')).toBeCloseTo(3, 0);
  });
  it('holds only labels that the sorter knows', async () => {
    const { LABELS_SAY } = await import('../../src/causes/catalogue/labels.ts');
    const ids = new Set(CATALOGUE.map(({ id }) => id));
    for (const { label, ofHundred } of LABELS_SAY) {
      expect(usable(label)).toBe(true);
      expect(Object.keys(ofHundred).filter((id) => !ids.has(id))).toEqual([]);
      const sum = Object.values(ofHundred).reduce((a, b) => a + b, 0);
      expect(sum, label).toBeGreaterThan(85);
      expect(sum, label).toBeLessThanOrEqual(99);
    }
  });
});
