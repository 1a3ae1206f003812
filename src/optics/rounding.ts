/**
 * To the nearest step (0.25, 0.125, 0.01 D; 0.5 mm; 1 degree), halves away from zero, so that +0.125 and -0.125 round
 * alike. Source: common practice, no source.
 */
export const roundToStep = (value: number, step: number): number => {
  // Binary fractions put 0.375 / 0.25 a hair off its half; 1e-9 of a step is far below any instrument.
  const steps = Math.floor(Math.abs(value) / step + 0.5 + 1e-9);
  // Division by the inverse keeps 12 × 0.01 from ending in …0001.
  const rounded = Number.isInteger(1 / step) ? steps / (1 / step) : steps * step;
  return steps === 0 ? 0 : Math.sign(value) * rounded;
};

/**
 * A power as the trade writes it: sign always, two decimals, "plano" for zero. Dioptres. Source: common practice.
 */
export const powerWritten = (powerD: number): string => {
  const rounded = roundToStep(powerD, 0.01);
  if (rounded === 0) return 'plano';
  return `${rounded > 0 ? '+' : '-'}${Math.abs(rounded).toFixed(2)}`;
};

/** Sphere, cylinder and axis as the trade writes them: "-2.00 -0.50 x 180", "plano -0.75 x 90", "+1.25". */
export const lensWritten = (lens: {
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly axisDeg: number;
}): string => {
  const cylinder = roundToStep(lens.cylinderD, 0.01);
  if (cylinder === 0) return powerWritten(lens.sphereD);
  const axis = Math.round(lens.axisDeg) % 180;
  return `${powerWritten(lens.sphereD)} ${powerWritten(cylinder)} x ${axis === 0 ? 180 : axis}`;
};
