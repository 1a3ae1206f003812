import { describe, expect, test } from 'vitest';
import { candidatesOf, lessonsCommand, lessonsOf } from '../../src/commands/lessons.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import type { CorrectionRow } from '../../src/store/pages/words.ts';
import { newFolder, runAfterfit, startAfterfit } from '../setup/process.ts';

const row = (over: Partial<CorrectionRow>): CorrectionRow => ({
  inbound_id: 'i1',
  body: 'they slip down my nose',
  locale: 'en',
  labels_before: [],
  labels_after: ['slipping'],
  why: null,
  by_name: 'Ana Example',
  at: new Date('2026-03-02T15:00:00Z'),
  ...over,
});

describe('what is to be learnt', () => {
  test('a correction that the sorter reads by now is learnt; what is missed or read too much is named', () => {
    expect(sortReply({ text: 'they slip down my nose' }).labels).toEqual(['slipping']);
    expect(lessonsOf([row({})])[0]).toMatchObject({ learnt: true, missed: [], wrong: [] });
    expect(lessonsOf([row({ labels_after: ['crooked'] })])[0]).toMatchObject({
      learnt: false,
      today: ['slipping'],
      missed: ['crooked'],
      wrong: ['slipping'],
    });
  });

  test('a reply that was corrected twice is one lesson: what was read first, and what staff said last', () => {
    const lessons = lessonsOf([
      row({ labels_before: ['crooked'], labels_after: ['slipping'], at: new Date('2026-03-03T15:00:00Z') }),
      row({ labels_before: [], labels_after: ['crooked'] }),
      row({ inbound_id: 'i2', body: 'qwx' }),
    ]);
    expect(lessons).toHaveLength(2);
    expect(lessons[0]).toMatchObject({ before: [], staff: ['slipping'], on: '2026-03-03', learnt: true });
    expect(lessons[1]).toMatchObject({ words: 'qwx', missed: ['slipping'], learnt: false });
  });
});

test('words of a missed label are candidates, with the labelled replies that they would put right and wrong', () => {
  const [lesson] = lessonsOf([row({ body: 'qwxen vlorp', labels_after: ['slipping'] })]);
  const told = (words: string, labels: string[], today: string[]) => ({ words: ` ${words} `, labels, today });
  const candidates = candidatesOf(lesson!, [
    told('they qwxen', ['slipping'], []),
    told('a vlorp', [], []),
    told('vlorp again', ['slipping'], []),
    told('qwxen qwxen', ['slipping'], ['slipping']),
  ]);
  expect(candidates).toEqual([
    { label: 'slipping', phrase: 'qwxen', right: 1, wrong: 0 },
    { label: 'slipping', phrase: 'qwxen vlorp', right: 0, wrong: 0 },
  ]);
});

test('on an empty folder it says that there is no shop yet', async () => {
  const ran = await runAfterfit(['lessons'], { folder: newFolder() });
  expect(ran.code).toBe(1);
  expect(ran.err).toContain('There is no shop yet.');
});

test('with a server on the folder it is asked by its key; without the key the door stays shut', async () => {
  const server = await startAfterfit(['--own']);
  const shut = await fetch(`${server.address}/api/corrections`, { headers: { 'x-afterfit-key': 'guess' } });
  const through = await runAfterfit(['lessons'], { folder: server.folder });
  await server.stop();
  const alone = await runAfterfit(['lessons'], { folder: server.folder });
  expect(shut.status).toBe(403);
  expect(through.out).toContain('0 replies corrected');
  expect(through.out).toMatch(/dev\.tsv today: 1\d\d of 180 exactly right/);
  expect(through.code).toBe(0);
  expect(alone.out).toBe(through.out);
}, 60_000);

test('help tells what leaves the machine’s records', () => {
  expect(lessonsCommand.help).toContain('your wearers');
});
