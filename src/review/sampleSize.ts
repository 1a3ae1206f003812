import { normalQuantile } from './normalDistribution.ts';

/**
 * Pairs needed in each of two arms to see the difference between two rates, unrounded:
 * (z_{α/2} √(2 p̄ q̄) + z_power √(p₁q₁ + p₂q₂))² / (p₁ − p₂)². Normal approximation, far tail left out.
 * Source: R Core Team, R stats manual, power.prop.test (from memory). Infinite when the rates are equal.
 */
export function pairsPerArm(rate1: number, rate2: number, alphaTwoSided = 0.05, power = 0.8): number {
  const mean = (rate1 + rate2) / 2;
  const spreadAlike = Math.sqrt(2 * mean * (1 - mean));
  const spreadApart = Math.sqrt(rate1 * (1 - rate1) + rate2 * (1 - rate2));
  const reach = -normalQuantile(alphaTwoSided / 2) * spreadAlike + normalQuantile(power) * spreadApart;
  return (reach / (rate1 - rate2)) ** 2;
}
