import type { LensDrawing, LensPicture } from '../../../dashboard/pictures/lens/view.ts';
import { gather } from '../../followup/jobFactsOf.ts';
import { type EyePicture, lensPicture } from '../../optics/lensPicture.ts';
import type { FactRow } from '../../store/jobs.ts';

type Design = { corridor_mm: number | null } | undefined;
export type Drawn = { readonly picture: LensPicture | null; readonly missing: string };

/** The picture of a pair from the facts on record, or what is missing for it. */
export function lensPictureOf(rows: readonly FactRow[], design: Design): Drawn {
  const facts = gather(rows);
  const frame = { aMm: num(facts.frame_a_mm), bMm: num(facts.frame_b_mm), dblMm: num(facts.dbl_mm) };
  const wanted: [string, unknown][] = [
    ['frame A', frame.aMm],
    ['frame B', frame.bMm],
    ['frame DBL', frame.dblMm],
    ['fitting heights', heightOf(facts, 'R') ?? heightOf(facts, 'L')],
    ['monocular PDs', pdOf(facts, 'R') ?? pdOf(facts, 'L')],
  ];
  const missing = wanted.filter(([, value]) => value === undefined).map(([name]) => name);
  if (missing.length > 0)
    return {
      picture: null,
      missing: `${missing.join(', ')} ${missing.length === 1 ? 'is' : 'are'} not on record`,
    };
  const layout = (which: 'R' | 'L') => {
    const height = heightOf(facts, which);
    const pd = pdOf(facts, which);
    const above = eye(facts.cross_above_pupil_mm, which);
    const nasal = eye(facts.cross_nasal_mm, which);
    return {
      ...(pd === undefined ? {} : { monocularPdMm: pd }),
      ...(height === undefined ? {} : { fittingHeightMm: height }),
      ...(above === undefined || height === undefined ? {} : { pupilHeightMm: height - above }),
      ...(above === undefined || pd === undefined ? {} : { pupilMonocularPdMm: pd + (nasal ?? 0) }),
    };
  };
  const corridorMm = num(facts.corridor_mm) ?? design?.corridor_mm ?? undefined;
  const addD = eye(facts.order_add_D ?? facts.add_D, 'R');
  const box = frame as { aMm: number; bMm: number; dblMm: number };
  const drawn = lensPicture({
    frame: box,
    R: layout('R'),
    L: layout('L'),
    ...(corridorMm === undefined ? {} : { corridorMm }),
    ...(addD === undefined ? {} : { addD }),
  });
  return {
    picture: {
      R: drawing(drawn.R),
      L: drawing(drawn.L),
      says: saysOf(drawn.R, drawn.L),
      table: tableOf(drawn.R, drawn.L),
    },
    missing: '',
  };
}

const num = (value: unknown): number | undefined => (typeof value === 'number' ? value : undefined);

function eye(value: unknown, which: 'R' | 'L'): number | undefined {
  if (typeof value === 'number') return value;
  if (typeof value === 'object' && value !== null) return num((value as Record<string, unknown>)[which]);
  return undefined;
}

/** Where the cross was made; where that was not read, where it was ordered. */
const heightOf = (facts: Record<string, unknown>, which: 'R' | 'L') =>
  eye(facts.made_height_mm, which) ?? eye(facts.fitting_height_mm, which);
const pdOf = (facts: Record<string, unknown>, which: 'R' | 'L') =>
  eye(facts.made_pd_mm, which) ?? eye(facts.wearer_pd_mm, which);

function drawing(of: EyePicture): LensDrawing {
  const { box, rim, cross, prismReferencePoint, corridor, nearZone, pupil, crossOffPupil } = of;
  const above = crossOffPupil.aboveMm ?? 0;
  const offBy = Math.abs(above) < 0.5 ? '' : `${Math.abs(above).toFixed(1)} mm ${above > 0 ? 'high' : 'low'}`;
  return { offBy, box, rim, cross, crossOrdered: null, prismReferencePoint, corridor, nearZone, pupil };
}

function saysOf(right: EyePicture, left: EyePicture): string {
  const height = (name: string, of: EyePicture): string[] => {
    const above = of.crossOffPupil.aboveMm;
    if (above === null) return [];
    if (Math.abs(above) < 0.05) return [`${name} cross on the pupil`];
    return [`${name} cross ${Math.abs(above).toFixed(1)} mm ${above > 0 ? 'above' : 'below'} the pupil`];
  };
  const zone = (name: string, of: EyePicture): string[] =>
    of.nearZone === null ? [] : [`${of.nearZone.heightMm.toFixed(1)} mm of near zone inside the ${name} rim`];
  const parts = [
    ...height('right', right),
    ...height('left', left),
    ...zone('right', right),
    ...zone('left', left),
  ];
  return parts.length === 0 ? 'Both lenses in their box sizes.' : `${parts.join('; ')}.`;
}

function tableOf(right: EyePicture, left: EyePicture): LensPicture['table'] {
  const words = (value: number | null | undefined) =>
    value === null || value === undefined ? 'not known' : `${value.toFixed(1)} mm`;
  return [
    {
      name: 'cross above (+) or below (−) the pupil',
      right: words(right.crossOffPupil.aboveMm),
      left: words(left.crossOffPupil.aboveMm),
    },
    {
      name: 'cross nasal (+) or temporal (−) of the pupil',
      right: words(right.crossOffPupil.nasalMm),
      left: words(left.crossOffPupil.nasalMm),
    },
    {
      name: 'near zone inside the rim',
      right: words(right.nearZone?.heightMm),
      left: words(left.nearZone?.heightMm),
    },
  ];
}
