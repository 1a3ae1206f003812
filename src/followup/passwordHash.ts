import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * scrypt (RFC 7914) with N = 2^15, r = 8, p = 3: 32 MiB a try. One of the settings of equal strength that the OWASP Password
 * Storage Cheat Sheet lists; the one with less memory is taken since the program runs on small machines.
 */
const LOG2_N = 15;
const R = 8;
const P = 3;
const KEY_BYTES = 32;
const SALT_BYTES = 16;
/** So many are worked on at once, whatever comes in: a flood of sign-ins may wait, but not eat the memory. */
const AT_ONCE = 2;

/** A password as it is kept: `scrypt$15$8$3$salt$key`, salt and key in base64url. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(SALT_BYTES);
  const key = await derive(password, salt, LOG2_N, R, P);
  return ['scrypt', LOG2_N, R, P, salt.toString('base64url'), key.toString('base64url')].join('$');
}

/**
 * Whether a password is the one that was kept. Without a kept one (no such account) it works as long and says no, so that the
 * time does not tell who has an account.
 */
export async function isPassword(password: string, kept: string | undefined): Promise<boolean> {
  const [, log2N, r, p, salt, key] = (kept ?? NOBODY).split('$');
  const wanted = Buffer.from(key!, 'base64url');
  const got = await derive(password, Buffer.from(salt!, 'base64url'), Number(log2N), Number(r), Number(p));
  return timingSafeEqual(got, wanted) && kept !== undefined;
}

const NOBODY = ['scrypt', LOG2_N, R, P, 'A'.repeat(22), 'A'.repeat(43)].join('$');

let running = 0;
const waiting: (() => void)[] = [];

async function derive(password: string, salt: Buffer, log2N: number, r: number, p: number): Promise<Buffer> {
  if (running >= AT_ONCE) await new Promise<void>((go) => waiting.push(go));
  else running += 1;
  try {
    // The same letters typed on two machines may come in two forms; NFKC makes them one (NIST SP 800-63B, 5.1.1.2).
    return await new Promise((resolve, reject) => {
      const settings = { N: 2 ** log2N, r, p, maxmem: 256 * 2 ** log2N * r };
      scrypt(password.normalize('NFKC'), salt, KEY_BYTES, settings, (error, key) =>
        error ? reject(error) : resolve(key),
      );
    });
  } finally {
    const next = waiting.shift();
    if (next) next();
    else running -= 1;
  }
}
