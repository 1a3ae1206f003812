import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { sortReply } from '../../src/replies/sortReply.ts';

const lines = (name: string) =>
  readFileSync(new URL(name, import.meta.url), 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '');

describe('danger signs', () => {
  const urgent = lines('urgent.txt');
  const tempting = lines('tempting.txt');

  test('at least 150 ways to tell of a danger all reach a person', () => {
    expect(urgent.length).toBeGreaterThanOrEqual(150);
    expect(urgent.filter((text) => !sortReply({ text }).urgent)).toEqual([]);
  });

  test('at least 150 replies that only sound like a danger raise no alarm', () => {
    expect(tempting.length).toBeGreaterThanOrEqual(150);
    expect(tempting.filter((text) => sortReply({ text }).urgent)).toEqual([]);
  });

  test('doubling is a danger when it came suddenly, and not when it came with the glasses', () => {
    expect(sortReply({ text: 'Suddenly seeing double since this morning' }).labels).toEqual(['urgent-eye']);
    expect(sortReply({ text: 'Letters have been doubled since I picked them up' }).labels).toEqual([
      'doubling',
    ]);
  });

  test('a stop does not hide the danger in the same message', () => {
    const reading = sortReply({ text: 'STOP. I have flashes of light and a curtain over one eye' });
    expect(reading.stop).toBe(true);
    expect(reading.urgent).toBe(true);
  });

  test('a cry for help with a danger in it is no request for the HELP word', () => {
    const reading = sortReply({ text: "help I can't see out of my left eye" });
    expect(reading.urgent).toBe(true);
    expect(reading.labels).not.toContain('help');
  });
});

describe('stop', () => {
  test('every word of the rule and every clear wish stops the messages', () => {
    expect(lines('stops.txt').length).toBeGreaterThanOrEqual(100);
    expect(lines('stops.txt').filter((text) => !sortReply({ text }).stop)).toEqual([]);
  });

  test('at least 100 sentences with a stop word in another sense stop nothing', () => {
    expect(lines('nonStops.txt').length).toBeGreaterThanOrEqual(100);
    expect(lines('nonStops.txt').filter((text) => sortReply({ text }).stop)).toEqual([]);
  });

  test('words that name one channel stop that one, words that name none stop all', () => {
    expect(sortReply({ text: 'Please stop texting me' }).stopChannel).toBe('text');
    expect(sortReply({ text: 'No more texts, email is fine' }).stopChannel).toBe('text');
    expect(sortReply({ text: 'stop emailing me' }).stopChannel).toBe('email');
    expect(sortReply({ text: 'Stop contacting me' }).stopChannel).toBeUndefined();
    expect(sortReply({ text: 'STOP' }).stopChannel).toBeUndefined();
    expect(
      sortReply({ text: 'dont want a call dont want a text dont want an email' }).stopChannel,
    ).toBeUndefined();
  });

  test('a death in the house stops the messages and is for a person to answer', () => {
    const reading = sortReply({ text: 'My husband passed away last week' });
    expect(reading.stop).toBe(true);
    expect(reading.personOnly).toBe(true);
    expect(sortReply({ text: 'STOP' }).personOnly).toBe(false);
    expect(sortReply({ text: 'my phone died' }).personOnly).toBe(false);
  });

  test('words that may be a stop are held for a person', () => {
    expect(sortReply({ text: 'Stop that swaying please, cancel the lot' }).stopDoubtful).toBe(true);
    expect(sortReply({ text: 'All good thanks' }).stopDoubtful).toBe(false);
    expect(sortReply({ text: 'STOP' }).stopDoubtful).toBe(false);
  });

  test('START lifts a stop, YES does not', () => {
    expect(sortReply({ text: 'START' }).labels).toEqual(['resume']);
    expect(sortReply({ text: 'unstop' }).labels).toEqual(['resume']);
    expect(sortReply({ text: 'yes' }).labels).toEqual([]);
  });
});
