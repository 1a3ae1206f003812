import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { readEmail, reservedDomain, reservedEmail } from '../../src/intake/emailAddress.ts';
import { phoneType, readPhone, reservedForFiction } from '../../src/intake/phone.ts';
import { canonicalZone, readZone, sameZone, zoneSet } from '../../src/intake/zones.ts';
import { CANADA } from '../../src/intake/zonesCanada.ts';
import { COUNTRY_ZONES } from '../../src/intake/zonesOfCountries.ts';
import { AUSTRALIA, MEXICO, NEW_ZEALAND, SPAIN } from '../../src/intake/zonesOtherCountries.ts';
import { UNITED_STATES } from '../../src/intake/zonesUnitedStates.ts';
import { checkRows } from './checkRows.ts';

const named = (topic: string) => {
  const rows = checkRows('messaging', topic);
  if (rows.length === 0) throw new Error(`no row of topic ${topic}`);
  return rows.map((row) => [row.id, row] as const);
};

describe('phone numbers', () => {
  it.each(named('phone'))('%s', (_id, { given, expect: wanted }) => {
    const reading = readPhone(given.input as string, given.defaultRegion as string);
    if (wanted.refused === true) {
      expect(reading.ok).toBe(false);
      return;
    }
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    expect(reading.value.e164).toBe(wanted.e164);
    if (wanted.ext !== undefined) expect(reading.value).toMatchObject({ ext: wanted.ext, textable: false });
  });

  it.each(named('phone-type'))('%s', (_id, { given, expect: wanted }) => {
    expect(phoneType(given.e164 as string)).toEqual({ type: wanted.type, textable: wanted.textable });
  });

  it('takes a number of the UK drama range in with a mild warning', () => {
    const reading = readPhone('07700 900123', 'GB');
    expect(reading).toMatchObject({
      ok: true,
      value: { valid: false, textable: true, warning: expect.any(String) },
    });
  });

  it('says of a number in scientific notation how it came about', () => {
    const reading = readPhone('2.12555E+09', 'US');
    expect(reading).toMatchObject({ ok: false, problems: [{ code: 'phone-mangled' }] });
  });

  it('says of two numbers in one cell that they are two', () => {
    for (const cell of ['212 555 0123 / 212 555 0124', '2125550123 or 2125550124', '2125550123;2125550124']) {
      expect(readPhone(cell, 'US')).toMatchObject({ ok: false, problems: [{ code: 'phone-two' }] });
    }
  });

  it('never throws, whatever text and region it gets', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.string(), (text, region) => void readPhone(text, region)),
    );
  });
});

describe('numbers and domains that reach nobody', () => {
  it.each(named('reserved'))('%s', (_id, { given, expect: wanted }) => {
    if (given.e164 !== undefined)
      expect(reservedForFiction(given.e164 as string)).toBe(wanted.reservedForFiction);
    const domains = (given.domains ?? []) as string[];
    expect(domains.every(reservedDomain)).toBe(domains.length === 0 || wanted.reserved);
  });

  it.each([
    ['+12125550100', true],
    ['+12125550099', false],
    ['+12125550200', false],
    ['+447700900000', true],
    ['+447700899999', false],
    ['+447700901000', false],
    ['+61491570006', true],
    ['+61491570007', false],
  ])('%s is set aside for fiction: %s', (e164, wanted) => expect(reservedForFiction(e164)).toBe(wanted));

  it.each([
    ['ann@example.com', true],
    ['ann@mail.example.org', true],
    ['ann@shop.test', true],
    ['ann@shop.invalid', true],
    ['ann@example.com.au', false],
    ['ann@notexample.com', false],
    ['ann@example.co', false],
  ])('%s reaches nobody: %s', (address, wanted) => expect(reservedEmail(address)).toBe(wanted));
});

describe('email addresses', () => {
  it.each([
    [' Ann.Example+new@Example.COM ', 'Ann.Example+new@example.com'],
    ['mailto:bo@example.com', 'bo@example.com'],
    ['\u200bbo@example.com\u00a0', 'bo@example.com'],
    ['ana.muñoz@example.es', 'ana.muñoz@example.es'],
  ])('reads %j', (written, wanted) => expect(readEmail(written)).toEqual({ ok: true, value: wanted }));

  it.each([
    'ann',
    'ann@',
    '@example.com',
    'ann@example',
    'a b@example.com',
    'ann..b@example.com',
    'ann@-example.com',
    'ann@example.com; bo@example.com',
    'ann@[127.0.0.1]',
    `${'a'.repeat(65)}@example.com`,
    'ann@example.com\nbcc: x@example.com',
  ])('refuses %j', (written) => expect(readEmail(written).ok).toBe(false));
});

describe('time zone names', () => {
  it.each(named('time-zone').filter(([, row]) => row.expect.accepted !== undefined))(
    '%s',
    (_id, { given, expect: wanted }) => {
      const zone = given.zone as string;
      const reading = readZone(zone);
      expect(reading.ok).toBe(wanted.accepted);
      if (wanted.sameRulesAs !== undefined) expect(sameZone(zone, wanted.sameRulesAs as string)).toBe(true);
      if (wanted.canonical !== undefined)
        expect(canonicalZone(zone)).toBe(canonicalZone(wanted.canonical as string));
    },
  );

  it.each([
    'EST',
    'MST',
    'PST8PDT',
    'CET',
    'GMT',
    'GMT+2',
    'UTC-5',
    'Etc/GMT+5',
    '+02:00',
    'New York',
    'SystemV/EST5',
    '',
  ])('refuses %j, which does not say which rules hold', (zone) =>
    expect(readZone(zone)).toMatchObject({ ok: false, problems: [{ code: 'zone-unknown' }] }),
  );

  it('accepts every zone of the runtime’s list, and gives old spellings IANA’s name of today', () => {
    for (const zone of Intl.supportedValuesOf('timeZone')) {
      if (zone.includes('/')) expect(readZone(zone).ok, zone).toBe(true);
    }
    expect(canonicalZone('Asia/Calcutta')).toBe('Asia/Kolkata');
    expect(canonicalZone('Europe/Kiev')).toBe('Europe/Kyiv');
    expect(readZone('america/new_york')).toEqual({ ok: true, value: 'America/New_York' });
  });
});

describe('zones a wearer may live in', () => {
  it.each([
    ['Pensacola, Florida', ['US', 'FL', '32501'], ['America/Chicago']],
    ['Florida, no postcode', ['US', 'Florida'], ['America/New_York', 'America/Chicago']],
    ['Boston, its nought eaten by a spreadsheet', ['US', undefined, '2134'], ['America/New_York']],
    ['northern Idaho', ['US', 'ID', '83814-1234'], ['America/Los_Angeles']],
    ['El Paso', ['US', 'TX', '79901'], ['America/Denver']],
    ['Tucson', ['US', 'AZ', '85701'], ['America/Phoenix']],
    ['the Navajo Nation', ['US', 'AZ', '86515'], ['America/Phoenix', 'America/Denver']],
    [
      'a state and a postcode that contradict',
      ['US', 'CA', '32501'],
      ['America/Los_Angeles', 'America/Chicago'],
    ],
    ['Newfoundland', ['CA', 'NL', 'A1B 2C3'], ['America/St_Johns']],
    ['Labrador City', ['CA', 'NL', 'A2V 1A1'], ['America/Goose_Bay']],
    ['Saskatoon', ['CA', 'Saskatchewan', 's7k1a1'], ['America/Regina']],
    ['Broken Hill', ['AU', 'NSW', '2880'], ['Australia/Broken_Hill']],
    ['Darwin, its nought eaten by a spreadsheet', ['AU', undefined, '800'], ['Australia/Darwin']],
    ['Kent', ['GB', 'Kent', 'TN1 1AA'], ['Europe/London']],
    ['Ireland', ['IE'], ['Europe/Dublin']],
    ['the Chatham Islands', ['NZ', undefined, '8016'], ['Pacific/Chatham']],
    ['India', ['IN', 'Kerala'], ['Asia/Kolkata']],
    ['Sonora', ['MX', 'Sonora'], ['America/Hermosillo']],
    ['Cancún', ['MX', undefined, '77500'], ['America/Cancun']],
    ['Tenerife', ['ES', undefined, '38001'], ['Atlantic/Canary']],
    ['Madrid', ['ES', 'Madrid'], ['Europe/Madrid']],
    ['nowhere', ['XX'], []],
  ] as const)('%s', (_place, [country, region, postcode], wanted) => {
    expect(zoneSet(country, region, postcode)).toEqual(wanted);
  });

  it('gives all zones of a country where nothing narrows it', () => {
    expect(zoneSet('US', 'Atlantis')).toEqual(zoneSet('US'));
    expect(zoneSet('US').length).toBeGreaterThan(20);
    expect(zoneSet('us')).toContain('Pacific/Honolulu');
  });

  it('narrows by postcode only within the zones of the country', () => {
    for (const [code, table] of Object.entries({
      US: UNITED_STATES,
      CA: CANADA,
      AU: AUSTRALIA,
      NZ: NEW_ZEALAND,
      MX: MEXICO,
      ES: SPAIN,
    })) {
      const sets = [...table.postcodes.values(), ...table.regions.map(({ zones }) => zones)];
      expect(sets.length).toBeGreaterThan(1);
      for (const zones of sets) {
        expect(zones.length, code).toBeGreaterThan(0);
        for (const zone of zones) expect(readZone(zone).ok, `${code} ${zone}`).toBe(true);
      }
    }
  });

  it('gives every ZIP3 area to one state, and its narrowed zones to that state', () => {
    for (const [zip3, zones] of UNITED_STATES.postcodes) {
      const states = UNITED_STATES.regions.filter((region) =>
        zones.every((zone) => region.zones.includes(zone)),
      );
      expect(states.length, zip3).toBeGreaterThan(0);
    }
    expect(UNITED_STATES.regions.length).toBe(56);
  });

  it('names only zones that the runtime can reckon with', () => {
    for (const country of Object.keys(COUNTRY_ZONES)) {
      expect(zoneSet(country).length, country).toBeGreaterThan(0);
      for (const zone of zoneSet(country)) {
        expect(Temporal.Instant.from('2026-01-01T00:00Z').toZonedDateTimeISO(zone).timeZoneId).toBeTruthy();
      }
    }
  });
});
