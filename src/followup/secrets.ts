import { createHash, randomBytes } from 'node:crypto';

/** A new secret of 256 bits that can stand in an address or a cookie. */
export const newSecret = (): string => randomBytes(32).toString('base64url');

/**
 * What is kept of a secret. Such secrets are random and long, so a plain SHA-256 (FIPS 180-4) is enough: there is nothing to
 * guess. Passwords, which people choose, go through `hashPassword`.
 */
export const hashOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');
