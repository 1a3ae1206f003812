import { addWithinLimit, difference, withinLimits } from '../opticsOfFacts.ts';
import {
  anyEye,
  asked,
  both,
  d,
  EYES,
  type Findings,
  farthest,
  highest,
  largestKnown,
  lensKind,
  minus,
  oncePerJob,
  overEyes,
  powerOf,
  sign,
  standardOf,
} from './reading.ts';

const madeAgainstAsked = oncePerJob((facts) =>
  overEyes((eye) => {
    const read = powerOf(facts, 'read', eye);
    const order = asked(facts, eye);
    return read && order
      ? {
          ...withinLimits(read, order, lensKind(facts), standardOf(facts)),
          ...difference(read, order),
        }
      : undefined;
  }),
);

const orderAgainstPrescription = oncePerJob((facts) =>
  overEyes((eye) => {
    const order = powerOf(facts, 'order', eye);
    const rx = powerOf(facts, 'rx', eye);
    return order && rx ? difference(order, rx).sizeD : undefined;
  }),
);

/** Finished pair against order, order against prescription. */
export const MADE_AND_ORDER = {
  madeSphereOut: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => anyEye(madeAgainstAsked(f), (eye) => !eye.sphere),
    words: (v) =>
      v ? 'sphere read outside the limit of the order' : 'sphere read within the limit of the order',
  },
  madeCylinderOut: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => anyEye(madeAgainstAsked(f), (eye) => !eye.cylinder || !eye.axis),
    words: (v) => (v ? 'cylinder or axis read outside the limit' : 'cylinder and axis read within the limit'),
  },
  madeErrorD: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => highest(madeAgainstAsked(f).map((eye) => eye.sizeD)),
    words: (v) => `checked power differs from the order by ${d(v)}`,
  },
  madeAddErrorD: {
    facts: ['read_add_D', 'order_add_D', 'add_D'],
    of: (f) => {
      const read = both(f, 'read_add_D');
      const order = both(f, 'order_add_D') ?? both(f, 'add_D');
      if (!read || !order) return undefined;
      return farthest(overEyes((eye) => minus(read[eye], order[eye])));
    },
    words: (v) => `addition read ${d(v)} ${sign(v, 'over', 'under')} the order`,
  },
  madeAddOut: {
    facts: ['read_add_D', 'order_add_D', 'add_D'],
    of: (f) => {
      const read = both(f, 'read_add_D');
      const order = both(f, 'order_add_D') ?? both(f, 'add_D');
      if (!read || !order) return undefined;
      const outside = overEyes((eye) => {
        const [made, ordered] = [read[eye], order[eye]];
        return made === undefined || ordered === undefined
          ? undefined
          : !addWithinLimit(made - ordered, ordered, standardOf(f));
      });
      return anyEye(outside, (out) => out);
    },
    words: (v) => (v ? 'addition read outside the limit of the order' : 'addition read within the limit'),
  },
  lensesSwapped: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => {
      const [readR, readL] = [powerOf(f, 'read', 'R'), powerOf(f, 'read', 'L')];
      const [orderR, orderL] = [asked(f, 'R'), asked(f, 'L')];
      if (!readR || !readL || !orderR || !orderL) return undefined;
      const straight = difference(readR, orderR).sizeD + difference(readL, orderL).sizeD;
      const crossed = difference(readR, orderL).sizeD + difference(readL, orderR).sizeD;
      return straight > 0.5 && crossed < 0.3 && crossed < straight / 3;
    },
    words: (v) =>
      v
        ? 'the right lens reads as the left was ordered, and the left as the right'
        : 'the lenses are not swapped',
  },
  orderErrorD: {
    facts: ['order_R', 'order_L', 'rx_R', 'rx_L'],
    of: (f) => largestKnown(orderAgainstPrescription(f), 0.12),
    words: (v) => `order differs from the prescription by ${d(v)}`,
  },
  orderAddErrorD: {
    facts: ['order_add_D', 'add_D'],
    of: (f) => {
      const order = both(f, 'order_add_D');
      const add = both(f, 'add_D');
      if (!order || !add) return undefined;
      return highest(
        EYES.map((eye) => minus(order[eye], add[eye]))
          .filter((v) => v !== undefined)
          .map(Math.abs),
      );
    },
    words: (v) => `ordered addition differs from the prescription by ${d(v)}`,
  },
} satisfies Findings;
