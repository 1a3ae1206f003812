/*
 * GET /w/:token/light-reactive    air = cold | mild | hot
 */
import type { TintPicture } from '../../pictures/tint/view.ts';
import type { ForWearer } from '../view.ts';

export type LightReactiveView = {
  readonly about: ForWearer;
  readonly air: 'cold' | 'mild' | 'hot';
  /** Tint against time in that air; null when the data of the lens are not known. */
  readonly picture: TintPicture | null;
};
