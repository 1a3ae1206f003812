import type { AskPhrases } from '../labelPhrases.ts';
import { phrases } from '../phrases.ts';

/** What wearers always ask. Read only in sentences that ask something. */
export const englishAsks: readonly AskPhrases[] = [
  {
    ask: 'car-tint',
    say: phrases(
      `{car} .. {dark}, {dark} .. {car}, {car} ... {dark}, {dark} ... {car}, darken in the car, dark .. driving, work .. car|windscreen|windshield`,
    ),
  },
  {
    ask: 'how-long',
    say: phrases(
      `how long .. used|adapt|adjust|settle|normal|right|better|wear|take|persevere|give|until|till|before|last|go, how long does it|this take, how many days|weeks, when will .. better|settle|go|normal|clear|used|stop, will it|this|that|they go|settle|get|stop|improve|ease, is it|this normal, does it|this get better|easier|go, how much longer, how soon`,
    ),
  },
  {
    ask: 'driving',
    say: phrases(
      `drive|driving, behind the wheel, safe to drive, ok to drive, can i drive, on the motorbike, cycle|cycling`,
    ),
  },
  { ask: 'stairs', say: phrases(`stairs, steps, step, kerb, kerbs, curb, escalator, ladder`) },
  { ask: 'screen', say: phrases(`screen, computer, laptop, monitor, desk, office, vdu, gaming`) },
  {
    ask: 'cleaning',
    say: phrases(
      `clean|cleaning|wash|wipe|washing|wiping|rinse, window spray, glass cleaner, washing up liquid, dish soap, alcohol wipe|wipes, cloth, lens spray, shower|swim|bath in them, baby wipes`,
    ),
  },
  {
    ask: 'old-pair',
    say: phrases(
      `old pair|ones|glasses|specs|lenses, wear .. old, swap .. old, previous pair|ones, go back to my, between the two, alternate`,
    ),
  },
  {
    ask: 'returns',
    say: phrases(
      `return|returns|refund|refunded, send .. back, money back, swap .. for, exchange, take them back, returns policy, return policy, guarantee, warranty`,
    ),
  },
  {
    ask: 'papers',
    say: phrases(
      `invoice, receipt, insurance, insurer, claim, prescription copy, copy of, vat, paperwork, bill, certificate, my prescription, health fund, medicare, hsa, fsa, reimburse`,
    ),
  },
  {
    ask: 'order-status',
    say: phrases(
      `when .. arrive|coming|come|ready|delivered|get|here|in, where .. order|glasses|parcel|specs|they, order number|status, tracking, been posted|sent|dispatched|shipped, are they ready|in, any news, how long .. delivery|arrive|ready`,
    ),
  },
];

/** How a sentence that asks begins, when it has no question mark. */
export const askingWords = phrases(`
^ what|when|where|how|why|which|who is|are|do|does|did|can|should|will|would|could|has|have|r|am|was|drops|kind|sort|time|day|colour|about|long|much|many|often|next|now, ^ can|could|should|shall|would|will i|you|we|they|it|someone|somebody|anyone, ^ is|are it|this|that|they|these|there|the, ^ do|does|did i|you|they|these|it|we|yous, ^ any idea|chance|advice|tips|news, ^ and can|should|is|do you|i|it|they|we, ^ may i, do i need|have, wondering if|whether|how|when, let me know if|when|how|whether, please tell|advise|explain, want to know, what should|do i
`);
