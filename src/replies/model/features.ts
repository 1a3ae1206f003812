import type { Board } from '../matcher.ts';
import type { Vocabulary } from '../pattern.ts';
import { wordForms } from '../wordForms.ts';

const WORD = 1;
const NEIGHBOURS = 0.7;
const DENIED_WORD = 0.7;
const ASKED_WORD = 0.7;
const SCRAP = 0.35;
const IDEA = 1;
const IDEAS_TOGETHER = 0.3;
const MOST_IDEAS_IN_CLAUSE = 24;
const MOST_TOKENS = 120;
const SCRAP_LENGTH = 4;
/** The length to which the features of a reply are brought, so that long and short replies weigh the same. */
const LENGTH = 2.5;
const DENIALS = new Set('not no never nor without nothing none neither hardly barely cannot'.split(' '));

/** What a reply, or a stretch of it, shows: each feature once, by its number, how much of it and on which token. */
export type Features = {
  readonly count: number;
  readonly feature: Int32Array;
  readonly amount: Float64Array;
  readonly at: Int32Array;
};

/** How to see a whole reply, and each of its sentences; what was seen is good until something else is looked at. */
export type Look = { readonly whole: () => Features; readonly sentences: readonly (() => Features)[] };

/** The numbers of the features that one word gives by itself. */
type WordNumbers = {
  readonly lemma: string;
  /** For pairs of neighbours. */
  readonly lemmaNumber: number;
  readonly word: number;
  readonly afterDenial: number;
  readonly asked: number;
  readonly first: number;
  readonly last: number;
  readonly scraps: Int32Array;
};

const MOST_NEW_NAMES = 200_000;
const MOST_LEMMAS = 2 ** 26;

/**
 * What the second reader sees of a reply, each feature a number with a name: `w` its words, `b` pairs of neighbouring
 * words, `n` words after a denial of their clause, `q` words of a question, `f` and `l` the first and last word, `c`
 * scraps of four letters (so that a slip of the finger leaves most of a word standing), `k` the classes of the lexicon
 * and `p` the pairs that share a clause. Names that were not known at the start are forgotten when there are too many.
 */
export class FeatureReader {
  readonly names: string[] = [];
  private readonly known: number;
  private readonly mostNames: number;
  private numbers = new Map<string, number>();
  private words = new Map<string, WordNumbers>();
  private lemmas = new Map<string, number>();
  private neighbours = new Map<number, number>();
  /** By number in the vocabulary: the place of a class among the classes and one more; 0 for a word. */
  private readonly classPlace: Int32Array;
  private readonly classNames: readonly string[];
  private readonly classFeature: Int32Array;
  private readonly pairFeature: Int32Array;
  private seen = new Uint32Array(1024);
  private turn = 0;
  private feature = new Int32Array(256);
  private amount = new Float64Array(256);
  private at = new Int32Array(256);
  private out = { feature: new Int32Array(256), amount: new Float64Array(256), at: new Int32Array(256) };

  constructor(vocabulary: Vocabulary, known: readonly string[] = [], mostNewNames = MOST_NEW_NAMES) {
    this.mostNames = known.length + mostNewNames;
    const classes = [...vocabulary.ids].filter(([name]) => name.startsWith('{'));
    this.classPlace = new Int32Array(vocabulary.ids.size);
    classes.forEach(([, id], place) => {
      this.classPlace[id] = place + 1;
    });
    this.classNames = classes.map(([name]) => name.slice(1, -1));
    this.classFeature = new Int32Array(classes.length);
    this.pairFeature = new Int32Array(classes.length * classes.length);
    for (const name of known) this.numberOf(name);
    this.known = known.length;
  }

  look(board: Board, asking: readonly boolean[]): Look {
    if (this.names.length > this.mostNames) this.forget();
    const end = Math.min(board.tokens.length, MOST_TOKENS);
    const starts = this.gather(board, asking, end);
    const of = (stretch: Stretch) => () => this.drawn(board, starts, stretch);
    return { whole: of({ start: 0, end }), sentences: sentencesOf(board).map(of) };
  }

  private numberOf(name: string): number {
    const known = this.numbers.get(name);
    if (known !== undefined) return known;
    const number = this.names.length;
    this.names.push(name);
    this.numbers.set(name, number);
    return number;
  }

  private forget(): void {
    this.names.length = this.known;
    this.numbers = new Map(this.names.map((name, number) => [name, number]));
    this.words = new Map();
    this.lemmas = new Map();
    this.neighbours = new Map();
    this.classFeature.fill(0);
    this.pairFeature.fill(0);
  }

  /** Every feature, token by token, those of a clause's pairs of classes at its end; gives where each token begins. */
  private gather(board: Board, asking: readonly boolean[], end: number): Int32Array {
    const { tokens, starts, light, edge } = board;
    const begins = new Int32Array(end + 1);
    let count = 0;
    const room = () => {
      if (count + 1024 <= this.feature.length) return;
      this.feature = widened(this.feature, new Int32Array((count + 1024) * 2));
      this.amount = widened(this.amount, new Float64Array((count + 1024) * 2));
      this.at = widened(this.at, new Int32Array((count + 1024) * 2));
    };
    let ideas: number[] = [];
    let ideasAt: number[] = [];
    let before: WordNumbers | undefined;
    let denied = false;
    for (let at = 0; at <= end; at += 1) {
      room();
      const { feature, amount } = this;
      const place = this.at;
      const token = at < end ? tokens[at]! : undefined;
      const last = at > 0 ? tokens[at - 1]! : undefined;
      if (token === undefined || last?.clause !== token.clause) {
        if (ideas.length <= MOST_IDEAS_IN_CLAUSE)
          for (let i = 0; i < ideas.length; i += 1)
            for (let j = i + 1; j < ideas.length; j += 1) {
              feature[count] = this.pairOf(ideas[i]!, ideas[j]!);
              amount[count] = IDEAS_TOGETHER;
              place[count] = ideasAt[i]!;
              count += 1;
            }
        ideas = [];
        ideasAt = [];
        denied = false;
      }
      begins[at] = count;
      if (token === undefined) break;
      const word = this.wordOf(token.word);
      if (DENIALS.has(token.word)) denied = true;
      feature[count] = word.word;
      amount[count] = WORD;
      place[count] = at;
      count += 1;
      if (denied && !light[at] && !edge[at]) {
        feature[count] = word.afterDenial;
        amount[count] = DENIED_WORD;
        place[count] = at;
        count += 1;
      }
      if (asking[at]) {
        feature[count] = word.asked;
        amount[count] = ASKED_WORD;
        place[count] = at;
        count += 1;
      }
      if (before !== undefined && last?.sentence === token.sentence) {
        feature[count] = this.neighboursOf(before, word);
        amount[count] = NEIGHBOURS;
        place[count] = at;
        count += 1;
      }
      before = word;
      for (let i = 0; i < word.scraps.length; i += 1) {
        feature[count] = word.scraps[i]!;
        amount[count] = SCRAP;
        place[count] = at;
        count += 1;
      }
      for (const { id } of starts[at]!) {
        const idea = (id < this.classPlace.length ? this.classPlace[id]! : 0) - 1;
        if (idea < 0) continue;
        feature[count] = this.classOf(idea);
        amount[count] = IDEA;
        place[count] = at;
        count += 1;
        if (ideas.includes(idea)) continue;
        ideas.push(idea);
        ideasAt.push(at);
      }
    }
    return begins;
  }

  /** The features of a stretch, each once, brought to one length. */
  private drawn(board: Board, begins: Int32Array, { start, end }: Stretch): Features {
    const from = begins[start]!;
    const to = begins[end]!;
    if (this.seen.length < this.names.length)
      this.seen = widened(this.seen, new Uint32Array(this.names.length * 2));
    if (this.out.feature.length < to - from + 2) {
      const size = (to - from + 2) * 2;
      this.out = {
        feature: new Int32Array(size),
        amount: new Float64Array(size),
        at: new Int32Array(size),
      };
    }
    this.turn += 1;
    const { seen, turn, out } = this;
    let count = 0;
    let square = 0;
    const add = (feature: number, amount: number, at: number) => {
      out.feature[count] = feature;
      out.amount[count] = amount;
      out.at[count] = at;
      count += 1;
      square += amount * amount;
    };
    for (let i = from; i < to; i += 1) {
      const feature = this.feature[i]!;
      if (seen[feature] === turn) continue;
      seen[feature] = turn;
      add(feature, this.amount[i]!, this.at[i]!);
    }
    if (end > start) {
      add(this.wordOf(board.tokens[start]!.word).first, WORD, start);
      add(this.wordOf(board.tokens[end - 1]!.word).last, WORD, end - 1);
    }
    const share = LENGTH / (Math.sqrt(square) || 1);
    for (let i = 0; i < count; i += 1) out.amount[i] = out.amount[i]! * share;
    return { count, ...out };
  }

  private wordOf(word: string): WordNumbers {
    const known = this.words.get(word);
    if (known !== undefined) return known;
    const lemma = wordForms(word).at(-1)!;
    let lemmaNumber = this.lemmas.get(lemma);
    if (lemmaNumber === undefined) {
      lemmaNumber = this.lemmas.size;
      this.lemmas.set(lemma, lemmaNumber);
    }
    const numbers = {
      lemma,
      lemmaNumber,
      word: this.numberOf(`w${lemma}`),
      afterDenial: this.numberOf(`n${lemma}`),
      asked: this.numberOf(`q${lemma}`),
      first: this.numberOf(`f${lemma}`),
      last: this.numberOf(`l${lemma}`),
      scraps: Int32Array.from(scrapsOf(word), (scrap) => this.numberOf(scrap)),
    };
    this.words.set(word, numbers);
    return numbers;
  }

  private neighboursOf(a: WordNumbers, b: WordNumbers): number {
    const key = a.lemmaNumber * MOST_LEMMAS + b.lemmaNumber;
    const known = this.neighbours.get(key);
    if (known !== undefined) return known;
    const number = this.numberOf(`b${a.lemma} ${b.lemma}`);
    this.neighbours.set(key, number);
    return number;
  }

  /** Numbers of classes and of pairs are kept with one added; 0 is one that is not known yet. */
  private classOf(place: number): number {
    if (this.classFeature[place] === 0)
      this.classFeature[place] = this.numberOf(`k${this.classNames[place]}`) + 1;
    return this.classFeature[place]! - 1;
  }

  private pairOf(one: number, other: number): number {
    const a = Math.min(one, other);
    const b = Math.max(one, other);
    const place = a * this.classNames.length + b;
    if (this.pairFeature[place] === 0)
      this.pairFeature[place] = this.numberOf(`p${this.classNames[a]}&${this.classNames[b]}`) + 1;
    return this.pairFeature[place]! - 1;
  }
}

/** Tokens `start` up to, and not including, `end`. */
type Stretch = { readonly start: number; readonly end: number };

const SHORTEST_SENTENCE = 3;
const MOST_SENTENCES = 12;

/** The sentences of a reply that has more than one, to be read each by itself; those of one or two words are left. */
function sentencesOf(board: Board): Stretch[] {
  const out: Stretch[] = [];
  const end = Math.min(board.tokens.length, MOST_TOKENS);
  let start = 0;
  for (let at = 1; at <= end; at += 1) {
    if (at < end && board.tokens[at]!.sentence === board.tokens[start]!.sentence) continue;
    if (at - start >= SHORTEST_SENTENCE && at - start < end && out.length < MOST_SENTENCES)
      out.push({ start, end: at });
    start = at;
  }
  return out;
}

function scrapsOf(word: string): string[] {
  if (word.length < SCRAP_LENGTH) return [];
  const marked = `<${word}>`;
  const out: string[] = [];
  for (let i = 0; i + SCRAP_LENGTH <= marked.length; i += 1)
    out.push(`c${marked.slice(i, i + SCRAP_LENGTH)}`);
  return out;
}

function widened<T extends { set(from: T): void }>(from: T, into: T): T {
  into.set(from);
  return into;
}
