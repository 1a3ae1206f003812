import type { RefusalAct } from './channel.ts';

export type CarrierError = {
  readonly meaning: string;
  /** The same message may be sent again on this channel, later and a few times. */
  readonly retry: boolean;
  /** The number itself is at fault: it is marked and not used again. */
  readonly numberBad: boolean;
  readonly recordStop: boolean;
  /** The wearer is written to by the other channel, where consent allows. */
  readonly tryOtherChannel: boolean;
  readonly tellStaff: boolean;
  readonly holdAllTexts: boolean;
  /** As for holdAllTexts, for numbers of North America only. */
  readonly holdAllUsTexts: boolean;
  readonly backOff: boolean;
};

const QUIET: Omit<CarrierError, 'meaning'> = {
  retry: false,
  numberBad: false,
  recordStop: false,
  tryOtherChannel: false,
  tellStaff: false,
  holdAllTexts: false,
  holdAllUsTexts: false,
  backOff: false,
};
const BAD_NUMBER = { ...QUIET, numberBad: true, tryOtherChannel: true, tellStaff: true };
const OUR_SET_UP = { ...QUIET, holdAllTexts: true, tellStaff: true };
const NOT_REGISTERED = { ...QUIET, holdAllUsTexts: true, tryOtherChannel: true, tellStaff: true };
const TOO_FAST = { ...QUIET, retry: true, backOff: true };
const LATER = { ...QUIET, retry: true };

/**
 * What each error code of the carrier means for us. Names: Twilio Docs error pages (30003, 30006, 21608 read; the rest from
 * public tables; those marked * from memory). What is done: common practice, no source.
 */
const ERRORS: Readonly<Record<number, CarrierError>> = {
  20003: { ...OUR_SET_UP, meaning: 'the carrier does not accept our sign-in *' },
  20429: { ...TOO_FAST, meaning: 'too many requests' },
  21211: { ...BAD_NUMBER, meaning: 'not a valid number' },
  21408: {
    ...QUIET,
    tryOtherChannel: true,
    tellStaff: true,
    meaning: 'texts to that country are not switched on *',
  },
  21606: { ...OUR_SET_UP, meaning: 'the sending number cannot send texts *' },
  21608: { ...OUR_SET_UP, meaning: 'a trial account may write to confirmed numbers only' },
  21610: { ...QUIET, recordStop: true, tryOtherChannel: true, meaning: 'the recipient has opted out' },
  21611: { ...TOO_FAST, meaning: 'too many messages of ours are waiting *' },
  21612: {
    ...QUIET,
    tryOtherChannel: true,
    tellStaff: true,
    meaning: 'no way from our number to that one *',
  },
  21614: { ...BAD_NUMBER, meaning: 'the number cannot receive texts' },
  21617: { ...QUIET, tryOtherChannel: true, tellStaff: true, meaning: 'the text is too long *' },
  14107: { ...TOO_FAST, meaning: 'more messages than the carrier lets through *' },
  21635: { ...BAD_NUMBER, meaning: 'a fixed line takes no texts *' },
  30001: { ...TOO_FAST, meaning: 'the queue is full *' },
  30002: { ...OUR_SET_UP, meaning: 'the account is suspended *' },
  30003: { ...LATER, meaning: 'the handset cannot be reached just now' },
  30004: {
    ...QUIET,
    tryOtherChannel: true,
    tellStaff: true,
    meaning: 'blocked by the recipient or the network',
  },
  30005: { ...BAD_NUMBER, meaning: 'unknown handset' },
  30006: { ...BAD_NUMBER, meaning: 'a fixed line, or a network that takes no texts' },
  30007: {
    ...QUIET,
    tryOtherChannel: true,
    tellStaff: true,
    meaning: 'filtered: never the same words again',
  },
  30008: { ...LATER, meaning: 'not delivered, no reason given' },
  30022: { ...TOO_FAST, meaning: 'faster than the registered sender may *' },
  30032: { ...NOT_REGISTERED, meaning: 'the toll-free sender is not verified' },
  30034: { ...NOT_REGISTERED, meaning: 'the sender is not registered for the United States' },
};

/** Attempts on one message for codes that may be retried; after them a person rings. */
export const RETRIES = 3;

export function carrierError(code: number): CarrierError {
  return (
    ERRORS[code] ?? {
      ...QUIET,
      tryOtherChannel: true,
      tellStaff: true,
      meaning: `error ${code}, which we do not know`,
    }
  );
}

/** The one act that stands for an error on the channel interface, gravest first. */
export function actOnError(error: CarrierError): RefusalAct {
  if (error.recordStop) return 'stop';
  if (error.holdAllTexts || error.holdAllUsTexts) return 'hold all';
  if (error.numberBad) return 'bad address';
  if (error.retry) return 'later';
  return error.tryOtherChannel ? 'other channel' : 'tell staff';
}
