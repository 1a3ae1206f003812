import type { FactPower } from './jobFacts.ts';

const RAD = Math.PI / 180;

export const vectorOf = ([s, c, a]: FactPower): readonly [m: number, j0: number, j45: number] => [
  s + c / 2,
  (-c / 2) * Math.cos(2 * a * RAD),
  (-c / 2) * Math.sin(2 * a * RAD),
];

export const difference = (
  made: FactPower,
  asked: FactPower,
): { readonly sizeD: number; readonly meanD: number; readonly cylinderD: number } => {
  const [m, j0, j45] = vectorOf(made);
  const [m2, k0, k45] = vectorOf(asked);
  const cylinderD = 2 * Math.hypot(j0 - k0, j45 - k45);
  return { sizeD: Math.hypot(m - m2, j0 - k0, j45 - k45), meanD: m - m2, cylinderD };
};

export const powerAlong = ([s, c, a]: FactPower, meridianDeg: number): number =>
  s + c * Math.sin((meridianDeg - a) * RAD) ** 2;

export const strongestMeridian = ([s, c]: FactPower): number => (Math.abs(s + c) > Math.abs(s) ? s + c : s);

const minusForm = ([s, c, a]: FactPower): FactPower =>
  c > 0 ? [s + c, -c, ((a + 89) % 180) + 1] : [s, c, a];

const axisLimit = (cylinderD: number): number => {
  const c = Math.abs(cylinderD);
  return c < 0.12 ? 90 : c <= 0.25 ? 14 : c <= 0.5 ? 7 : c <= 0.75 ? 5 : c <= 1.5 ? 3 : 2;
};

export const withinLimits = (
  made: FactPower,
  asked: FactPower,
  progressive: boolean,
): { readonly sphere: boolean; readonly cylinder: boolean; readonly axis: boolean } => {
  const a = minusForm(made);
  const b = minusForm(asked);
  const strongest = Math.abs(strongestMeridian(b));
  const sphereLimit = progressive
    ? strongest <= 8
      ? 0.16
      : 0.02 * strongest
    : strongest <= 6.5
      ? 0.13
      : 0.02 * strongest;
  const c = Math.abs(b[1]);
  const cylinderLimit = progressive
    ? c <= 2
      ? 0.16
      : c <= 3.5
        ? 0.18
        : 0.05 * c
    : c <= 2
      ? 0.13
      : c <= 4.5
        ? 0.15
        : 0.04 * c;
  const turn = Math.abs(a[2] - b[2]) % 180;
  return {
    sphere: Math.abs(a[0] - b[0]) <= sphereLimit + 0.005,
    cylinder: Math.abs(a[1] - b[1]) <= cylinderLimit + 0.005,
    axis: Math.min(turn, 180 - turn) <= axisLimit(b[1]) || Math.abs(a[1]) < 0.12,
  };
};

export const addLimitD = (addD: number): number => (addD <= 4 ? 0.12 : 0.18);

export const addByAge = (age: number): { readonly lowD: number; readonly highD: number } =>
  age < 40
    ? { lowD: 0, highD: 0.75 }
    : age < 45
      ? { lowD: 0.5, highD: 1.25 }
      : age < 50
        ? { lowD: 1.0, highD: 1.5 }
        : age < 55
          ? { lowD: 1.25, highD: 2.0 }
          : age < 60
            ? { lowD: 1.75, highD: 2.5 }
            : { lowD: 2.0, highD: 3.0 };

export const amplitudeD = (age: number): number => Math.max(0, 18.5 - 0.3 * age);

export const readingImbalancePd = (r: FactPower, l: FactPower, levelMm: number): number =>
  ((powerAlong(r, 90) - powerAlong(l, 90)) * levelMm) / 10;

export const vertexEffectD = (powerD: number, fromMm: number, toMm: number): number => {
  const change = (toMm - fromMm) / 1000;
  return powerD / (1 + change * powerD) - powerD;
};

export const tiltCylinderD = (sphereD: number, tiltDeg: number, index = 1.6): number => {
  const s = Math.sin(tiltDeg * RAD) ** 2;
  return Math.abs(sphereD * (1 + s / (2 * index)) * Math.tan(tiltDeg * RAD) ** 2);
};

export const fringePd = (powerD: number, awayMm: number, abbe: number): number =>
  (Math.abs(powerD) * awayMm) / 10 / abbe;

export const imageDifferencePct = (r: FactPower, l: FactPower, vertexMm: number): number => {
  const size = (p: FactPower) => 1 / (1 - ((vertexMm + 3) / 1000) * (p[0] + p[1] / 2));
  return (size(r) / size(l) - 1) * 100;
};

export const addInFarGazeD = (crossAboveMm: number, addD: number, corridorMm: number): number =>
  (Math.max(0, crossAboveMm) / corridorMm) * addD;
