import type { BenchJob } from './benchJob.ts';

/**
 * Where each quantity is read on the finished lens. Progressives: distance power in the distance circle above the
 * cross, prism at the prism reference point 2 to 4 mm below it (class quiz), add on the face that the maker names.
 * Source: common practice, no source, but for the figure quoted.
 */
export const readingPlaces = ({ kind, addReadOn }: Pick<BenchJob, 'kind' | 'addReadOn'>) => {
  const face = addReadOn === undefined ? 'the face that the maker names' : `the ${addReadOn} face`;
  if (kind === 'progressive') {
    return {
      distance: 'distance circle above the cross, back vertex power',
      add: `near circle against distance circle, ${face} on the stop`,
      prism: 'prism reference point, 2 to 4 mm below the cross',
      height: 'lowest point of the lens under the cross, up to the cross',
      pd: 'middle of the bridge to the cross',
    } as const;
  }
  return {
    distance: 'optical centre, back vertex power',
    add: `segment against distance, ${face} on the stop`,
    prism: 'in front of the pupil as ordered (PD and height)',
    height: 'lowest point of the lens up to the top of the segment',
    pd: 'middle of the bridge to the middle of the segment',
  } as const;
};
