import { expect, test } from 'vitest';
import { type Alarm, alarmWords } from '../../templates/alarm.ts';
import { textParts } from '../../templates/textParts.ts';
import { wordFaults } from '../../templates/wordsAllowed.ts';

const alarm: Alarm = {
  locale: 'en',
  shopName: 'Fernside Optics',
  initial: 'S',
  caseLink: 'https://www.fernside.example/cases/018f2c3d-1111-7222-8333-444455556666',
  caution: 'arrived',
  toldBefore: 0,
};

test('the alarm says to ring, whom, where, and how to take it on', () => {
  const { text, email } = alarmWords(alarm);
  for (const words of [text, email.text]) {
    expect(words).toMatch(/RING NOW: S\./);
    expect(words).toContain(alarm.caseLink);
    expect(words).toContain('"I have it"');
  }
  expect(email.subject).toBe('RING NOW: S. Fernside Optics');
});

test('the alarm says when the wearer has not had the caution, and when nobody knows', () => {
  expect(alarmWords({ ...alarm, caution: 'not arrived' }).text).toContain('They have NOT had the caution');
  expect(alarmWords({ ...alarm, caution: 'not known' }).text).toContain('do not know yet');
});

test('a repeated alarm says how often it was told, and a test says that it is one', () => {
  expect(alarmWords({ ...alarm, toldBefore: 2 }).text).toContain('Told 3 times now');
  expect(alarmWords({ ...alarm, test: true }).email.subject).toMatch(/^TEST, nobody is in danger/);
});

test('an alarm is at most two parts in English and four in Spanish, and tells nothing of the eyes', () => {
  for (const caution of ['arrived', 'not arrived', 'not known'] as const) {
    for (const caseLink of [alarm.caseLink, undefined]) {
      const english = alarmWords({ ...alarm, caution, caseLink, toldBefore: 9, test: true }).text;
      const spanish = alarmWords({
        ...alarm,
        locale: 'es',
        caution,
        caseLink,
        toldBefore: 9,
        test: true,
      }).text;
      expect(textParts(english).segments, english).toBeLessThanOrEqual(2);
      expect(textParts(spanish).segments, spanish).toBeLessThanOrEqual(4);
      for (const text of [english, spanish])
        expect(wordFaults(text, { channel: 'text', sender: alarm.shopName })).toEqual([]);
    }
  }
});
