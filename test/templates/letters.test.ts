import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { QUESTIONS } from '../../src/causes/catalogue/questions.ts';
import { PARTS_ALLOWED, WRITTEN_BY_HAND } from '../../templates/budget.ts';
import { spanish } from '../../templates/es/words.ts';
import { everyLetter } from '../../templates/everyLetter.ts';
import { countWords, fleschKincaidGrade, spanishEase } from '../../templates/readingGrade.ts';
import { renderMessage } from '../../templates/renderMessage.ts';
import { textParts } from '../../templates/textParts.ts';
import { LOCALES, type Locale, type Medium, type Rendered, type RenderInput } from '../../templates/types.ts';
import { lensWords, wordFaults } from '../../templates/wordsAllowed.ts';

const shop = {
  name: 'Fernside Optics',
  phone: '+1 212 555 0100',
  localNumbers: [
    { who: 'Emergency', number: '911' },
    { who: 'Eye clinic', number: '+1 212 555 0111' },
  ],
};
// A link as long as it may be: 24 characters of path behind a host of ordinary length.
const LINK = 'https://www.fernside.example/a/k7q2m4x5k7q2m4x5k7q2m';
const NAMES: Readonly<Record<Locale, readonly string[]>> = {
  en: ['Sam', 'Christopher'],
  es: ['Ana', 'María Inés'],
};
const LETTERS = everyLetter(QUESTIONS, 'we can see you on Friday at 10.');

type One = { readonly input: RenderInput; readonly rendered: Rendered; readonly named: string };

function every(channel: Medium, locale: Locale): readonly One[] {
  return LETTERS.flatMap(({ letter, first }) =>
    NAMES[locale].flatMap((firstName) =>
      [undefined, LINK].map((link) => {
        const input: RenderInput = { ...letter, locale, channel, shop, wearer: { firstName }, first, link };
        const rendered = renderMessage(input);
        return {
          input,
          rendered,
          named: `${rendered.templateId}${first ? ' first' : ''}${link ? ' link' : ''}`,
        };
      }),
    ),
  );
}

/** The words that are ours: names are as hard to read as they are. */
const ours = (text: string) =>
  [shop.name, ...NAMES.en, ...NAMES.es].reduce((left, name) => left.replaceAll(name, ''), text);

const isFirst = (input: RenderInput) => input.first === true || input.purpose === 'tips';

test('the table of parts holds: first 2, later 1 or 2 with a link, Spanish 3, caution 3', () => {
  expect(PARTS_ALLOWED).toEqual({ first: 2, later: 1, laterWithLink: 2, spanish: 3, caution: 3 });
  for (const locale of LOCALES) {
    for (const { input, rendered, named } of every('text', locale)) {
      if (WRITTEN_BY_HAND.has(input.purpose)) continue;
      const withLink = rendered.text.includes(LINK);
      const { first, later, laterWithLink, spanish, caution } = PARTS_ALLOWED;
      const english = isFirst(input) ? first : withLink ? laterWithLink : later;
      const most = input.purpose === 'caution' ? caution : locale === 'es' ? spanish : english;
      expect(textParts(rendered.text).segments, `${named}: ${rendered.text}`).toBeLessThanOrEqual(most);
    }
  }
});

test('English texts need no character outside the basic alphabet', () => {
  for (const { rendered, named } of every('text', 'en'))
    expect(textParts(rendered.text).outside, named).toEqual([]);
});

test('the link of a check-in is in the text wherever the budget has room for it', () => {
  for (const { input, rendered, named } of every('text', 'en')) {
    if (input.purpose === 'check-in' && input.link) expect(rendered.text, named).toContain(LINK);
  }
});

test('every check-in ends with the five answers, and no answer but these has a digit', () => {
  const five = {
    en: ['seeing well', 'getting there', 'something is not right', 'not wearing them', 'please ring me'],
    es: ['veo bien', 'voy mejor', 'algo no va bien', 'no los uso', 'quiero que me llamen'],
  };
  const own = { en: 'or just tell us in your own words.', es: 'o cuéntenos con sus palabras.' };
  for (const locale of LOCALES) {
    for (const channel of ['text', 'email'] as const) {
      const separator = channel === 'text' ? '\n' : ' · ';
      const answers = five[locale].map((words, at) => `${at + 1} ${words}`).join(separator);
      const ending = channel === 'text' ? `${answers}\n${own[locale]}` : `${answers}, ${own[locale]}`;
      for (const { input, rendered, named } of every(channel, locale)) {
        const asksNumbers = rendered.asks?.kind === 'check-in';
        expect(rendered.text.trimEnd().endsWith(ending), named).toBe(asksNumbers);
        if (input.purpose === 'check-in') expect(asksNumbers, named).toBe(true);
        if (rendered.asks?.kind === 'choices') {
          for (const { key } of rendered.asks.answers) expect(key).toMatch(/^[abc]$/);
        }
      }
    }
  }
});

test('the first message says who writes, your new glasses, the question, how to answer and how to stop', () => {
  for (const { input, rendered, named } of every('text', 'en').filter((one) => isFirst(one.input))) {
    expect(rendered.text, named).toContain('Fernside Optics');
    expect(rendered.text, named).toMatch(/[Yy]our new glasses/);
    expect(rendered.text, named).toMatch(/Reply STOP/);
    expect(rendered.text, named).toMatch(input.purpose === 'tips' ? /Write back/ : /\?.*([Aa]nswer)/s);
  }
  for (const { rendered, named } of every('text', 'es').filter((one) => isFirst(one.input))) {
    expect(rendered.text, named).toContain('Fernside Optics');
    expect(rendered.text, named).toMatch(/sus lentes nuevos/);
    expect(rendered.text, named).toMatch(/STOP para terminar/);
  }
});

test('no text and no subject line tells powers, measurements, conditions, the type of lens, or sells', () => {
  for (const locale of LOCALES) {
    for (const { rendered, named } of every('text', locale)) {
      expect(wordFaults(rendered.text, { channel: 'text', sender: shop.name }), named).toEqual([]);
    }
    for (const { rendered, named } of every('email', locale)) {
      expect(wordFaults(rendered.subject ?? '', { channel: 'subject' }), named).toEqual([]);
      expect(lensWords(rendered.subject ?? ''), named).toEqual([]);
    }
  }
});

test('an unasked text keeps to itself what the lenses do', () => {
  const unasked = new Set(['tips', 'check-in', 'have-they-come']);
  for (const locale of LOCALES) {
    for (const { input, rendered, named } of every('text', locale)) {
      if (unasked.has(input.purpose)) expect(lensWords(rendered.text.replace(LINK, '')), named).toEqual([]);
    }
  }
});

test('English reads at grade 7 or below by the Flesch-Kincaid formula', () => {
  for (const channel of ['text', 'email'] as const) {
    for (const { input, rendered, named } of every(channel, 'en')) {
      if (WRITTEN_BY_HAND.has(input.purpose)) continue;
      expect(
        fleschKincaidGrade(countWords(ours(rendered.text), 'en')),
        `${named}: ${rendered.text}`,
      ).toBeLessThanOrEqual(7);
    }
  }
});

test('Spanish reads "fairly easy" or easier, 65 and more by the Szigriszt formula', () => {
  for (const channel of ['text', 'email'] as const) {
    for (const { input, rendered, named } of every(channel, 'es')) {
      if (WRITTEN_BY_HAND.has(input.purpose)) continue;
      expect(
        spanishEase(countWords(ours(rendered.text), 'es')),
        `${named}: ${rendered.text}`,
      ).toBeGreaterThanOrEqual(65);
    }
  }
});

test('Spanish is spelt properly: no accent and no opening mark is dropped to save a part', () => {
  const wrong =
    /\b(?:mas|dia|dias|asi|aqui|tambien|numero|telefono|todavia|recibira|frio|jabon|pagina|perdon|ningun|llamenos|cuentenos|pruebelo|uselos|si los tiene si|miercoles|sabado|manana|rapido|proximo|despues|enseguida si|como le va|que tal|que bien|cuando los|esta bien|estan|digame|digannos|medico|vision|perdida|subita|tunel|oculista o)\b/;
  const allowed = /cuando los tenga|cuando quiera/g;
  for (const channel of ['text', 'email'] as const) {
    for (const { rendered, named } of every(channel, 'es')) {
      expect(rendered.text.replace(allowed, ''), named).not.toMatch(wrong);
      const opened = rendered.text.match(/¿/g)?.length ?? 0;
      expect(rendered.text.replace(/https?:\S+/g, '').match(/\?/g)?.length ?? 0, named).toBe(opened);
    }
  }
});

test('every follow-up question of the catalogue has Spanish words for itself and each of its answers', () => {
  for (const { id, text, answers } of QUESTIONS) {
    const own = spanish.questions[id];
    expect(own?.text, id).toMatch(/\?/);
    expect(own?.text, id).not.toBe(text);
    expect(Object.keys(own?.answers ?? {}), id).toEqual(answers.map(({ key }) => key));
  }
});

test('a caution of closed hours gives the local numbers first and promises nothing from us', () => {
  const promise =
    /\b(?:we are|we will|we'll|calling you|will ring|will call|le vamos|llamaremos|le llama)\b/i;
  for (const locale of LOCALES) {
    for (const channel of ['text', 'email'] as const) {
      for (const { input, rendered, named } of every(channel, locale)) {
        if (input.purpose !== 'caution') continue;
        expect(rendered.text, named).toContain('911');
        expect(rendered.text, named).toContain('+1 212 555 0111');
        if (input.hours === 'closed') {
          expect(rendered.text, named).not.toMatch(promise);
          const help = rendered.text.search(/look|optometr|hurt|daño/);
          expect(rendered.text.indexOf('911'), named).toBeLessThan(help);
        } else expect(rendered.text, named).toMatch(/calling you|Le vamos a llamar/);
      }
    }
  }
});

test('a caution never tells what is wrong, and never tells to wait', () => {
  for (const { input, rendered, named } of every('text', 'en')) {
    if (input.purpose !== 'caution') continue;
    expect(rendered.text, named).not.toMatch(/retina|detach|nothing to worry|wait (?:and|until)|probably/i);
  }
});

test('a caution cannot be written without the local numbers', () => {
  for (const localNumbers of [[], [{ who: ' ', number: '911' }], [{ who: 'Emergency', number: '' }]]) {
    expect(() =>
      renderMessage({
        purpose: 'caution',
        danger: 'eye',
        hours: 'closed',
        locale: 'en',
        channel: 'text',
        shop: { ...shop, localNumbers },
        wearer: { firstName: 'Sam' },
      }),
    ).toThrow(/local numbers/);
  }
});

test('HELP tells the shop name, how to reach a person and how to stop', () => {
  for (const locale of LOCALES) {
    for (const channel of ['text', 'email'] as const) {
      const { text } = renderMessage({ purpose: 'help', locale, channel, shop, wearer: { firstName: '' } });
      expect(text).toContain(shop.name);
      expect(text).toContain(shop.phone);
      expect(text).toContain('STOP');
    }
  }
});

test('a stop confirmation names what has stopped and asks nothing', () => {
  const say = (channels: readonly Medium[]) =>
    renderMessage({
      purpose: 'stop-done',
      channels,
      locale: 'en',
      channel: 'text',
      shop,
      wearer: { firstName: 'Sam' },
    }).text;
  expect(say(['text'])).toMatch(/no more texts from us/);
  expect(say(['email'])).toMatch(/no more emails from us/);
  expect(say(['email', 'text'])).toMatch(/no more texts or emails/);
  for (const channels of [['text'], ['email'], ['text', 'email']] as const)
    expect(say(channels)).not.toContain('?');
});

test('a kept answer ends with the offer to ring, also in words of the shop', () => {
  const say = (keptAnswers: object) =>
    renderMessage({
      purpose: 'answer',
      pieces: [{ kind: 'kept', ask: 'returns' }],
      locale: 'en',
      channel: 'text',
      shop: { ...shop, keptAnswers },
      wearer: { firstName: 'Sam' },
    });
  expect(say({ returns: { en: 'Bring them back within 60 days.' } }).text).toBe(
    'Fernside Optics: Bring them back within 60 days, or shall we ring you?',
  );
  expect(say({ returns: { en: 'Bring them back within 60 days.' } }).asks).toEqual({
    kind: 'yes-no',
    id: 'ring-you',
  });
  const empty = say({});
  expect(empty.text).toMatch(/Someone here will read it/);
  expect(empty.leftOut).toEqual([{ kind: 'kept', ask: 'returns' }]);
});

test('one text answers all that was asked as far as one part goes, and says what it left to staff', () => {
  const answer = renderMessage({
    purpose: 'answer',
    pieces: [
      { kind: 'heard', what: 'trouble-look' },
      { kind: 'kept', ask: 'how-long' },
      { kind: 'kept', ask: 'driving' },
    ],
    locale: 'en',
    channel: 'text',
    shop,
    wearer: { firstName: 'Sam' },
  });
  expect(textParts(answer.text).segments).toBe(1);
  expect(answer.text).toContain('two weeks');
  expect(answer.leftOut).toEqual([{ kind: 'kept', ask: 'driving' }]);
});

test('an email says everything in plain text too, links by what they lead to, and lets nothing through as HTML', () => {
  const mail = renderMessage({
    purpose: 'check-in',
    day: 7,
    locale: 'en',
    channel: 'email',
    shop: { ...shop, name: 'Fern & Side <Optics>' },
    wearer: { firstName: '<b>Sam</b>' },
    link: LINK,
    stopLink: `${LINK}?x=1&y=2`,
  });
  expect(mail.text).toContain(`Answer with one tap: ${LINK}`);
  expect(mail.html).toContain(`<a href="${LINK}"`);
  expect(mail.html).not.toContain('<b>');
  expect(mail.html).not.toMatch(/<img|<script|@import|url\(/i);
  expect(mail.html).toContain('lang="en"');
});

test('tips by email say what each kind of lens needs, and by text nothing of it', () => {
  const tips = (channel: Medium, firstMultifocal: boolean, lightReactive: boolean) =>
    renderMessage({
      purpose: 'tips',
      way: 'counter',
      firstMultifocal,
      lightReactive,
      locale: 'en',
      channel,
      shop,
      wearer: { firstName: 'Sam' },
    }).text;
  for (const word of ['nose', 'chin', 'rail', 'drive', 'screen', 'reading'])
    expect(tips('email', true, false)).toContain(word);
  for (const word of ['In a car', 'heat', 'cold', 'clear more slowly'])
    expect(tips('email', false, true)).toContain(word);
  expect(tips('email', false, false)).not.toMatch(/multifocal|go dark in the sun/);
  expect(tips('email', true, true)).toMatch(/same day/);
  expect(tips('text', true, true)).toBe(tips('text', false, false));
});

test('a change of any word comes with a new version of the words', () => {
  const digest = (locale: Locale) => {
    // The catalogue owns the English words of its questions.
    const all = (['text', 'email'] as const)
      .flatMap((channel) => every(channel, locale))
      .filter(({ input }) => locale === 'es' || !('question' in input));
    const version = all[0]?.rendered.templateVersion;
    const hash = createHash('sha256').update(
      all.map(({ rendered }) => `${rendered.subject}\n${rendered.text}`).join('\f'),
    );
    return { version, digest: hash.digest('hex').slice(0, 16) };
  };
  expect(LOCALES.map(digest)).toEqual([
    { version: 'en-2', digest: '88d70473f9d4a356' },
    { version: 'es-2', digest: '92739267d583ea0e' },
  ]);
});
