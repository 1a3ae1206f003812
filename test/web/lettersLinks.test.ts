import { expect, test } from 'vitest';
import { lettersView } from '../../src/web/pages/lettersView.ts';
import { partsAllowed } from '../../templates/budget.ts';
import { textParts } from '../../templates/textParts.ts';

/* Letters with their links: parts are counted with the place of the link, which is as long as the link itself. */

const SHOP = {
  name: 'Harbour Lane Spectacles',
  settings: {
    phone: '+1 202-555-0100',
    textName: 'Harbour Lane',
    localNumbers: [{ who: 'emergency', number: '911' }],
  },
};
const AT = 'https://care.shop.example';

test.each(['en', 'es'] as const)(
  '%s: check-ins by text keep their budget with the link: first 2 parts, later 2, Spanish 3',
  (locale) => {
    const view = lettersView(SHOP, { locale, channel: 'text', linksAt: AT });
    const checkIns = view.groups.find((group) => group.name === 'Check-ins')!.letters;
    const withLink = checkIns.filter((letter) => letter.body.includes(`${AT}/w/answer`));
    expect(withLink.length).toBeGreaterThanOrEqual(8);
    for (const letter of withLink) {
      const first = letter.name.endsWith('the first message');
      const allowed = partsAllowed({ purpose: 'check-in', locale, first, withLink: true });
      expect(textParts(letter.body).segments, letter.name).toBeLessThanOrEqual(allowed);
    }
    expect(view.withLinks).toBe(true);
  },
);

test('without a public address no letter has a link', () => {
  const view = lettersView(SHOP, { locale: 'en', channel: 'all' });
  const bodies = view.groups
    .filter((group) => group.name !== 'To people on call')
    .flatMap((group) => group.letters.map((letter) => letter.body));
  expect(bodies.join('\n')).not.toContain('http');
  expect(view.withLinks).toBe(false);
});

test('an alarm carries the place of its own link, and says to press “I have it”', () => {
  const view = lettersView(SHOP, { locale: 'en', channel: 'text', linksAt: AT });
  const alarm = view.groups.find((group) => group.name === 'To people on call')!.letters[0]!;
  expect(alarm.body).toContain(`Press "I have it": ${AT}/w/have`);
});
