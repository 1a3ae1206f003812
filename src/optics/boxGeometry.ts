/** Boxed sizes of a frame, mm: A lens width, B lens height, DBL between the lenses. */
export type FrameBox = { readonly aMm: number; readonly bMm: number; readonly dblMm: number };

/** Frame PD: A + DBL, mm, from boxed centre to boxed centre. Source: ABO advanced practice question; ISO 8624 words. */
export const framePdMm = ({ aMm, dblMm }: Pick<FrameBox, 'aMm' | 'dblMm'>): number => aMm + dblMm;

/** Decentration of each lens inwards, mm: (frame PD - PD) / 2, + in. Source: ABO advanced practice question. */
export const decentrationInMm = (framePdWholeMm: number, pdMm: number): number => (framePdWholeMm - pdMm) / 2;

/** Decentration of one lens inwards from the monocular PD, mm: frame PD / 2 - monocular PD, + in. */
export const decentrationInOneEyeMm = (framePdWholeMm: number, monocularPdMm: number): number =>
  framePdWholeMm / 2 - monocularPdMm;

/** Height above the midline of the box, mm: height from the lowest point - B / 2. Source: box system. */
export const aboveMidlineMm = (heightMm: number, bMm: number): number => heightMm - bMm / 2;
