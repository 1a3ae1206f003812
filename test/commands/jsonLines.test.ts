import { expect, test } from 'vitest';
import { runAfterfit } from '../setup/process.ts';

const lines = (out: string) =>
  out
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));

test('sort: each reply is answered on its own line, a bad line in its place, and the exit code says so', async () => {
  const input = [
    '{"text":"I have to lift my chin to read"}',
    'this is not JSON',
    '{"words":"x"}',
    '{"text":"STOP"}',
  ].join('\n');
  const ran = await runAfterfit(['sort'], { input });
  const [first, second, third, fourth] = lines(ran.out);
  expect(first).toMatchObject({ labels: ['near-too-low'], urgent: false, stop: false });
  expect(first.spans[0]).toMatchObject({
    label: 'near-too-low',
    start: expect.any(Number),
    end: expect.any(Number),
  });
  expect(second.error).toMatchObject({ code: 'not-json', where: 'line 2' });
  expect(third.error).toMatchObject({ code: 'not-allowed', where: 'line 3, text' });
  expect(fourth).toMatchObject({ stop: true });
  expect(ran.code).toBe(2);
});

test('sort: a bare answer is read against the question that was asked', async () => {
  const ran = await runAfterfit(['sort'], { input: '{"text":"3","asked":{"kind":"check-in"}}\n' });
  expect(lines(ran.out)[0].bareAnswer).toEqual({ questionId: 'check-in', answer: '3' });
  expect(ran.code).toBe(0);
});

test('weigh: the cross 2 mm below the pupil leads, with the number as evidence, and the frame is adjusted first', async () => {
  const input =
    '{"reply_labels":["near-too-low"],"job":{"day":6,"cross_above_pupil_mm":{"R":-2,"L":-2},"no_such_fact":1}}\n';
  const ran = await runAfterfit(['weigh'], { input });
  const [answer] = lines(ran.out);
  expect(answer.causes[0].id).toBe('cross-too-low');
  expect(answer.causes[0].evidence).toContainEqual(
    expect.objectContaining({ fact: 'cross_above_pupil_mm', toward: 'for' }),
  );
  expect(answer.act.id).toBe('adjust');
  expect(answer.problems[0].what).toContain('no_such_fact');
  expect(ran.code).toBe(0);
});

test.each(['sort', 'weigh'])(
  '%s --schema prints a JSON Schema of both lines, and --help says how to use it',
  async (command) => {
    const schema = JSON.parse((await runAfterfit([command, '--schema'])).out);
    expect(schema.in.type).toBe('object');
    expect(schema.out.type).toBe('object');
    expect((await runAfterfit([command, '--help'])).out).toContain(`afterfit ${command}`);
  },
);

test('a command that is not there is told with those that are', async () => {
  const ran = await runAfterfit(['sorted']);
  expect(ran.code).toBe(2);
  expect(ran.err).toContain('There is no command “sorted”');
  expect(ran.err).toContain('afterfit import');
});

test('a Node that is too old is one clear line', async () => {
  const old = 'Object.defineProperty(process,"versions",{value:{...process.versions,node:"18.19.0"}})';
  const ran = await runAfterfit(['start'], {
    nodeArgs: ['--import', `data:text/javascript,${encodeURIComponent(old)}`],
  });
  expect(ran.code).toBe(1);
  expect(ran.err).toBe(
    'Afterfit needs Node 20 or newer; this is 18.19.0. Install a newer Node and start again.\n',
  );
});
