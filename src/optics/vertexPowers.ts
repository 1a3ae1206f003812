/** A thick lens in air: surface powers in dioptres, centre thickness in mm, refractive index. */
export type ThickLens = {
  readonly frontSurfaceD: number;
  readonly backSurfaceD: number;
  readonly centreThicknessMm: number;
  readonly index: number;
};

/**
 * Back vertex power Fv = F1 / (1 - (t/n) F1) + F2, dioptres, thickness in metres inside: what a lensmeter reads with
 * the back of the lens on the stop. Paraxial, exact on the axis.
 * Source: NFOS practice answers, module 11, vertex power worksheet; opticaled articles (B. McCardle, 2009).
 */
export const backVertexPowerD = (lens: ThickLens): number =>
  carriedThrough(lens.frontSurfaceD, lens) + lens.backSurfaceD;

/**
 * Front vertex power: the same with the surfaces swapped. A strong plus lens has another add on each face, so an add is
 * read on the face that the maker names. Source: as `backVertexPowerD`.
 */
export const frontVertexPowerD = (lens: ThickLens): number =>
  carriedThrough(lens.backSurfaceD, lens) + lens.frontSurfaceD;

/** Back surface that gives a wanted back vertex power, dioptres. Source: as `backVertexPowerD`, solved for F2. */
export const backSurfaceForD = (wantedBackVertexD: number, lens: Omit<ThickLens, 'backSurfaceD'>): number =>
  wantedBackVertexD - carriedThrough(lens.frontSurfaceD, lens);

const carriedThrough = (
  surfaceD: number,
  { centreThicknessMm, index }: Pick<ThickLens, 'centreThicknessMm' | 'index'>,
): number => surfaceD / (1 - (centreThicknessMm / 1000 / index) * surfaceD);
