import { minusCylinder } from '../optics/spheroCyl.ts';
import type { Eye, Fact, PowerTriple, ValidJob } from './job.ts';
import type { LensOrder, LensOrderEye } from './lensOrder.ts';
import { quantityOf } from './quantities.ts';

/** Which powers the records hold: what the lab was asked, the lab's as-worn powers, or what a lensmeter read. */
export type LensOrderMeaning = 'order' | 'as_worn' | 'read';

const SOURCE = { order: 'order', as_worn: 'lab form', read: 'lensmeter' } as const;
const PD: Readonly<Partial<Record<LensOrderMeaning, string>>> = { order: 'wearer_pd_mm', read: 'made_pd_mm' };
const HEIGHT: Readonly<Partial<Record<LensOrderMeaning, string>>> = {
  order: 'fitting_height_mm',
  read: 'made_height_mm',
};

/** The facts of lens-order records; the records themselves do not say whether they are order, as-worn or read powers. */
export function factsOfLensOrder(order: LensOrder, meaning: LensOrderMeaning, from: string): Fact[] {
  const fact = (key: string, eye: Eye | null, value: Fact['value'] | undefined): Fact[] => {
    if (value === undefined) return [];
    return [
      {
        key,
        value,
        unit: quantityOf(key)?.unit ?? null,
        eye,
        how: '',
        by: null,
        source: SOURCE[meaning],
        from,
      },
    ];
  };
  const ofEye = (eye: Eye, lens: LensOrderEye): Fact[] => {
    const prism = prismParts(eye, lens);
    const [pd, height] = [PD[meaning], HEIGHT[meaning]];
    return [
      ...fact(meaning, eye, powerOf(lens)),
      ...fact(`${meaning}_add_D`, eye, lens.addD),
      ...fact(`${meaning}_prism_up_pd`, eye, prism?.upPd),
      ...fact(`${meaning}_prism_in_pd`, eye, prism?.inPd),
      ...(pd === undefined ? [] : fact(pd, eye, lens.farPdMm)),
      ...(height === undefined ? [] : fact(height, eye, lens.fittingHeightMm)),
      ...(meaning === 'order' ? fact('near_pd_mm', eye, lens.nearPdMm) : []),
      ...(meaning === 'as_worn' ? [] : fact('base_curve_D', eye, lens.baseCurveD)),
    ];
  };
  const frame =
    meaning === 'order'
      ? [
          ...fact('frame_a_mm', null, order.right.frameAMm ?? order.left.frameAMm),
          ...fact('frame_b_mm', null, order.right.frameBMm ?? order.left.frameBMm),
          ...fact('dbl_mm', null, order.bridgeMm),
          ...fact('wrap_assumed_deg', null, order.right.wrapDeg ?? order.left.wrapDeg),
        ]
      : [];
  return [...ofEye('R', order.right), ...ofEye('L', order.left), ...frame];
}

/** The records of what a job asks of the lab, from its facts; ready for writeLensOrder. */
export function lensOrderOfJob(job: ValidJob): LensOrder {
  const value = (key: string, eye: Eye | null) =>
    job.facts.find((fact) => fact.key === key && fact.eye === eye)?.value;
  const figure = (key: string, eye: Eye | null) => {
    const held = value(key, eye);
    return typeof held === 'number' ? held : undefined;
  };
  const ofEye = (eye: Eye): LensOrderEye => {
    const power = value('order', eye) as PowerTriple | undefined;
    const fields = {
      sphereD: power?.[0],
      cylinderD: power?.[1],
      axisDeg: power?.[2],
      addD: figure('order_add_D', eye),
      farPdMm: figure('wearer_pd_mm', eye),
      nearPdMm: figure('near_pd_mm', eye),
      fittingHeightMm: figure('fitting_height_mm', eye),
      frameAMm: figure('frame_a_mm', null),
      frameBMm: figure('frame_b_mm', null),
      baseCurveD: figure('base_curve_D', eye),
      wrapDeg: figure('wrap_assumed_deg', null),
      ...prismVector(eye, figure('order_prism_up_pd', eye), figure('order_prism_in_pd', eye)),
    };
    return Object.fromEntries(
      Object.entries(fields).filter(([, held]) => held !== undefined),
    ) as LensOrderEye;
  };
  const bridgeMm = figure('dbl_mm', null);
  const eyes = (['R', 'L'] as const).filter((eye) => value('order', eye) !== undefined);
  return {
    job: job.jobNumber,
    eyes: eyes.length === 1 ? eyes[0]! : 'both',
    right: ofEye('R'),
    left: ofEye('L'),
    ...(bridgeMm === undefined ? {} : { bridgeMm }),
    unknown: [],
  };
}

/** Missing sphere is missing, not plano: then there is no power. */
function powerOf({ sphereD, cylinderD = 0, axisDeg = 180 }: LensOrderEye): PowerTriple | undefined {
  if (sphereD === undefined) return undefined;
  const lens = minusCylinder({ sphereD, cylinderD, axisDeg });
  return [Math.round(lens.sphereD * 1e4) / 1e4, lens.cylinderD, lens.axisDeg];
}

/**
 * Prism by angle to base up and base in: up = P sin A; the part along 0 degrees, P cos A, points to the observer's
 * right, which is nasal for the right eye and temporal for the left.
 */
function prismParts(
  eye: Eye,
  { prismPd, prismBaseDeg }: LensOrderEye,
): { upPd: number; inPd: number } | undefined {
  if (prismPd === undefined || (prismBaseDeg === undefined && prismPd !== 0)) return undefined;
  const angle = ((prismBaseDeg ?? 0) * Math.PI) / 180;
  const tidy = (pd: number) => Math.round(pd * 1e4) / 1e4 + 0;
  const towardsRight = prismPd * Math.cos(angle);
  return { upPd: tidy(prismPd * Math.sin(angle)), inPd: tidy(eye === 'R' ? towardsRight : -towardsRight) };
}

function prismVector(eye: Eye, upPd = 0, inPd = 0): Pick<LensOrderEye, 'prismPd' | 'prismBaseDeg'> {
  if (upPd === 0 && inPd === 0) return {};
  const towardsRight = eye === 'R' ? inPd : -inPd;
  const angle = (Math.atan2(upPd, towardsRight) * 180) / Math.PI;
  return {
    prismPd: Math.round(Math.hypot(upPd, inPd) * 1e4) / 1e4,
    prismBaseDeg: Math.round((((angle % 360) + 360) % 360) * 100) / 100,
  };
}
