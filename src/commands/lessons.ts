import { readFileSync } from 'node:fs';
import { readConfig } from '../config.ts';
import { openDatabase, openRoom, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { bad, type Checked, good } from '../problems.ts';
import { sortReply } from '../replies/sortReply.ts';
import { lockFolder, ownerOf } from '../store/lock.ts';
import { type CorrectionRow, corrections, MOST_CORRECTIONS } from '../store/pages/words.ts';
import { chosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

const LABELLED_SETS = ['dev.tsv', 'dev2.tsv'] as const;

export const lessonsCommand: Command = {
  help: `afterfit lessons [--tsv]

Lists what staff corrected, newest first: what was read then, what staff said, and what the sorter reads today. What it
still reads otherwise is a candidate for the lexicon (src/replies/lexicon/): the words are named that would serve as a
phrase of the missed label, with the replies of the labelled sets that such a phrase would put right and put wrong. Below
stands how many replies of those sets are read exactly right today.
Words are read without the question that was open then, so a bare “3” is never learnt.

  --tsv   print the corrected replies as text<TAB>labels, which npm run score -- FILE can read

Exit code: 0 listed, 1 could not run. The words are your wearers': keep what is printed as you keep their records.`,
  async run(args) {
    const kept = await keptCorrections();
    if (!kept.ok) {
      for (const { what, mend } of kept.problems) process.stderr.write(`${what} ${mend}\n`);
      return 1;
    }
    const lessons = lessonsOf(kept.value);
    process.stdout.write(`${(args.includes('--tsv') ? asTsv(lessons) : told(lessons)).join('\n')}\n`);
    return 0;
  },
};

type Lesson = {
  readonly words: string;
  readonly before: readonly string[];
  readonly staff: readonly string[];
  readonly today: readonly string[];
  /** Labels of staff that are not read today, and labels read today that staff did not give. */
  readonly missed: readonly string[];
  readonly wrong: readonly string[];
  readonly learnt: boolean;
  readonly by: string;
  readonly on: string;
  readonly why: string | null;
};

/** One lesson a reply: what was read first, what staff said last, what is read today. Newest first, as they are given. */
export function lessonsOf(rows: readonly CorrectionRow[]): Lesson[] {
  const first = new Map<string, CorrectionRow>();
  const last = new Map<string, CorrectionRow>();
  for (const row of rows) {
    first.set(row.inbound_id, row);
    if (!last.has(row.inbound_id)) last.set(row.inbound_id, row);
  }
  return [...last.values()].map((row) => {
    const today: readonly string[] = sortReply({ text: row.body, locale: row.locale ?? undefined }).labels;
    const staff = row.labels_after;
    const missed = staff.filter((label) => !today.includes(label));
    const wrong = today.filter((label) => !staff.includes(label));
    return {
      words: row.body,
      before: first.get(row.inbound_id)!.labels_before,
      staff,
      today,
      missed,
      wrong,
      learnt: missed.length + wrong.length === 0,
      by: row.by_name,
      on: new Date(row.at).toISOString().slice(0, 10),
      why: row.why,
    };
  });
}

function told(lessons: readonly Lesson[]): string[] {
  const open = lessons.filter((lesson) => !lesson.learnt);
  const sets = LABELLED_SETS.flatMap((name) => {
    const rows = labelledSet(name);
    return rows === undefined ? [] : [{ name, rows }];
  });
  const read = open.length === 0 ? [] : sets.flatMap(({ rows }) => rows.map(readToday));
  return [
    `${lessons.length} ${lessons.length === 1 ? 'reply' : 'replies'} corrected: ${lessons.length - open.length} read today as staff said, ${open.length} not.`,
    ...lessons.flatMap((lesson) => [
      '',
      `${lesson.on}, ${lesson.by}: “${lesson.words.replace(/\s+/g, ' ')}”${lesson.why ? ` (${lesson.why})` : ''}`,
      `  read then: ${list(lesson.before)}; staff: ${list(lesson.staff)}; today: ${list(lesson.today)}`,
      lesson.learnt
        ? '  learnt meanwhile'
        : `  ${[
            ...(lesson.missed.length > 0 ? [`missed: ${list(lesson.missed)}`] : []),
            ...(lesson.wrong.length > 0 ? [`read, and staff did not say it: ${list(lesson.wrong)}`] : []),
          ].join('; ')}`,
      ...candidatesOf(lesson, read).map(
        ({ label, phrase, right, wrong }) =>
          `  candidate for ${label}: “${phrase}” would put ${right} right and ${wrong} wrong of the labelled replies`,
      ),
      ...sets.flatMap(({ name, rows }) => otherwiseLabelled(lesson, name, rows)),
    ]),
    '',
    ...(open.length > 0
      ? [
          `Missed most: ${counted(open.flatMap((lesson) => lesson.missed))}`,
          `Read too much: ${counted(open.flatMap((lesson) => lesson.wrong))}`,
        ]
      : []),
    ...(sets.length === 0
      ? ['The labelled sets are not here (test/replies/): nothing to weigh a change against.']
      : sets.map(
          ({ name, rows }) => `${name} today: ${rows.filter(isExact).length} of ${rows.length} exactly right`,
        )),
  ];
}

const list = (labels: readonly string[]): string => labels.join(', ') || 'nothing';

function counted(labels: readonly string[]): string {
  const times = new Map<string, number>();
  for (const label of labels) times.set(label, (times.get(label) ?? 0) + 1);
  const most = [...times].sort((one, other) => other[1] - one[1]);
  return most.map(([label, count]) => `${label} ${count}`).join(', ') || 'nothing';
}

type LabelledRow = { readonly text: string; readonly labels: readonly string[] };

/** Rows of `text<TAB>labels`; undefined in an installed copy, which has no labelled sets. */
function labelledSet(name: string): LabelledRow[] | undefined {
  let file: string;
  try {
    file = readFileSync(new URL(`../../test/replies/${name}`, import.meta.url), 'utf8');
  } catch {
    return undefined;
  }
  return file
    .split('\n')
    .filter((line, at) => line !== '' && !(at === 0 && line.startsWith('text\t')))
    .map((line) => {
      const [text = '', labels = ''] = line.split('\t');
      return {
        text: text.replaceAll('\\n', '\n'),
        labels: labels.split(',').flatMap((one) => one.trim() || []),
      };
    });
}

function isExact({ text, labels }: LabelledRow): boolean {
  const read: readonly string[] = sortReply({ text }).labels;
  return read.length === labels.length && labels.every((label) => read.includes(label));
}

type ReadRow = {
  readonly words: string;
  readonly labels: readonly string[];
  readonly today: readonly string[];
};

function readToday({ text, labels }: LabelledRow): ReadRow {
  return { words: ` ${bareWords(text)} `, labels, today: sortReply({ text }).labels };
}

type Candidate = {
  readonly label: string;
  readonly phrase: string;
  readonly right: number;
  readonly wrong: number;
};

const SHORTEST_WORD = 4;
const MOST_CANDIDATES = 2;

/**
 * For each label that is missed: words of the reply, alone or in pairs, that might become a phrase of it, with the
 * labelled replies that would then be read right and wrong that are not today. The least harmful come first.
 */
export function candidatesOf(lesson: Lesson, rows: readonly ReadRow[]): Candidate[] {
  const words = bareWords(lesson.words).split(' ');
  const phrases = new Set([
    ...words.slice(1).map((word, at) => `${words[at]} ${word}`),
    ...words.filter((word) => word.length >= SHORTEST_WORD),
  ]);
  return lesson.missed.flatMap((label) =>
    [...phrases]
      .map((phrase) => {
        const told = rows.filter((row) => row.words.includes(` ${phrase} `) && !row.today.includes(label));
        const right = told.filter((row) => row.labels.includes(label)).length;
        return { label, phrase, right, wrong: told.length - right };
      })
      .sort((a, b) => a.wrong - b.wrong || b.right - a.right || b.phrase.length - a.phrase.length)
      .slice(0, MOST_CANDIDATES),
  );
}

/** A set that holds the same words with other labels speaks against the correction: one of the two is wrong. */
function otherwiseLabelled(lesson: Lesson, name: string, rows: readonly LabelledRow[]): string[] {
  const same = rows.find((row) => bareWords(row.text) === bareWords(lesson.words));
  if (!same || list([...same.labels].sort()) === list([...lesson.staff].sort())) return [];
  return [`  ${name} has the same words as: ${list(same.labels)}`];
}

const bareWords = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const asTsv = (lessons: readonly Lesson[]): string[] => [
  'text\tlabels',
  ...lessons.map(
    (lesson) => `${lesson.words.replace(/\t/g, ' ').replace(/\r?\n/g, '\\n')}\t${lesson.staff.join(',')}`,
  ),
];

const trouble = (what: string, mend: string) => bad({ code: 'lessons', what, where: 'corrections', mend });
const noShop = trouble('There is no shop yet.', 'Run “npm start” once and choose.');

async function keptCorrections(): Promise<Checked<CorrectionRow[]>> {
  const config = readConfig();
  if (!config.ok) return config;
  const { dataFolder, databaseUrl } = config.value;
  const owner = databaseUrl === undefined ? ownerOf(dataFolder) : undefined;
  if (owner?.address !== undefined) return throughServer(owner.address, owner.key ?? '');
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  if (kind === undefined) return noShop;
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok) {
    return trouble(
      `Another command works on the data folder (process ${lock.owner.pid}).`,
      'Wait for it, then try again.',
    );
  }
  try {
    const log = openLog(config.value.log);
    const source = sourceOf(config.value);
    const opened = await openDatabase(source, kind, log, (words) => process.stderr.write(`${words}\n`));
    const room = await openRoom(opened, kind, undefined, log);
    if (!room) return noShop;
    const rows = await corrections(room.shell.db, room.shopId, MOST_CORRECTIONS);
    await room.close();
    return good(rows);
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

async function throughServer(address: string, key: string): Promise<Checked<CorrectionRow[]>> {
  const answer = await fetch(`${address}/api/corrections`, { headers: { 'x-afterfit-key': key } });
  if (answer.ok) return good((await answer.json()) as CorrectionRow[]);
  return trouble(`The server at ${address} refused (${answer.status}).`, 'Look at its page, then try again.');
}
