import { describe, expect, test } from 'vitest';
import { GLOSSARY } from '../../dashboard/glossary.ts';
import { story } from './stories.tsx';

const plain = (name: string): string =>
  story(name)
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');

describe('glossary', () => {
  test.each(Object.entries(GLOSSARY))('%s has one plain sentence', (_word, sentence) => {
    expect(sentence).toMatch(/^[A-Z][^.]*\.$/);
    expect(sentence.split(' ').length).toBeLessThanOrEqual(24);
  });

  test('a trade word on the fitting sheet carries its sentence, shown on focus', () => {
    expect(story('case-full')).toContain(
      `<button type="button" class="term">Fitting height<span class="meaning"><span class="unseen">: </span>${GLOSSARY['fitting height']}`,
    );
  });
});

describe('ring list', () => {
  test('each row says who, at what time of theirs, why and promised by when', () => {
    const text = plain('ring-list');
    expect(text).toMatch(/Lee Marsh .*10:42 their time .*Asked to be rung.*Promised by today 12:00/);
    expect(text).toContain('6:42 their time: not now');
    expect(text).toContain('Three times without speaking: write a letter or an email.');
  });

  test('the call sheet puts the danger signs before the question and asks the same question with tap answers', () => {
    const html = story('call-sheet');
    expect(html.indexOf('curtain or shadow')).toBeLessThan(html.indexOf('nearer, or farther away'));
    expect(html).toContain('name="question_id" value="nearer-or-farther"');
    expect(html).toContain('name="answer" value="b"');
    expect(html).toContain('name="what" value="wrong number"');
  });
});

describe('lens designs', () => {
  test('a rate stands with its interval, its count and its verdict; a small group says only that it is too small', () => {
    const text = plain('lens-designs');
    expect(text).toMatch(/compact 13 worse than the rest 62 14 23 % 14 to 34 %/);
    expect(text).toMatch(/office room too few to say 12 1 too few to say/);
  });

  test('every picture has words for those who do not see it, and a table or sentence beside it', () => {
    const html = story('lens-designs');
    const drawings = html.match(/<svg[^>]*role="img"[^>]*>/g) ?? [];
    expect(drawings).toHaveLength(5);
    for (const drawing of drawings) expect(drawing).toMatch(/aria-label(ledby)?="[^"]+"/);
    expect(html).toContain('<desc id="funnel-desc">compact 13 stands above the outer band');
    expect(html).toContain('<desc id="drift-picture-desc">The rate has gone up since July.');
  });

  test('with too few pairs it says so and draws nothing', () => {
    const html = story('lens-designs-empty');
    expect(html).toContain('Too few to say anything yet');
    expect(html).not.toContain('role="img"');
    expect(html).toContain('Nothing this month is more than luck.');
  });
});

describe('sheets to print', () => {
  test('an order is a draft until a licensed person has signed it', () => {
    expect(plain('order-note-draft')).toContain('Draft of an order');
    expect(story('order-note-draft')).toContain('action="/cases/c-quill/remake/sign"');
    expect(plain('order-note-signed')).not.toContain('Draft');
    expect(story('order-note-signed')).not.toContain('<form');
  });

  test('what changes is told from what to what, because of which number', () => {
    expect(plain('order-note-draft')).toMatch(
      /Fitting height R : 18\.0 mm to 20\.0 mm , because the cross sits 2\.1 mm below the pupil/,
    );
  });

  test('a second remake asks whether the refraction and the bench were checked again', () => {
    const html = story('order-note-draft');
    expect(html).toMatch(/name="refraction_checked" value="yes" required/);
    expect(html).toMatch(/name="checked_by_other" value="yes" required/);
  });

  test('the box card names the word to text, what it means, how to stop and when not to wait', () => {
    const text = plain('box-card');
    expect(text).toContain('Text HELLO to +1 303 555 0100 when you put them on.');
    expect(text).toContain('you agree');
    expect(text).toContain('STOP');
    expect(text).toContain('do not wait for us');
  });

  test('sheets of the invented shop say so', () => {
    for (const name of [
      'hand-over-sheet',
      'box-card',
      'bench-slip',
      'order-note-draft',
      'prescriber-note',
      'month-sheet',
    ]) {
      expect(plain(name)).toContain('nothing on this sheet is real');
    }
  });
});

describe('the wearer’s pages', () => {
  const pages = [
    'answer',
    'question-es',
    'multifocals',
    'multifocals-es',
    'light-reactive',
    'measure-es',
    'stop',
  ];

  test.each(pages)('%s: no script, the signs that cannot wait, a number to ring', (page) => {
    const html = story(`wearer-${page}`);
    expect(html).not.toContain('<script');
    expect(html).toMatch(page.endsWith('-es') ? /una cortina o sombra/ : /a curtain or shadow/);
    expect(html).toContain('href="tel:+13035550100"');
    expect(html).toContain(page.endsWith('-es') ? '<html lang="es">' : '<html lang="en">');
  });

  test('the check-in is answered with one tap, 1 to 5, or in own words', () => {
    const html = story('wearer-answer');
    expect([...html.matchAll(/name="answer" value="(\d)"/g)].map((match) => match[1])).toEqual([
      '1',
      '2',
      '3',
      '4',
      '5',
    ]);
    expect(html).toContain('<textarea id="own-text" name="text"');
  });

  test('stopping takes one tap and asks nothing', () => {
    const html = story('wearer-stop');
    expect(html.match(/name="stop"/g)).toHaveLength(3);
    expect(html).not.toContain('required');
  });

  test('what cannot be settling is named as something to tell at once', () => {
    expect(plain('wearer-multifocals')).toMatch(
      /Tell us at once, do not wait .*one eye is worse.*see double/,
    );
    expect(plain('wearer-multifocals')).not.toMatch(/will get used to|no distortion/i);
  });

  test('tint against time has the three airs to tap and the same numbers as a table', () => {
    const html = story('wearer-light-reactive');
    expect(html).toContain('href="/w/token/light-reactive?air=hot&amp;lang=en"');
    expect(html).toMatch(/air=cold&amp;lang=en" aria-current="true"/);
    expect(html).toContain('<th scope="row">cold</th>');
    expect(plain('wearer-light-reactive')).toContain('75 %: under this not for driving at dusk or night');
  });
});
