import type { Label } from '../replies/types.ts';
import type { JobFacts } from './jobFacts.ts';
import type { Weighing } from './weighing.ts';

/**
 * Danger in what the wearer said or in how it began. It is never weighed against milder causes: it goes to a person
 * now. Sight that changed suddenly is danger even where the words alone were mild (College of Optometrists, Annex 4).
 */
export const dangerIn = (labels: readonly Label[], facts: JobFacts): Weighing | undefined => {
  const eyeSaid = labels.includes('urgent-eye');
  const suddenSight = /sudden/i.test(String(facts.onset ?? '')) && labels.some((label) => SIGHT.has(label));
  const fall = labels.includes('fall-or-injury');
  const signs = [
    ...(eyeSaid ? [sign('acute-eye-sign', 'reply_labels', 'urgent-eye')] : []),
    ...(suddenSight && !eyeSaid ? [sign('acute-eye-sign', 'onset', String(facts.onset))] : []),
    ...(fall ? [sign('fall-risk', 'reply_labels', 'fall-or-injury')] : []),
  ];
  if (signs.length === 0) return undefined;
  const told = signs.map(({ evidence }) => evidence[0]?.words).join('; ');
  return {
    causes: signs.map((cause) => ({ ...cause, share: 1 / signs.length })),
    act: {
      id: 'urgent',
      way: 'by phone',
      why: `Ring now: ${told}. A danger sign is not weighed against anything; no desk decides that it is harmless.`,
    },
  };
};

/** Danger is not weighed; the number only stands where a reader expects one. */
const DANGER_TIMES = 1000;

const SIGHT: ReadonlySet<Label> = new Set<Label>([
  'distance-blur',
  'near-blur',
  'intermediate-blur',
  'unclear-blur',
  'one-eye-off',
  'doubling',
  'depth-misjudged',
  'size-or-shape',
  'narrow-field',
  'glare',
]);

const sign = (id: string, fact: string, value: string) => ({
  id,
  evidence: [
    {
      fact,
      value,
      toward: 'for' as const,
      times: DANGER_TIMES,
      timesAlone: DANGER_TIMES,
      words: fact === 'onset' ? `sight changed: ${value}` : `says: ${value}`,
      source: 'College of Optometrists, Annex 4, urgency of referrals',
    },
  ],
});
