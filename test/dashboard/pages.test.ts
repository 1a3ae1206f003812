import { describe, expect, test } from 'vitest';
import { story, storyNames } from './stories.tsx';

const formsOf = (html: string): string[] => html.match(/<form method="post"[\s\S]*?<\/form>/g) ?? [];
const actionOf = (form: string): string => /action="([^"]*)"/.exec(form)?.[1] ?? '';

describe('every page in every state', () => {
  test('there are stories to look at', () => {
    expect(storyNames.length).toBeGreaterThan(20);
  });

  test.each(storyNames)(
    '%s is a whole document with one heading of the first rank and one main part',
    (name) => {
      const html = story(name);
      expect(html.startsWith('<!doctype html><html')).toBe(true);
      expect(html.match(/<h1[ >]/g)).toHaveLength(1);
      expect(html.match(/<main[ >]/g)).toHaveLength(1);
      expect(html).toMatch(/<title>[^<]+<\/title>/);
    },
  );

  test.each(storyNames)(
    '%s: every form that posts carries the token, or goes by the wearer’s own link',
    (name) => {
      for (const form of formsOf(story(name))) {
        if (actionOf(form).startsWith('/w/token')) continue;
        expect(form, actionOf(form)).toContain('<input type="hidden" name="csrf" value="csrf-token"/>');
      }
    },
  );

  test.each(storyNames)(
    '%s: what was typed never becomes markup, and nothing is styled or scripted inline',
    (name) => {
      const html = story(name);
      expect(html).not.toContain('<script>alert');
      expect(html).not.toContain('<b>Hi</b>');
      expect(html).not.toMatch(/ style="/);
      expect(html).not.toMatch(/ on[a-z]+="/);
    },
  );

  test.each(storyNames)('%s: each id stands once, and each label names a field that is there', (name) => {
    const html = story(name);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    for (const [, target] of html.matchAll(/<label for="([^"]+)"/g)) expect(ids).toContain(target);
  });

  test.each(storyNames)('%s: no field name of a program stands bare on the page', (name) => {
    expect(story(name).replace(/<[^>]*>/g, ' ')).not.toMatch(/\bundefined\b|\[object|\bNaN\b/);
  });
});

describe('bench', () => {
  test('with nobody in danger it says so, names the first act and the nearest ends', () => {
    const answers = /<dl class="answers">[\s\S]*?<\/dl>/.exec(story('bench-full'))?.[0] ?? '';
    expect(answers.replace(/<[^>]*>/g, '')).toContain('Nobody that we know of; the tray has 3 unread');
    expect(answers).toContain('Adjust: <a href="/cases/c-quill">Ida Quill</a>');
    expect(answers.indexOf('Owen Pratt')).toBeLessThan(answers.lastIndexOf('Ida Quill'));
    expect(answers).toContain('2 days left, our promise');
  });

  test('with nobody in danger and an empty tray it says nobody', () => {
    expect(story('bench-empty')).toContain('<dd>Nobody.</dd>');
  });

  test('four ends are named, the rest are counted and lead to the cases', () => {
    const html = story('bench-full');
    const answers = /<dl class="answers">[\s\S]*?<\/dl>/.exec(html)?.[0] ?? '';
    expect(answers).toContain('Ending soon');
    for (const name of ['Owen Pratt', 'Ida Quill', 'Lee Marsh', 'Mina Osei']) expect(answers).toContain(name);
    expect(answers).not.toContain('Joan Tull');
    expect(answers).toContain('href="#cases-heading">and 2 more</a>');
    expect(html).toContain('id="cases-heading"');
  });

  test('cases beyond the page are counted, their columns have headings, and the tray has one number', () => {
    const html = story('bench-full');
    expect(html).toContain('<a href="/bench?page=2">6 more cases</a>');
    expect(html.replace(/<[^>]*>/g, ' ')).toMatch(/Who\s+What they said\s+Likely cause\s+What to do/);
    const quiet = story('bench-quiet').replace(/<[^>]*>/g, '');
    expect(quiet).toContain('Read the tray 3 waiting');
    expect(quiet).toContain('Tray3 waiting');
  });

  test('danger comes before every case, with the number to ring and “I have it”', () => {
    const html = story('bench-danger');
    expect(html.indexOf('class="danger"')).toBeLessThan(html.indexOf('class="rows"'));
    expect(html).toContain('href="tel:+13035550142"');
    expect(formsOf(html).map(actionOf)).toContain('/cases/c-hale/have-it');
    expect(html).toContain('nobody is on it yet');
    expect(html).toContain('<title>(!) Bench');
  });

  test('a caution that did not reach the wearer is said loudly', () => {
    expect(story('bench-long')).toContain(
      '<strong>The caution has NOT been sent: no local help numbers are set</strong>',
    );
  });

  test('a row shows own words underlined, the cause with its share and number, and both ends by name', () => {
    const row = /<li class="row"[\s\S]*?<\/li><li class="row"/.exec(story('bench-full'))?.[0] ?? '';
    expect(row).toContain(
      '<mark class="read" title="reading part too far down">lift my chin up to read</mark>',
    );
    expect(row).toContain('about 6 in 10 likely');
    expect(row).toContain('right cross 2.1 mm below the pupil');
    expect(row).toContain('4 days left');
    expect(row).toContain('the lab’s remake window');
    expect(row).toContain('our promise');
  });

  test('the act is posted with the version that was seen; a remake opens its draft instead', () => {
    const html = story('bench-full');
    const form = formsOf(html).find((each) => actionOf(each) === '/cases/c-quill/act') ?? '';
    expect(form).toContain('name="act" value="adjust"');
    expect(form).toContain('name="way" value="at the shop"');
    expect(form).toContain('name="seen_version" value="4"');
    expect(html).toContain('<a class="button act" href="/cases/c-pratt/remake">');
  });

  test('an empty shop is told what to do first', () => {
    const html = story('bench-empty');
    expect(html).toContain('What to do first');
    expect(html).toContain('<a href="/deliveries">Type in a job');
    expect(html).toContain('<s>Set the shop');
  });
});

describe('case', () => {
  test('each cause shows the facts for and against it, with value, strength and where from', () => {
    const text = story('case-full')
      .replace(/<div class="trace">[\s\S]*?<\/div>/g, '')
      .replace(/<[^>]*>/g, '');
    expect(text).toContain('right cross against pupil 2.1 mm below for, ×6 measured by Ana Brook today');
    expect(text).toContain('left cross against pupil 0.6 mm below against, ×1.3');
    expect(text).toContain('confirm at the bench');
  });

  test('a number opens to its inputs, formula and source', () => {
    const html = story('case-full');
    expect(html).toContain('cross less pupil = 17.9 − 20.0 = −2.1 mm (below)');
    expect(html).toContain('common practice, no source');
  });

  test('its forms go where the routes expect them', () => {
    const actions = formsOf(story('case-full')).map(actionOf);
    for (const act of [
      'hold',
      'write',
      'heard',
      'act',
      'facts',
      'close',
      'question',
      'answer',
      'correct',
      'claim',
    ]) {
      expect(actions).toContain(`/cases/c-quill/${act}`);
    }
  });

  test('an act refused on a changed case says what changed and did nothing', () => {
    const html = story('case-refused');
    expect(html).toContain('Nothing was done');
    expect(html).toContain('Tom Reyes held the case, 10:41');
  });

  test('nobody can be written to who said stop: the box gives way to the reason', () => {
    const html = story('case-refused');
    expect(html).not.toContain('/write"');
    expect(html).toContain('she said stop on 20 Aug');
  });

  test('a date that the lab waits for is said, not folded away', () => {
    expect(story('case-refused')).toMatch(
      /<details class="close" open=""><summary>The lab: asked Mon 24 Aug/,
    );
    expect(story('case-full')).toMatch(/<details class="close"><summary>The lab: asked Mon 24 Aug/);
  });

  test('danger is not weighed', () => {
    const html = story('case-danger');
    expect(html).toContain('No cause is weighed');
    expect(html).not.toContain('class="cause"');
  });

  test('it cannot be called settled while a message waits in the tray, and the page says so', () => {
    expect(story('case-full')).toContain('It cannot be called settled: a message from her is in the tray.');
  });

  test('the lens picture has a title, a sentence and the same numbers as a table', () => {
    const html = story('case-full');
    expect(html).toContain('<title id="lens-title">Both lenses, seen from the front, to scale</title>');
    expect(html).toContain('<desc id="lens-desc">Right cross 2.1 mm below the pupil');
    expect(html).toContain('<th scope="row">Fitting height, worn</th><td>17.9 mm</td>');
  });
});

describe('tray', () => {
  test('an unlinked message offers its candidates and a search, a linked one its case', () => {
    const html = story('tray-full');
    expect(formsOf(html).map(actionOf)).toContain('/tray/i-2/link');
    expect(html).toContain('name="wearer_id" value="w-2"');
    expect(html).toContain('action="/tray#in-i-3"');
    expect(html).toContain('href="/cases/c-marsh"');
  });

  test('the labels that it has are ticked and every label can be given', () => {
    const form = formsOf(story('tray-full')).find((each) => actionOf(each) === '/tray/i-1/labels') ?? '';
    expect(form).toMatch(/value="settled" checked/);
    expect(form).not.toMatch(/value="swim" checked/);
    expect(form.match(/name="labels"/g)).toHaveLength(6);
  });
});

describe('deliveries', () => {
  test('a refused form keeps what was typed and says at each field how to mend it', () => {
    const html = story('delivery-form-refused');
    expect(html).toContain('value="&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;"');
    expect(html).toContain('<a href="#f-phone">');
    expect(html).toMatch(/id="f-order_sphere_R"[^>]*aria-invalid="true"/);
  });

  test('a dry run takes nothing in; each bad line is told with line, column, found, allowed and how to mend it', () => {
    const html = story('import-looked');
    expect(html).toContain('looked at, not taken in yet');
    expect(html.replace(/<[^>]*>/g, '|')).toMatch(
      /14\|+handed over on\|+31\/02\/2026\|+a day that exists, month first\|+Write the true day/,
    );
    const form = formsOf(html).find((each) => each.includes('value="take"')) ?? '';
    expect(form).toContain('name="checked_text" value="job number;name\n1;&quot;A &lt;b&gt;&quot;"');
    expect(form).toContain('name="change_line" value="9"');
  });

  test('a reading that is out is told by a word, not by colour alone', () => {
    expect(story('job-full').replace(/<[^>]*>/g, '|')).toMatch(/L axis\|+95\|+95\|+101\|+±5°\|+−1°\|+OUT/);
  });

  test('a pair can be made again without a case, with its reason and who bears it', () => {
    const form = formsOf(story('job-bare')).find((each) => actionOf(each) === '/jobs/j-20731/remake') ?? '';
    for (const name of ['reason', 'borne_by', 'to_design']) expect(form).toContain(`name="${name}"`);
  });

  test('hand-over asks consent in the shop’s words and only where there is a way to write', () => {
    const html = story('job-full');
    expect(html).toContain('name="consent_text" value="given"');
    expect(html).not.toContain('name="consent_email"');
    expect(html).toContain('<blockquote>May we ask you');
  });
});

describe('the invented shop', () => {
  test('each of its pages says that nothing is real', () => {
    for (const name of ['bench-full', 'tray-full', 'rehearsal', 'job-full']) {
      expect(story(name)).toContain('Invented shop: nothing here is real');
    }
    expect(story('bench-empty')).not.toContain('Invented shop');
  });

  test('two telephones, a mailbox and a clock that moves', () => {
    const html = story('rehearsal');
    expect(html).toContain('<a href="/w/abcdefghijklmnopqrstu">');
    const forms = formsOf(html);
    expect(forms.filter((form) => actionOf(form) === '/rehearsal/clock')).toHaveLength(5);
    expect(html).toContain('name="to" value="next-due"');
    expect(html.match(/name="contact_id" value="k-1"/g)).toHaveLength(2);
    expect(forms.some((form) => actionOf(form) === '/rehearsal/reply' && form.includes('value="k-3"'))).toBe(
      true,
    );
  });
});
