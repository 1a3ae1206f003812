import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type JobFacts, readJobFacts } from '../../src/causes/jobFacts.ts';
import { differenceOf } from '../../src/causes/newPrescription.ts';
import { differenceLens } from '../../src/optics/differenceLens.ts';

const facts = (job: Record<string, unknown>): JobFacts => readJobFacts(job).facts;
const OLD = { rx_R: [1.25, -0.5, 90], rx_L: [1.5, 0, 0], add_D: 2 };

describe('what a new prescription changes', () => {
  it('is the difference lens of each eye: an axis turned by 90 degrees is a cylinder twice as strong', () => {
    const { eyes } = differenceOf({ R: [1.25, -0.5, 180], L: [1.5, 0, 0] }, facts(OLD));
    // (+1.25 -0.50 x 180) - (+1.25 -0.50 x 90) = +0.50 -1.00 x 180, by transposition.
    expect(eyes[0]).toMatchObject({ lens: [0.5, -1, 180], sizeD: 0.5 });
    expect(eyes[1]).toMatchObject({ lens: [0, 0, expect.anything()], sizeD: 0 });
  });
  it('put on the old pair gives the new power, whatever the two are', () => {
    const power = fc.tuple(
      fc.integer({ min: -40, max: 40 }).map((q) => q / 4),
      fc.integer({ min: -12, max: 0 }).map((q) => q / 4),
      fc.integer({ min: 1, max: 180 }),
    );
    fc.assert(
      fc.property(power, power, (before, after) => {
        const { eyes } = differenceOf({ R: after, L: after }, facts({ rx_R: before, rx_L: before }));
        const lens = eyes[0]!.lens!;
        const asLens = ([sphereD, cylinderD, axisDeg]: readonly number[]) => ({
          sphereD: sphereD!,
          cylinderD: cylinderD!,
          axisDeg: axisDeg!,
        });
        // old + difference = new, so new - difference = old, to the rounding of the shown lens.
        const back = differenceLens(asLens(after), asLens(lens)).meanD;
        expect(back).toBeCloseTo(before[0] + before[1] / 2, 1);
      }),
      { numRuns: 60 },
    );
  });
  it('sets the new powers and additions for the order, and only what changes', () => {
    const { changes } = differenceOf(
      { R: [0.75, -0.5, 90], L: [1.5, 0, 0], addD: { R: 2.25, L: 2.25 } },
      facts(OLD),
    );
    expect(changes.map(({ what, eye, from, to }) => [what, eye, from, to])).toEqual([
      ['Power', 'R', '+1.25 D -0.50 D x 90', '+0.75 D -0.50 D x 90'],
      ['Addition', 'R', '+2.00 D', '+2.25 D'],
      ['Addition', 'L', '+2.00 D', '+2.25 D'],
    ]);
    expect(changes[0]!.sets).toEqual({ rx_R: [0.75, -0.5, 90] });
  });
  it.each([
    [74, 0.8, 0],
    [75, 0.7, 0],
    [75, 0.8, 1],
    [40, 1, 0],
    [40, 1.25, 1],
  ])('at %i years a change of %f D brings %i remark', (age, change, count) => {
    const { remarks } = differenceOf(
      { R: [1.25 + change, -0.5, 90], L: [1.75, 0, 0] },
      facts({ ...OLD, rx_L: [1.5, 0, 0], age_y: age }),
    );
    expect(remarks.filter((remark) => remark.includes('right eye changes'))).toHaveLength(count);
  });
  it('tells of prism between the eyes from 1.5 prism dioptres at the reading level', () => {
    const told = (left: number) =>
      differenceOf(
        { R: [0, 0, 0], L: [left, 0, 0] },
        facts({ rx_R: [0, 0, 0], rx_L: [left, 0, 0] }),
      ).remarks.some((remark) => remark.includes('slab-off'));
    expect([told(1.25), told(1.5)]).toEqual([false, true]);
  });
  it('says where the prescription before is not on record', () => {
    const { eyes, remarks } = differenceOf({ R: [1, 0, 0], L: [1, 0, 0] }, {});
    expect(eyes[0]).not.toHaveProperty('lens');
    expect(remarks.filter((remark) => remark.includes('not on record'))).toHaveLength(2);
  });
});
