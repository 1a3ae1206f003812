import { readJobFacts } from '../../src/causes/jobFacts.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import { byGain, inFixedOrder, tryQuestions } from './questionTrial.ts';
import { drawWearer, randomFrom } from './simulatedShop.ts';

/** One tenth of the shares: how many fell into it, what they said on average, and how often it was so. */
export type Tenth = {
  readonly tenth: string;
  readonly count: number;
  /** Mean share less how often it was so: under nothing means said too low. */
  readonly off: number;
};
const ENOUGH = 100;

/**
 * Shares against how often the cause was there, by tenths that hold 100: of every cause of every wearer, and of the leading cause of
 * each wearer alone. Of two causes at once each is half of what is wrong.
 */
export const calibrationOf = (
  seed: number,
  wearers: number,
): { readonly all: readonly Tenth[]; readonly leading: readonly Tenth[] } => {
  const random = randomFrom(seed);
  const tenths = () => Array.from({ length: 10 }, () => ({ count: 0, said: 0, were: 0 }));
  const [all, leading] = [tenths(), tenths()];
  for (let i = 0; i < wearers; i++) {
    const { causes, labels, job } = drawWearer(random);
    rankCauses(labels, readJobFacts(job).facts).forEach(({ cause, share }, place) => {
      for (const of of place === 0 ? [all, leading] : [all]) {
        const tenth = of[Math.min(9, Math.floor(share * 10))]!;
        tenth.count += 1;
        tenth.said += share;
        if (causes.includes(cause.id)) tenth.were += 1 / causes.length;
      }
    });
  }
  const told = (of: typeof all) =>
    of.flatMap(({ count, said, were }, place): Tenth[] =>
      count < ENOUGH
        ? []
        : [{ tenth: `${place * 10} to ${place * 10 + 10}`, count, off: (said - were) / count }],
    );
  return { all: told(all), leading: told(leading) };
};

type Asked = { readonly put: number; readonly gained: number };

/** Questions put, and right acts gained by them, chosen by the numbers and in a fixed order. */
export const questionsOf = (
  seed: number,
  wearers: number,
): { readonly rightAtOnce: number; readonly byNumbers: Asked; readonly inOrder: Asked } => {
  const random = randomFrom(seed);
  const drawn = Array.from({ length: wearers }, () => drawWearer(random));
  const rightAtOnce = drawn.filter((wearer) => tryQuestions(wearer, () => undefined).right).length;
  const run = (choose: typeof byGain): Asked => {
    const trials = drawn.map((wearer) => tryQuestions(wearer, choose));
    return {
      put: trials.reduce((sum, { put }) => sum + put, 0),
      gained: trials.filter(({ right }) => right).length - rightAtOnce,
    };
  };
  return { rightAtOnce, byNumbers: run(byGain), inOrder: run(inFixedOrder) };
};
