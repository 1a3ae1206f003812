/*
 * GET  /cases/:id
 * POST /cases/:id/hold            again_on (optional day)
 * POST /cases/:id/release
 * POST /cases/:id/have-it                                   (danger)
 * POST /cases/:id/write           text, channel (text | email)
 * POST /cases/:id/question        question_id, channel      (asks the one question that splits the causes)
 * POST /cases/:id/answer          question_id, answer       (the wearer said it on the phone or at the counter)
 * POST /cases/:id/heard           text, how (phone | counter)   (what the wearer said, typed in)
 * POST /cases/:id/act             act, way, note, seen_version
 * POST /cases/:id/facts           key, value, eye (R | L | empty), how
 * POST /cases/:id/unsend/:message                         (takes back what has not left yet)
 * POST /cases/:id/correct         message_id, text        (puts right what was sent)
 * POST /cases/:id/claim           what (asked | sent | promised | credited), amount, send_back_by
 * POST /cases/:id/close           outcome, reason, borne_by, cause, cause_how, seen_version
 * POST /cases/:id/reopen
 * POST /cases/:id/take-back       event_id, seen_version     (a second event that puts back what an act changed)
 */
import type { LensPicture } from '../pictures/lens/view.ts';
import type { TintPicture } from '../pictures/tint/view.ts';
import type {
  ActOffer,
  Deadline,
  FieldTrouble,
  FormValues,
  MarkedWords,
  SentPicture,
  Trace,
} from '../pieces/view.ts';

/** One thing said or done, in the order in which it happened. */
export type TalkEntry =
  | {
      readonly kind: 'in';
      /** Who: the wearer's name, or "Rosa (wife), by phone". */
      readonly who: string;
      readonly when: string;
      /** "by text", "by email", "on the phone, typed in by Ana". */
      readonly how: string;
      readonly words: MarkedWords;
      /** Pictures that came with it. */
      readonly pictures: readonly SentPicture[];
      /** Labels in plain words, in the order of the words; empty when none. */
      readonly read: readonly string[];
      /** "corrected by Ana, 3 Sep"; null when not. */
      readonly corrected: string | null;
      /** Where to correct the reading: the tray's form for this message. */
      readonly correctHref: string | null;
    }
  | {
      readonly kind: 'out';
      /** "Automatic" or the name of the person who wrote. */
      readonly who: string;
      readonly when: string;
      readonly how: string;
      readonly text: string;
      readonly lang: 'en' | 'es';
      /** How it stands: "delivered", "handed over", "may not have arrived", "refused: …", "leaves in 8 s". */
      readonly standing: string;
      /** False when it may not have arrived, was refused or failed. */
      readonly well: boolean;
      /** Offered for ten seconds after staff wrote: post there to take it back. */
      readonly undo: { readonly action: string; readonly secondsLeft: number } | null;
      /** Id of the message when a correction may be sent; left out when not. */
      readonly correctable?: string;
    }
  | {
      readonly kind: 'event';
      readonly who: string;
      readonly when: string;
      /** "held the case", "chose Adjust, at the shop", "measured vertex distance 15 mm". */
      readonly text: string;
      /** Set where it can be taken back: posted as event_id. */
      readonly takeBack?: string;
      /** It was taken back later. */
      readonly takenBack?: true;
    };

/** One fact that speaks for or against a cause. */
export type Evidence = {
  /** "right cross against pupil". */
  readonly fact: string;
  /** "2.1 mm below". */
  readonly value: string;
  readonly toward: 'for' | 'against';
  /** How strongly: 6 means six times as likely with this fact as without; always 1 or more, the side is in `toward`. */
  readonly times: number;
  /** "measured by Ana, 2 Sep" or "order". */
  readonly from: string;
  readonly trace: Trace | null;
};

export type CauseView = {
  readonly id: string;
  readonly name: string;
  /** Between 0 and 1; drawn as a bar. */
  readonly share: number;
  /** "about 6 in 10 likely". */
  readonly shareWords: string;
  readonly evidence: readonly Evidence[];
  /** One sentence on what the cause is. */
  readonly what: string;
  /** Who usually bears it: "shop", "lab", "prescriber", "nobody". */
  readonly bears: string;
  /** A caution that belongs to it; null when none. */
  readonly caution: string | null;
};

export type QuestionView = {
  readonly id: string;
  /** As the wearer will read it. */
  readonly text: string;
  readonly lang?: 'en' | 'es';
  /** The same in English, for staff, when the wearer reads another language. */
  readonly inEnglish?: string;
  /** Tap answers; `would` says what follows: "then adjust". */
  readonly answers: readonly { readonly key: string; readonly words: string; readonly would: string }[];
  /** What it splits: "frame slipped from cross too low". */
  readonly splits: string;
  /** "not asked yet", "asked Mon 9:10, no answer yet". */
  readonly standing: string;
  /** False when it may not be asked now, with the reason in `standing`. */
  readonly canAsk: boolean;
};

/** One line of the fitting sheet; R and L empty when the fact is of the pair. */
export type FactRow = {
  readonly key: string;
  readonly name: string;
  /** Its plain sentence, shown on focus; left out where the glossary has one or none is needed. */
  readonly means?: string;
  readonly unit: string;
  readonly right: string;
  readonly left: string;
  readonly both: string;
  /** "order", "our lensmeter, Ana, 1 Sep", "told by the wearer". */
  readonly from: string;
  /** A sentence when it is out of limits or differs from the order; null when not. */
  readonly remark: string | null;
};

/** A fact that can be added by hand. */
type FactKind = {
  readonly key: string;
  /** "fitting cross against pupil, + above (mm)". */
  readonly name: string;
  readonly perEye: boolean;
};

export type CaseView = {
  readonly caseId: string;
  /** Posted as seen_version; an act on an older version is refused with what changed. */
  readonly version: number;
  readonly wearer: {
    readonly name: string;
    readonly href: string;
    /** Number to ring, written; null when none. */
    readonly phone: string | null;
    /** "9:42 their time (Denver)". */
    readonly localTime: string;
    /** "prefers texts; no email". */
    readonly reachedBy: string;
  };
  readonly pair: {
    /** "first multifocal, soft 15, light-reactive". */
    readonly words: string;
    readonly jobNumber: string;
    readonly jobHref: string;
    /** Day of wear, or null. */
    readonly day: number | null;
    /** "first worn Tue 18 Aug, said by the wearer". */
    readonly firstWorn: string;
  };
  /** "held by Ana since 9:10". */
  readonly state: string;
  readonly danger: {
    readonly told: string;
    readonly caution: string;
    readonly cautionReached: boolean;
    readonly hasIt: string | null;
  } | null;
  readonly held: { readonly by: string; readonly byMe: boolean; readonly againOn: string | null } | null;
  /** Who else has this case open now; null when nobody. */
  readonly alsoOpenWith: string | null;
  /** Set after an act was refused because the case had changed: what changed since. */
  readonly changed: readonly string[];
  readonly deadlines: readonly Deadline[];
  readonly talk: readonly TalkEntry[];
  /** Likeliest first. Empty when not ranked, with the reason in `notRanked`. */
  readonly causes: readonly CauseView[];
  readonly notRanked: string;
  /** "catalogue 3, weighed today 10:42 with 14 facts". */
  readonly weighed: string;
  readonly question: QuestionView | null;
  /** The suggested act first. */
  readonly acts: readonly ActOffer[];
  readonly ways: readonly { readonly value: string; readonly words: string }[];
  /** What the suggested act costs against the next best, in one sentence; empty when not counted. */
  readonly cost: string;
  readonly facts: readonly FactRow[];
  readonly factKinds: readonly FactKind[];
  readonly picture: LensPicture | null;
  /** What is missing for the picture; empty when it is drawn. */
  readonly noPicture: string;
  /** Tint against time, when the trouble is with light-reactive lenses; left out otherwise. */
  readonly tint?: TintPicture;
  /** Ways to write; one that cannot be used says why. */
  readonly channels: readonly {
    readonly value: string;
    readonly words: string;
    readonly cannot: string | null;
  }[];
  /** Why nothing may be sent just now ("22:10 their time; it will leave at 9:00"); empty when it leaves at once. */
  readonly leaves: string;
  readonly outcomes: readonly { readonly value: string; readonly words: string }[];
  /** Why a pair came back, and who bears it: asked where it ended with a return. */
  readonly reasons: readonly { readonly value: string; readonly words: string }[];
  readonly bearers: readonly { readonly value: string; readonly words: string }[];
  /** Why it cannot be called settled now ("a message from them is in the tray"); null when it can. */
  readonly cannotSettle: string | null;
  readonly closed: { readonly outcome: string; readonly when: string; readonly by: string } | null;
  /** The remake draft, note to the prescriber and such that this case has. */
  readonly papers: readonly { readonly words: string; readonly href: string }[];
  /** What was asked of the lab for this pair, and what came of it; left out when nothing can be. */
  readonly claim?: {
    /** "asked 24 Aug for settling; lenses to go back by 7 Sep", or "nothing asked yet". */
    readonly stands: string;
    /** Steps that can be noted now. */
    readonly steps: readonly ('asked' | 'sent' | 'promised' | 'credited')[];
    /** A reminder that is due: "The lenses must be on their way by Mon."; null when none. */
    readonly reminder: string | null;
  };
  /** Typed before, after a refusal. */
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};
