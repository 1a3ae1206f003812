import { describe, expect, it } from 'vitest';
import { fieldName, placeOf } from '../../src/intake/heads.ts';
import { fieldNames, fullTemplateHeads, QUANTITIES } from '../../src/intake/quantities.ts';

describe('the table of quantities', () => {
  it('has each key once, and for each a label and a sentence for the glossary', () => {
    const keys = QUANTITIES.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    for (const { key, label, glossary } of QUANTITIES) {
      expect(label, key).not.toBe('');
      expect(glossary, key).toMatch(/\.$/);
    }
  });

  it('gives every number its range and unit, and every signed one a sentence on the sign', () => {
    for (const { key, kind, unit, min, max, sign } of QUANTITIES) {
      if (kind !== 'number') continue;
      expect(unit, key).not.toBeNull();
      expect(max, key).toBeGreaterThan(min ?? Number.NaN);
      if ((min ?? 0) < 0) expect(sign, key).toBeTruthy();
    }
  });

  it('knows every field name and every head of the template, and takes each for itself', () => {
    for (const name of fieldNames()) {
      const place = placeOf(name);
      expect(place && fieldName(place), name).toBe(name);
    }
    const fields = fullTemplateHeads().map((head) => {
      const place = placeOf(head);
      return place && fieldName(place);
    });
    expect(fields).toEqual(fieldNames());
  });

  it('lets no two quantities share a head', () => {
    const claimed = new Map<string, string>();
    for (const { key, head, label, alsoWritten, kind } of QUANTITIES) {
      const eye = kind === 'power' ? ' R' : '';
      for (const written of [head, label, ...alsoWritten]) {
        const place = placeOf(`${written}${eye}`);
        expect(place?.quantity.key, `“${written}${eye}” should be ${key}`).toBe(key);
        const other = claimed.get(`${written.toLowerCase()}${eye}`);
        expect(other === undefined || other === key, `${written}: ${other} and ${key}`).toBe(true);
        claimed.set(`${written.toLowerCase()}${eye}`, key);
      }
    }
  });

  it.each([
    '',
    ' ',
    'remarks',
    'R and L sphere',
    'sphere',
    'order',
    '__proto__',
    'constructor',
    'toString R',
    'ordered R L',
  ])('does not guess what “%s” means', (head) => {
    const place = placeOf(head);
    expect(place === undefined || place.quantity.key === 'ordered_on', head).toBe(true);
  });
});
