import { inColumns, notedPairs, type PairsGiven } from './columns.ts';
import { cameBack, type FinishedPair } from './pairs.ts';
import type { Figure } from './trace.ts';

/** What one return costs, in the shop's money. Each is counted only when the shop has filled it in. */
export type CostInputs = {
  readonly lensesPerRemake: number | null;
  readonly staffHoursPerReturn: number | null;
  readonly staffCostPerHour: number | null;
  readonly postagePerReturn: number | null;
};

type Bearer = {
  readonly borneBy: string;
  readonly amount: Figure;
  readonly sentence: string;
};

export type Money = {
  readonly byBearer: readonly Bearer[];
  readonly creditsPromised: Figure;
  readonly creditsReceived: Figure;
  readonly creditsOutstanding: Figure;
  readonly windowsMissed: Figure;
  /** The inputs by name that went into the amounts, and those that are empty and so not counted. */
  readonly counted: readonly string[];
  readonly notCounted: readonly string[];
  readonly sentences: readonly string[];
};

const NOT_SAID = 'not recorded';

/**
 * What returns cost, by who bears it: the lab's own charge where its invoice is known, else the shop's figure for
 * lenses, staff time, postage, refunds paid; credits of the lab promised against received; windows missed. An empty
 * input is named and not counted, never taken as nothing. Sums of known amounts, no estimate: no interval.
 */
export function money(given: PairsGiven, inputs: CostInputs, today: number): Money {
  const pairs = notedPairs(inColumns(given));
  const back = pairs.filter((pair) => cameBack(pair, 'all reasons', today) !== null);
  const { counted, notCounted } = namedInputs(inputs);
  const bearers = new Map<string, FinishedPair[]>();
  for (const pair of back) {
    const name = pair.borneBy ?? NOT_SAID;
    const group = bearers.get(name);
    if (group === undefined) bearers.set(name, [pair]);
    else group.push(pair);
  }
  const method = `sum over pairs back; counted: ${['lab charges and refunds as recorded', ...counted].join(', ')}`;
  const byBearer = [...bearers]
    .map(([borneBy, members]) => {
      const value = members.reduce((sum, pair) => sum + costOf(pair, inputs), 0);
      return {
        borneBy,
        amount: sumFigure(value, members, method),
        sentence: `${borneBy}: ${amountInWords(value)} over ${members.length} of ${back.length} pairs back.`,
      };
    })
    .sort((a, b) => b.amount.value - a.amount.value || (a.borneBy < b.borneBy ? -1 : 1));

  const promised = pairs.filter(({ creditPromised }) => creditPromised !== undefined);
  const received = pairs.filter(({ creditReceived }) => creditReceived !== undefined);
  const open = promised.filter((pair) => pair.creditPromised! > (pair.creditReceived ?? 0));
  const missed = back.filter(({ windowMissed }) => windowMissed === true);
  const sumOf = (members: readonly FinishedPair[], value: (pair: FinishedPair) => number): number =>
    members.reduce((sum, pair) => sum + value(pair), 0);
  const creditsPromised = sumFigure(
    sumOf(promised, (pair) => pair.creditPromised!),
    promised,
    'sum of credits promised by labs',
  );
  const creditsReceived = sumFigure(
    sumOf(received, (pair) => pair.creditReceived!),
    received,
    'sum of credits received from labs',
  );
  const creditsOutstanding = sumFigure(
    sumOf(open, (pair) => pair.creditPromised! - (pair.creditReceived ?? 0)),
    open,
    'credits promised less received, where more was promised',
  );
  return {
    byBearer,
    creditsPromised,
    creditsReceived,
    creditsOutstanding,
    windowsMissed: {
      value: missed.length,
      trace: {
        method: 'pairs back for which the lab was asked after its window',
        x: missed.length,
        n: back.length,
        pairIds: missed.map(({ pairId }) => pairId),
        amongPairIds: back.map(({ pairId }) => pairId),
      },
    },
    counted,
    notCounted,
    sentences: [
      ...byBearer.map(({ sentence }) => sentence),
      `Labs promised ${amountInWords(creditsPromised.value)} and credited ${amountInWords(creditsReceived.value)}; ${amountInWords(creditsOutstanding.value)} is open on ${open.length} pairs.`,
      `The lab's window was missed for ${missed.length} of ${back.length} pairs back.`,
      ...(notCounted.length === 0
        ? []
        : [`Not counted, because empty in the settings: ${notCounted.join(', ')}.`]),
    ],
  };
}

/** Staff time is a product: with one of its two figures empty neither counts. */
function namedInputs(inputs: CostInputs): { counted: string[]; notCounted: string[] } {
  const named: [string, number | null][] = [
    ['lenses per remake', inputs.lensesPerRemake],
    ['staff hours per return', inputs.staffHoursPerReturn],
    ['staff cost per hour', inputs.staffCostPerHour],
    ['postage per return', inputs.postagePerReturn],
  ];
  const timeCounts = inputs.staffHoursPerReturn !== null && inputs.staffCostPerHour !== null;
  return {
    counted: named
      .filter(([name, value]) => value !== null && (timeCounts || !name.startsWith('staff')))
      .map(([name]) => name),
    notCounted: named.filter(([, value]) => value === null).map(([name]) => name),
  };
}

function costOf(pair: FinishedPair, inputs: CostInputs): number {
  const madeAgain = pair.outcome !== 'refunded';
  const lenses = pair.labCharge ?? (madeAgain ? (inputs.lensesPerRemake ?? 0) : 0);
  const time =
    inputs.staffHoursPerReturn === null || inputs.staffCostPerHour === null
      ? 0
      : inputs.staffHoursPerReturn * inputs.staffCostPerHour;
  return lenses + time + (inputs.postagePerReturn ?? 0) + (pair.refundPaid ?? 0);
}

const amountInWords = (value: number): string => value.toFixed(2);

function sumFigure(value: number, pairs: readonly FinishedPair[], method: string): Figure {
  const pairIds = pairs.map(({ pairId }) => pairId);
  return { value, trace: { method, n: pairs.length, pairIds, amongPairIds: pairIds } };
}
