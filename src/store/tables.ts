import type { ColumnType, Generated } from 'kysely';
import type { Ask, Locale } from '../replies/types.ts';

/** JSON is written as text: a JavaScript array bound to a jsonb column would be taken for a PostgreSQL array. */
type Json<T = unknown> = ColumnType<T, string, string>;
type Day = string;

export type CheckInState = 'planned' | 'claimed' | 'passed over' | 'dropped' | 'to ring';
export type AttemptState =
  | 'planned'
  | 'claimed'
  | 'handed over'
  | 'accepted'
  | 'refused'
  | 'unsure'
  | 'delivered'
  | 'failed'
  | 'withheld';
export type ChannelKind = 'text' | 'email';
export type Consent = 'none' | 'given' | 'withdrawn';
export type PaperKind = 'remake' | 'prescriber';
export type PlanState = 'running' | 'paused' | 'ended';

export type Tables = {
  shop: {
    shop_id: string;
    name: string;
    kind: 'own' | 'invented';
    country: string;
    time_zone: string;
    locale: Generated<string>;
    settings: ColumnType<ShopSettings, string | undefined, string>;
    clock_offset_ms: Generated<number>;
    /** When the clock alone next has something to do for the shop. */
    clock_at: Generated<Date>;
    created_at: Date;
  };
  person: {
    shop_id: string;
    person_id: string;
    name: string;
    email: string | null;
    phone_e164: string | null;
    role: 'staff' | 'owner';
    licence_number: string | null;
    licensed_until: Day | null;
    on_call_order: number | null;
    active: Generated<boolean>;
    created_at: Date;
  };
  sign_in: {
    shop_id: string;
    person_id: string;
    password_hash: string;
    password_at: Date;
    factor_secret: string | null;
    /** When the second factor was proven; null while it is only proposed. */
    factor_since: Date | null;
    /** Number of the last half minute whose code was taken: none is taken twice. */
    factor_step: Generated<number>;
  };
  recovery_code: {
    shop_id: string;
    person_id: string;
    code_hash: string;
    made_at: Date;
    used_at: Generated<Date | null>;
  };
  sign_in_link: {
    shop_id: string;
    link_hash: string;
    person_id: string;
    /** The second factor is lost too and is set up anew. */
    drops_factor: boolean;
    made_by: string;
    made_at: Date;
    expires_at: Date;
    used_at: Generated<Date | null>;
  };
  session: {
    shop_id: string;
    session_hash: string;
    person_id: string;
    /** What still stands between the person and the pages: the code of the second factor, its set-up, or nothing. */
    stage: 'code' | 'set-up' | 'whole';
    /** The browser, in a few words. */
    about: string;
    address: string;
    started_at: Date;
    seen_at: Date;
    ends_at: Date;
    ended_at: Generated<Date | null>;
  };
  sign_in_try: { shop_id: string; caller: string; count: number; since: Date };
  api_token: {
    shop_id: string;
    token_id: string;
    token_hash: string;
    name: string;
    scopes: string[];
    made_by: string;
    made_at: Date;
    used_at: Generated<Date | null>;
    ended_at: Generated<Date | null>;
  };
  to_sign: {
    shop_id: string;
    to_sign_id: string;
    kind: 'measures' | 'numbers' | 'urgent closure' | 'order';
    job_id: string | null;
    case_id: string | null;
    detail: Json;
    by_name: string;
    at: Date;
    settled: Generated<'signed' | 'turned down' | null>;
    settled_by: Generated<string | null>;
    licence_number: Generated<string | null>;
    settled_at: Generated<Date | null>;
  };
  wearer: {
    shop_id: string;
    wearer_id: string;
    name: string;
    /** As it is looked for; kept by the database. */
    name_key: Generated<string>;
    last_name_key: Generated<string>;
    locale: Generated<string>;
    prefers: 'text' | 'email' | 'phone';
    time_zone: string | null;
    zone_candidates: string[];
    zone_how: string;
    country: string | null;
    region: string | null;
    postcode: string | null;
    birth_year: number | null;
    automatic_held_why: string | null;
    created_at: Date;
  };
  contact_point: {
    shop_id: string;
    contact_id: string;
    channel: ChannelKind;
    address: string;
    unusable_why: string | null;
    created_at: Date;
  };
  wearer_contact: {
    shop_id: string;
    wearer_id: string;
    contact_id: string;
    channel: ChannelKind;
    consent: Consent;
    consent_at: Date | null;
  };
  consent_event: {
    shop_id: string;
    consent_id: string;
    wearer_id: string;
    contact_id: string | null;
    channel: ChannelKind;
    act: 'given' | 'refused' | 'withdrawn';
    basis: string;
    words: string | null;
    recorded_by: string;
    at: Date;
  };
  lens_design: {
    shop_id: string;
    design_id: string;
    name: string;
    kind: Generated<string>;
    corridor_mm: number | null;
    corridor_how: string | null;
    min_height_mm: number | null;
    refractive_index: number | null;
    abbe: number | null;
    light_reactive: Json | null;
    source: string | null;
    created_at: Date;
  };
  lab: { shop_id: string; lab_id: string; name: string; terms: Json<LabTerm[]>; created_at: Date };
  job: {
    shop_id: string;
    job_id: string;
    job_key: string;
    number_key: Generated<string>;
    wearer_id: string;
    design_id: string;
    lab_id: string | null;
    way: 'counter' | 'post';
    first_multifocal: boolean | null;
    sold_by: string | null;
    ordered_on: Day | null;
    lab_invoiced_on: Day | null;
    received_on: Day | null;
    posted_on: Day | null;
    handed_over_on: Day | null;
    arrived_on: Day | null;
    remake_of_pair_id: string | null;
    row_digest: string;
    as_taken: Json;
    created_at: Date;
    /** The signature that the numbers it came in with wait or waited for. */
    to_sign_id: Generated<string | null>;
  };
  pair: {
    shop_id: string;
    pair_id: string;
    job_id: string;
    wearer_id: string;
    replaces_pair_id: string | null;
    handed_over_on: Day;
    first_worn_on: Day;
    first_worn_how: 'handed over' | 'arrived' | 'said by the wearer' | 'reckoned';
    created_at: Date;
  };
  fact: {
    shop_id: string;
    fact_id: string;
    job_id: string;
    key: string;
    eye: 'R' | 'L' | null;
    value: Json;
    unit: string | null;
    how: string | null;
    by_name: string | null;
    source: string;
    at: Date;
  };
  plan: {
    shop_id: string;
    pair_id: string;
    wearer_id: string;
    round: Generated<number>;
    state: PlanState;
    why: string | null;
    since: Date;
  };
  check_in: {
    shop_id: string;
    check_in_id: string;
    pair_id: string;
    wearer_id: string;
    slot: string;
    kind: 'tips' | 'ask' | 'have they come';
    day: number;
    due_on: Day;
    due_at: Date;
    state: CheckInState;
    why: string | null;
    message_id: string | null;
  };
  message: {
    shop_id: string;
    message_id: string;
    once_key: string;
    wearer_id: string;
    pair_id: string | null;
    case_id: string | null;
    check_in_id: string | null;
    purpose: string;
    unasked: boolean;
    automatic: boolean;
    must_arrive: Generated<boolean>;
    any_hour: Generated<boolean>;
    channel: ChannelKind;
    contact_id: string;
    subject: string | null;
    body: string;
    html: string | null;
    template: string | null;
    asked: Json | null;
    in_answer_to: string | null;
    written_by: string | null;
    local_day: Day;
    created_at: Date;
  };
  attempt: {
    shop_id: string;
    attempt_id: string;
    message_id: string;
    number: number;
    state: AttemptState;
    send_at: Date;
    lease_until: Date | null;
    handed_over_at: Date | null;
    settled_at: Date | null;
    far_id: string | null;
    code: string | null;
    why: string | null;
  };
  inbound: {
    shop_id: string;
    inbound_id: string;
    channel: string;
    far_id: string;
    from_address: string;
    to_address: string | null;
    body: string;
    raw: Json;
    received_at: Date;
  };
  inbound_standing: {
    shop_id: string;
    inbound_id: string;
    received_at: Date;
    state: 'raw' | 'sorted' | 'tray' | 'done';
    wearer_id: string | null;
    pair_id: string | null;
    case_id: string | null;
    linked_how: string | null;
    tray_why: string | null;
    answer_state: Generated<'none' | 'waiting' | 'answered' | 'left'>;
  };
  reading: {
    shop_id: string;
    reading_id: string;
    inbound_id: string;
    labels: string[];
    asks: string[];
    urgent: boolean;
    stop: boolean;
    spans: Json;
    left_over: Json;
    bare_answer: Json | null;
    extent: Json;
    sorter_version: string;
    at: Date;
  };
  correction: {
    shop_id: string;
    correction_id: string;
    inbound_id: string;
    labels_before: string[];
    labels_after: string[];
    why: string | null;
    by_name: string;
    at: Date;
  };
  case_file: {
    shop_id: string;
    case_id: string;
    pair_id: string;
    wearer_id: string;
    state: CaseState;
    danger: Generated<boolean>;
    labels: string[];
    held_by: string | null;
    again_on: Day | null;
    leading_cause: string | null;
    leading_share: number | null;
    leading_why: string | null;
    act: string | null;
    act_way: string | null;
    act_why: string | null;
    question: Json | null;
    newest_inbound_id: string | null;
    version: Generated<number>;
    opened_at: Date;
    changed_at: Date;
    closed_at: Date | null;
    outcome: string | null;
  };
  case_event: {
    shop_id: string;
    event_id: string;
    case_id: string;
    kind: string;
    detail: Json<Record<string, unknown>>;
    by_name: string;
    at: Date;
  };
  ranking_snapshot: {
    shop_id: string;
    snapshot_id: string;
    case_id: string;
    labels: string[];
    facts: Json;
    weighing: Json;
    catalogue_version: string;
    at: Date;
  };
  claim_on_lab: {
    shop_id: string;
    claim_id: string;
    case_id: string | null;
    job_id: string;
    lab_id: string | null;
    reason: string;
    state: string;
    send_back_by: Day | null;
    asked_on: Day | null;
    sent_on: Day | null;
    promised_amount: number | null;
    promised_on: Day | null;
    credited_amount: number | null;
    credited_on: Day | null;
  };
  outcome: {
    shop_id: string;
    pair_id: string;
    outcome: Outcome;
    exchanged_to: string | null;
    reason: string | null;
    borne_by: string | null;
    cause: string | null;
    cause_how: string | null;
    on_day: Day;
    by_name: string;
    at: Date;
  };
  token: {
    shop_id: string;
    /** SHA-256 of the token as it was given out, in hexadecimal; the token itself is nowhere on record. */
    token_hash: string;
    purpose: string;
    subject_id: string;
    expires_at: Date;
    used_at: Date | null;
    /** How often it was used to send something since `uses_since`. */
    uses: Generated<number>;
    uses_since: Date | null;
  };
  picture: {
    shop_id: string;
    picture_id: string;
    inbound_id: string;
    number: number;
    state: 'to fetch' | 'kept' | 'left out' | 'removed';
    content_type: string | null;
    bytes: Buffer | null;
    byte_count: number | null;
    why: string | null;
    tries: Generated<number>;
    next_at: Date | null;
    at: Date;
  };
  face_picture: {
    shop_id: string;
    face_picture_id: string;
    job_id: string;
    state: 'kept' | 'removed';
    content_type: string;
    bytes: Buffer | null;
    width_dots: number;
    height_dots: number;
    came: 'staff' | 'wearer';
    by_name: string;
    at: Date;
  };
  photo_measure: {
    shop_id: string;
    measure_id: string;
    face_picture_id: string;
    job_id: string;
    marks: Json;
    numbers: Json;
    by_name: string;
    at: Date;
    signed_by: string | null;
    licence_number: string | null;
    signed_at: Date | null;
  };
  /** Who looked at a case last, and when: a line that is told to the others who have it open. */
  case_open_with: { shop_id: string; case_id: string; person_id: string; person_name: string; at: Date };
  /** Addresses and messages of erased wearers, as hashes. */
  erased_trace: { shop_id: string; hash: string; what: 'address' | 'message'; at: Date };
  shop_tick: { shop_id: string; tick: string; at: Date; by_name: string; detail: string };
  audit: {
    shop_id: string;
    audit_id: string;
    by_name: string;
    act: string;
    subject: string;
    detail: Json;
    at: Date;
  };
  ring_attempt: {
    shop_id: string;
    ring_attempt_id: string;
    wearer_id: string;
    what: RingWhat;
    again_at: Date | null;
    note: string | null;
    by_name: string;
    at: Date;
  };
  morning_list: { shop_id: string; person_id: string; day: Day; state: string; at: Date };
  deadline_notice: { shop_id: string; pair_id: string; whose: 'lab' | 'promise'; last_day: Day; at: Date };
  /** Looked at once for each pair; without words nothing was foretold. */
  foretold: {
    shop_id: string;
    pair_id: string;
    wearer_id: string;
    why: string | null;
    ring_at: Date;
    at: Date;
  };
  bench_hold_event: {
    shop_id: string;
    event_id: string;
    job_id: string;
    kind: 'held' | 'released' | 'signed';
    why: string;
    by_name: string;
    licence_number: string | null;
    at: Date;
  };
  paper: {
    shop_id: string;
    paper_id: string;
    case_id: string;
    kind: PaperKind;
    content: Json;
    snapshot_id: string | null;
    made_by: string;
    at: Date;
  };
  signature: {
    shop_id: string;
    signature_id: string;
    paper_id: string;
    person_id: string;
    person_name: string;
    licence_number: string;
    licensed_until: Day;
    answers: Json<Record<string, unknown>>;
    at: Date;
  };
  weight_move: {
    shop_id: string;
    move_id: string;
    pair_id: string;
    act: 'left out' | 'counted again';
    why: string | null;
    by_name: string;
    at: Date;
  };
  rehearsal_item: {
    shop_id: string;
    item_id: string;
    attempt_id: string;
    channel: ChannelKind;
    address: string;
    subject: string | null;
    body: string;
    at: Date;
  };
  on_call_hours: {
    shop_id: string;
    person_id: string;
    days: number[];
    from_hour: number;
    to_hour: number;
  };
  alarm: {
    shop_id: string;
    alarm_id: string;
    kind: 'danger' | 'tray' | 'test';
    /** The reply that it is about; of a test, its own id. */
    subject_id: string;
    case_id: string | null;
    wearer_id: string | null;
    initial: string;
    /** Of the tray: how many messages have waited too long. */
    waiting: Generated<number>;
    raised_at: Date;
    next_at: Date;
    rounds: Generated<number>;
    ended_at: Date | null;
    ended_why: string | null;
  };
  alarm_call: {
    shop_id: string;
    call_id: string;
    alarm_id: string;
    round: number;
    person_id: string;
    person_name: string;
    channel: ChannelKind;
    address: string;
    subject: string | null;
    body: string;
    html: string | null;
    state: 'planned' | 'accepted' | 'refused' | 'unsure';
    lease_until: Date | null;
    far_id: string | null;
    why: string | null;
    at: Date;
  };
  mailbox_reading: {
    shop_id: string;
    mailbox: string;
    uid_validity: string;
    uid: number;
    fault: string | null;
    read_at: Date;
  };
  channel_hold: {
    shop_id: string;
    channel: ChannelKind;
    code: string;
    why: string;
    since: Date;
    try_at: Date;
  };
};

export const RING_WHATS = ['spoke', 'no answer', 'left message', 'wrong number', 'again at'] as const;
/** What came of ringing somebody. */
export type RingWhat = (typeof RING_WHATS)[number];

export const OUTCOMES = [
  'settled',
  'settled after adjusting',
  'remade in the same design',
  'exchanged',
  'refunded',
  'kept, not happy',
  'stopped wearing',
  'lost touch',
] as const;
export type Outcome = (typeof OUTCOMES)[number];

export const CASE_STATES = [
  'new',
  'asked the wearer',
  'held',
  'coming in',
  'parcel to us',
  'on our bench',
  'at the lab',
  'parcel to them',
  'with the prescriber',
  'settled',
  'returned',
] as const;
export type CaseState = (typeof CASE_STATES)[number];

/** What the lab allows: so many days from a named start, so many times. */
export type LabTerm = {
  readonly what: 'settling' | 'made wrong' | 'prescription change' | 'coating';
  readonly days: number;
  readonly from: 'lab invoiced' | 'ordered' | 'handed over';
  readonly times: number;
};

type KeptAnswers = Readonly<
  Partial<Record<Exclude<Ask, 'other'>, Readonly<Partial<Record<Locale, string>>>>>
>;

export type OrderWarning = {
  readonly what: 'fitting height' | 'monocular PD';
  /** How such a job is measured, as its fact says. */
  readonly how: string;
  /** Measured again less ordered, mm: above 0 the ordered figures run low. */
  readonly meanMm: number;
  readonly lowMm: number;
  readonly highMm: number;
  readonly pairs: number;
  readonly on: string;
};

export type ShopSettings = {
  /** The shop's own number as wearers are told it. */
  readonly phone?: string;
  /** A short name that signs texts, so that they stay in one part. */
  readonly textName?: string;
  /** Who to turn to near the shop when there is danger; without them no caution can be sent and the bench says so. */
  readonly localNumbers?: readonly { readonly who: string; readonly number: string }[];
  readonly labWindow?: { readonly days: number; readonly from: LabTerm['from'] };
  readonly promiseDays?: number;
  /** Finished pairs are held to it; without it the country's usual one stands. */
  readonly standard?: 'ANSI Z80.1' | 'ISO 21987';
  /** How long what came along with a message, beside its words, is kept. */
  readonly keepRawDays?: number;
  /** What one return costs, in the shop's money; what is left out is named and not counted. */
  readonly costs?: {
    readonly lensesPerRemake?: number;
    readonly staffHoursPerReturn?: number;
    readonly staffCostPerHour?: number;
    readonly postagePerReturn?: number;
  };
  /** Leans of our own measuring that the order form and the job page warn of, as they stood when it was switched on. */
  readonly warnAtOrder?: readonly OrderWarning[];
  /** The shop's own answers to what wearers always ask; they go before ours. */
  readonly keptAnswers?: KeptAnswers;
  /** Set once the invented shop has been played to the end. */
  readonly filled?: boolean;
  readonly openHours?: {
    readonly fromHour: number;
    readonly toHour: number;
    readonly days: readonly number[];
  };
};
