/** Where the segment of a bifocal lies, mm. A full-width straight top has its centre on its top line: 0 below it. */
export type Segment = {
  readonly addD: number;
  /** Top of the segment below the distance optical centre. */
  readonly dropMm: number;
  /** Optical centre of the segment below its own top: the radius of a round one. */
  readonly centreBelowTopMm: number;
};

/**
 * Vertical prism that the segment alone gives at the reading point: add × depth of that point below the segment's
 * centre in cm, prism dioptres, + base up. Reading above the centre gives base down. Add it to the prism of the main
 * lens. Source: NFOS course notes, module 9e, unlike segment styles (printed value reproduced).
 */
export const segmentPrismUpPd = (segment: Segment, readingBelowCentreMm: number): number =>
  (segment.addD * (readingBelowCentreMm - segment.dropMm - segment.centreBelowTopMm)) / 10;
