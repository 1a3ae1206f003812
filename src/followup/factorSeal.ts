import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';

/** How secrets of second factors lie in the database: closed under a key that is not there. */
export type FactorSeal = {
  close(secret: string, personId: string): string;
  /** Undefined: it was closed under another key. */
  open(kept: string, personId: string): string | undefined;
};

const MARK = 'sealed.';
const IV_BYTES = 12;
const TAG_BYTES = 16;

/**
 * AES-256-GCM (NIST SP 800-38D) with a random 96-bit nonce each time; whose it is goes into the tag, so that nobody's secret can be
 * put in another's place. The key of the cipher is drawn from the kept one by HKDF (RFC 5869).
 */
export function factorSeal(kept: Uint8Array): FactorSeal {
  const key = Buffer.from(hkdfSync('sha256', kept, '', 'afterfit second factors', 32));
  return {
    close(secret, personId) {
      const iv = randomBytes(IV_BYTES);
      const cipher = createCipheriv('aes-256-gcm', key, iv).setAAD(Buffer.from(personId));
      const closed = Buffer.concat([iv, cipher.update(secret, 'utf8'), cipher.final(), cipher.getAuthTag()]);
      return MARK + closed.toString('base64url');
    },
    open(text, personId) {
      if (!text.startsWith(MARK)) return text;
      const closed = Buffer.from(text.slice(MARK.length), 'base64url');
      const end = closed.length - TAG_BYTES;
      if (end <= IV_BYTES) return undefined;
      try {
        const decipher = createDecipheriv('aes-256-gcm', key, closed.subarray(0, IV_BYTES))
          .setAAD(Buffer.from(personId))
          .setAuthTag(closed.subarray(end));
        return `${decipher.update(closed.subarray(IV_BYTES, end), undefined, 'utf8')}${decipher.final('utf8')}`;
      } catch {
        return undefined;
      }
    },
  };
}

/** Where no key is kept: new secrets lie as they are, and closed ones cannot be opened. */
export const noFactorSeal: FactorSeal = {
  close: (secret) => secret,
  open: (text) => (text.startsWith(MARK) ? undefined : text),
};

/** Whether a secret lies as it is though there is a key for it now. */
export const isOpenSecret = (kept: string): boolean => !kept.startsWith(MARK);
