import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';

const STEP_SECONDS = 30;
const DIGITS = 6;
/** 160 bits, as RFC 4226 section 4 (R6) recommends. */
const SECRET_BYTES = 20;
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** A new secret of the second factor, in Base32 (RFC 4648 section 6) as code apps want it. */
export function newFactorSecret(): string {
  const bits = [...randomBytes(SECRET_BYTES)].map((byte) => byte.toString(2).padStart(8, '0')).join('');
  return bits.replace(/.{5}/g, (five) => LETTERS[Number.parseInt(five, 2)]!);
}

/**
 * The one-time code of a half minute: TOTP (RFC 6238) over HOTP (RFC 4226) with HMAC-SHA-1.
 * `step` counts half minutes since 1970 began (UTC).
 */
export function oneTimeCode(secret: Uint8Array, step: number, digits: number = DIGITS): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const digest = createHmac('sha1', secret).update(counter).digest();
  const at = digest[19]! & 0x0f;
  const number = digest.readUInt32BE(at) & 0x7fff_ffff;
  return String(number % 10 ** digits).padStart(digits, '0');
}

export const stepAt = (now: Date): number => Math.floor(now.getTime() / 1000 / STEP_SECONDS);

/**
 * The step whose code was typed, or undefined. One step to either side is let through, since clocks differ and typing takes time
 * (RFC 6238 section 5.2).
 */
export function stepOfCode(secret: string, typed: string, now: Date): number | undefined {
  const code = typed.replace(/\s/g, '');
  if (!/^\d{6}$/.test(code)) return undefined;
  const key = fromBase32(secret);
  const here = stepAt(now);
  return [here, here - 1, here + 1].find((step) =>
    timingSafeEqual(Buffer.from(oneTimeCode(key, step)), Buffer.from(code)),
  );
}

/** What a code app reads from the picture. The form is the common one of code apps (from memory: no standard). */
export function factorAddress(secret: string, shop: string, email: string): string {
  const label = encodeURIComponent(`${shop}: ${email}`);
  return `otpauth://totp/${label}?secret=${secret}&issuer=${encodeURIComponent(shop)}&digits=${DIGITS}&period=${STEP_SECONDS}`;
}

function fromBase32(text: string): Buffer {
  const bits = [...text].map((letter) => LETTERS.indexOf(letter).toString(2).padStart(5, '0')).join('');
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((eight) => Number.parseInt(eight, 2)));
}
