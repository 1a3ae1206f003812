import type { Standard } from '../optics/limit.ts';
import type { Shop } from '../store/shops.ts';

export const STANDARDS = ['ANSI Z80.1', 'ISO 21987'] as const satisfies readonly Standard[];

/**
 * The standard that a shop's finished pairs are held to: the one it has set, else by its country. Common practice, no source:
 * shops in the United States and Canada work by the ANSI standard, others by the ISO one.
 */
export const standardOfShop = ({ settings, country }: Pick<Shop, 'settings' | 'country'>): Standard =>
  settings.standard ?? usualStandard(country);

export const usualStandard = (country: string): Standard =>
  country === 'US' || country === 'CA' ? 'ANSI Z80.1' : 'ISO 21987';
