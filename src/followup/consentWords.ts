import type { Shop } from '../store/shops.ts';

/** The words in which staff ask at the hand-over, kept with the answer: who writes, what about, how often, how to stop. */
export const consentWords = (shop: Pick<Shop, 'name'>): string =>
  `May ${shop.name} write to you about your new glasses? About five short messages over the next 30 days ask how you are ` +
  'getting on. You get your glasses whether you agree or not, and you can end the messages at any time: answer STOP, or ' +
  'tell us. Your phone company may charge for texts.';
