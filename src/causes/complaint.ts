import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import { LABELS_SAY } from './catalogue/labels.ts';
import { besideAStronger, type Contribution, weightedByGroup } from './contribution.ts';
import type { JobFacts } from './jobFacts.ts';

/** What the labels of a reply say of each cause, by its place in the catalogue, weighed beside each other. */
export type Complaint = readonly (readonly Contribution[])[];

/** The same few sets of labels come again and again. */
const remembered = new Map<string, Complaint>();
const MOST_REMEMBERED = 2_000;

export const complaintOf = (labels: readonly Label[]): Complaint => {
  const key = labels.join(' ');
  const before = remembered.get(key);
  if (before) return before;
  const told = toldBy(labels);
  const complaint = CATALOGUE.map((_, cause) => weightedByGroup(contributionsOf(told, cause)));
  if (remembered.size < MOST_REMEMBERED) remembered.set(key, complaint);
  return complaint;
};

/** The labels of a reply as they are weighed: troubles, and how it is going. */
type Told = { readonly troubles: readonly LabelSpeaks[]; readonly moods: readonly LabelSpeaks[] };

const contributionsOf = ({ troubles, moods }: Told, cause: number): readonly Contribution[] => {
  const said: Contribution[] = [];
  if (cause === UNKNOWN_CAUSE) return said;
  const explained = troubles.some(({ alone }) => (alone[cause] as Contribution).timesAlone > 1);
  for (const { alone, besideExplained } of troubles)
    said.push((explained ? besideExplained : alone)[cause] as Contribution);
  for (const { alone, softly } of moods)
    said.push((troubles.length > 0 ? softly : alone)[cause] as Contribution);
  return said;
};

const toldBy = (labels: readonly Label[]): Told => {
  const known = [...new Set(labels)]
    .map((label) => speaks.get(label))
    .filter((label) => label !== undefined)
    .sort((a, b) => (a.label < b.label ? -1 : 1));
  const troubles = known.filter(({ label }) => !MOODS.has(label));
  const moods = known.filter(({ label }) => MOODS.has(label));
  // A blur with no place told adds nothing beside a blur whose place is told.
  const withPlace = troubles.filter(({ label }) => label !== 'unclear-blur');
  return { troubles: withPlace.length > 0 ? withPlace : troubles, moods };
};

/** A blur whose place was asked for and answered is that blur. */
export const placedByAnswer = (labels: readonly Label[], facts: JobFacts): readonly Label[] => {
  if (!labels.includes('unclear-blur') || typeof facts.zone !== 'string') return labels;
  const zone = facts.zone.toLowerCase();
  const blur = PLACES.find(([pattern]) => pattern.test(zone))?.[1];
  return blur ? labels.map((label) => (label === 'unclear-blur' ? blur : label)) : labels;
};
const PLACES: readonly (readonly [RegExp, Label])[] = [
  [/dist|far/, 'distance-blur'],
  [/arm|inter|middle|screen/, 'intermediate-blur'],
  [/near|close|read/, 'near-blur'],
];

/** A frame said to slide, beside sight that is out of place, is a frame that slips. */
export const withWhatIsSaid = (labels: readonly Label[], facts: JobFacts): JobFacts =>
  labels.includes('slipping') && labels.some((label) => OUT_OF_PLACE.has(label))
    ? { slips: true, ...facts }
    : facts;
const OUT_OF_PLACE: ReadonlySet<Label> = new Set<Label>([
  'near-too-low',
  'near-blur',
  'intermediate-blur',
  'distance-blur',
]);

/** Whether the words told of any trouble or mood that the catalogue can weigh. */
export const saysAnything = (labels: readonly Label[]): boolean => labels.some((label) => speaks.has(label));

/** How it is going, not what is wrong: beside a trouble these speak softly. */
const MOODS: ReadonlySet<Label> = new Set<Label>(['not-wearing', 'wants-money-back', 'getting-there']);
/** A complaint that a cause does not explain, beside one that it does: two troubles are possible. */
const LEFT_UNEXPLAINED = 0.8;
/** One label in ten is misheard or misread, and then says nothing of the cause. Common practice, no source. */
const MISHEARD = 0.1;
const heardWrong = (times: number): number => (1 - MISHEARD) * times + MISHEARD;

const UNKNOWN_CAUSE = CATALOGUE.length - 1;
const WHOLE_WEIGHT = CATALOGUE.reduce((sum, { startingWeight }) => sum + startingWeight, 0);

/** One label, ready for every cause of the catalogue. */
type LabelSpeaks = {
  readonly label: Label;
  readonly alone: readonly Contribution[];
  readonly besideExplained: readonly Contribution[];
  readonly softly: readonly Contribution[];
};

const speaks: ReadonlyMap<Label, LabelSpeaks> = new Map(
  LABELS_SAY.map(({ label, ofHundred, source }) => {
    const named = CATALOGUE.filter(({ id }) => ofHundred[id] !== undefined);
    const namedShare = named.reduce((sum, { id }) => sum + (ofHundred[id] as number) / 100, 0);
    const namedWeight = named.reduce((sum, { startingWeight }) => sum + startingWeight, 0);
    const unnamed = Math.max(0.02, 1 - namedShare) / (1 - namedWeight / WHOLE_WEIGHT);
    const times = CATALOGUE.map(({ id, startingWeight }) => {
      const share = ofHundred[id];
      return heardWrong(share === undefined ? unnamed : share / 100 / (startingWeight / WHOLE_WEIGHT));
    });
    const contribution = (worth: number): Contribution => ({
      finding: 'reply_labels',
      value: label,
      group: 'complaint',
      timesAlone: worth,
      times: worth,
      source,
    });
    return [
      label,
      {
        label,
        alone: times.map(contribution),
        besideExplained: times.map((own) => contribution(Math.max(own, LEFT_UNEXPLAINED))),
        softly: times.map((own) => contribution(besideAStronger(own))),
      },
    ];
  }),
);
