import fc from 'fast-check';
import { expect, it } from 'vitest';
import { say, sayToMany } from '../../src/followup/words.ts';
import type { Shop } from '../../src/store/shops.ts';
import { ASK_DAYS, type Letter } from '../../templates/types.ts';

const shop = {
  shop_id: 'east',
  name: 'Eastside Eyewear (invented)',
  settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
} as unknown as Shop;

const letters: fc.Arbitrary<Letter> = fc.oneof(
  fc.constantFrom(...ASK_DAYS).map((day): Letter => ({ purpose: 'check-in', day })),
  fc.constant<Letter>({ purpose: 'have-they-come' }),
  fc
    .record({ way: fc.constantFrom('counter' as const, 'post' as const), light: fc.boolean() })
    .map(({ way, light }): Letter => ({ purpose: 'tips', way, firstMultifocal: true, lightReactive: light })),
);
const plain = fc.stringMatching(/^[A-Z][A-Za-z]{0,24}( Example)?$/);
const names = fc.oneof(
  plain,
  fc.constantFrom('', 'Renée', 'O’Hara', 'J. P.', '<b>', 'ana', 'Xqz'),
  fc.string(),
);

// Common practice, no source: a letter does not change with who else is written to.
it('says to each of many what it says to one alone', () => {
  const one = fc.record({
    name: names,
    locale: fc.constantFrom('en', 'es'),
    channel: fc.constantFrom('text' as const, 'email' as const),
    letter: letters,
    first: fc.boolean(),
    linksAt: fc.constantFrom(undefined, 'https://shop.example'),
  });
  fc.assert(
    fc.property(fc.array(one, { minLength: 1, maxLength: 20 }), (many) => {
      const words = sayToMany(shop);
      for (const { name, locale, channel, letter, first, linksAt } of many) {
        const how = { first, linksAt };
        expect(words({ name, locale }, channel, letter, how)).toEqual(
          say(shop, { name, locale }, channel, letter, how),
        );
      }
    }),
  );
});
