import { bad, type Checked, good } from '../problems.ts';

const LEAST = 12;
const MOST = 128;
/** 3 of 4: safe against guessing at a leaked hash that is slow to try (about 10^8 to 10^10 guesses, by the library's reckoning). */
const STRENGTH = 3;

/**
 * A password that may be chosen: 12 to 128 letters of any kind, none of the common ones, and not the shop's or the person's own
 * words. No rules about kinds of letters (NIST SP 800-63B, 5.1.1.2, advises against them).
 */
export async function allowPassword(
  password: string,
  again: string,
  ownWords: readonly string[],
): Promise<Checked<string>> {
  const refuse = (what: string, mend: string, where = 'password') =>
    bad({ code: 'password', what, where, mend });
  const letters = [...password].length;
  if (letters < LEAST)
    return refuse(
      `The password has ${letters} letters.`,
      `Take at least ${LEAST}: four or five words that do not belong together are easy to keep.`,
    );
  if (letters > MOST) return refuse('The password is too long.', `Take at most ${MOST} letters.`);
  if (password !== again)
    return refuse('The two are not the same.', 'Write the password twice.', 'password_again');
  if ((await strength(password, ownWords)) < STRENGTH)
    return refuse(
      'This password, or something like it, is tried first by those who guess.',
      'Take four or five words that do not belong together, without the shop’s or your own name.',
    );
  return good(password);
}

async function strength(password: string, ownWords: readonly string[]): Promise<number> {
  // 40 000 common passwords and the patterns of a keyboard: loaded only when somebody chooses a password.
  const [{ ZxcvbnFactory }, common] = await Promise.all([
    import('@zxcvbn-ts/core'),
    import('@zxcvbn-ts/language-common'),
  ]);
  const words = ownWords.flatMap((one) => [one, ...one.split(/[^\p{L}\p{N}]+/u)]);
  const known = new ZxcvbnFactory({ dictionary: common.dictionary, graphs: common.adjacencyGraphs });
  return known.check(
    password,
    ['afterfit', ...words].filter((word) => word.length > 2),
  ).score;
}
