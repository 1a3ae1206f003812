import { askCarrier } from '../src/followup/askCarrier.ts';
import { fetchPictures } from '../src/followup/fetchPictures.ts';
import type { Job } from './index.ts';

/**
 * Each minute, where the carrier has no address of ours to call: new texts and the states of ours are asked for. And for every
 * shop: pictures that lie with the carrier are fetched.
 */
export const askCarrierJob: Job = {
  name: 'ask-carrier',
  everyMinutes: 1,
  async run(shell) {
    await askCarrier(shell);
    await fetchPictures(shell);
  },
};
