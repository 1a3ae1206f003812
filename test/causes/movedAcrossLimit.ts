/**
 * Pairs of jobs that differ in one number, moved across its limit; the cause must rank higher beyond the limit. Rows are
 * named by their id in the vignettes; `within` is the same job with that number inside its limit. Limits: ANSI Z80.1 for
 * made powers, prism, marks and place; trade tables for the rest, each named in the catalogue beside its rule.
 */
export type MovedPair = {
  readonly row: string;
  readonly cause: string;
  readonly within: Readonly<Record<string, unknown>>;
};

const both = (R: number, L = R) => ({ R, L });

export const MOVED_PAIRS: readonly MovedPair[] = [
  { row: 'cs-01', cause: 'cross-too-high', within: { cross_above_pupil_mm: both(-0.8), blur_when: 'both' } },
  { row: 'cs-03', cause: 'cross-too-high', within: { cross_above_pupil_mm: both(0.4) } },
  { row: 'cs-05', cause: 'cross-too-high', within: { cross_above_pupil_mm: both(0.5) } },
  { row: 'cs-07', cause: 'cross-too-low', within: { cross_above_pupil_mm: both(-0.4) } },
  { row: 'cs-08', cause: 'cross-too-low', within: { cross_above_pupil_mm: both(-0.5) } },
  { row: 'cs-09', cause: 'mono-pd-off', within: { cross_nasal_mm: both(-0.5, 0), side: 'both' } },
  { row: 'cs-10', cause: 'cyl-or-axis-off', within: { read_R: [0.5, -1.5, 178] } },
  { row: 'cs-11', cause: 'unwanted-prism-horizontal', within: { prism_h_imbalance_pd: 0.6 } },
  {
    row: 'cs-12',
    cause: 'vertex-unequal',
    within: { vertex_mm: both(13, 12), temple_spread: 'none', heights_look: 'level' },
  },
  { row: 'cs-13', cause: 'power-not-to-order', within: { read_R: [-1.87, 0, 0] } },
  { row: 'cs-14', cause: 'base-curve-change', within: { base_curve_D: 5 } },
  { row: 'cs-16', cause: 'frame-slipped', within: { cross_above_pupil_mm: both(0), slips: false } },
  { row: 'cs-17', cause: 'mono-pd-off', within: { cross_nasal_mm: both(0.5) } },
  { row: 'cs-20', cause: 'power-not-to-order', within: { read_add_D: 2.12 } },
  {
    row: 'cs-21',
    cause: 'transcription-error',
    within: { order_R: [-2.25, -0.5, 90], order_L: [-2, -0.75, 90] },
  },
  { row: 'cs-22', cause: 'height-below-minimum', within: { fitting_height_mm: 20 } },
  { row: 'cs-24', cause: 'vertex-too-long', within: { vertex_mm: 12.5 } },
  { row: 'cs-26', cause: 'reading-level-imbalance', within: { rx_L: [1.5, 0, 0] } },
  { row: 'cs-27', cause: 'reading-level-imbalance', within: { rx_L: [1, -1.25, 180] } },
  {
    row: 'cs-28',
    cause: 'cyl-change-not-adapted',
    within: { rx_R: [1, -0.75, 47], rx_L: [1.25, -0.75, 133] },
  },
  { row: 'cs-29', cause: 'distance-overplus', within: { rx_R: [1, 0, 0], rx_L: [1, 0, 0] } },
  { row: 'cs-30', cause: 'transcription-error', within: { order_R: [-2.25, 0, 0] } },
  {
    row: 'cs-31',
    cause: 'add-too-strong',
    within: { add_D: 1.5, print_must_come: 'neither', reading_cm_wanted: 40 },
  },
  { row: 'cs-33', cause: 'vertex-too-long', within: { vertex_mm: 13 } },
  { row: 'cs-37', cause: 'vertex-unequal', within: { vertex_mm: both(13, 12), sore: 'both sides' } },
  { row: 'cs-38', cause: 'tilt-too-large', within: { tilt_deg: 10 } },
  { row: 'cs-39', cause: 'cold-slow-clear', within: { temp_C: 21 } },
  { row: 'cs-41', cause: 'hot-weather-limit', within: { temp_C: 20 } },
  {
    row: 'cs-42',
    cause: 'pair-mismatch',
    within: { one_lens_replaced: false, lens_age_months: 0, even_both_lenses: true },
  },
  { row: 'cs-44', cause: 'rx-change-large', within: { rx_R: [1.25, 0, 0], rx_L: [1.25, 0, 0] } },
  { row: 'cs-48', cause: 'early-adaptation', within: { day: 40 } },
  { row: 'own-04', cause: 'tilt-too-large', within: { tilt_deg: 11 } },
  { row: 'own-05', cause: 'wrap-mismatch', within: { wrap_deg: 6 } },
  { row: 'own-06', cause: 'corridor-too-short', within: { corridor_mm: 15 } },
  { row: 'own-08', cause: 'base-curve-change', within: { base_curve_D: 4.5 } },
  { row: 'own-23', cause: 'mono-pd-off', within: { cross_nasal_mm: both(0.2, 0.4), head_turn: false } },
  { row: 'own-12', cause: 'power-not-to-order', within: { read_R: [-2.88, -0.5, 82] } },
  { row: 'own-15', cause: 'vertex-too-long', within: { vertex_mm: 12 } },
  { row: 'own-20', cause: 'needs-task-pair', within: { screen_hours: 1, screen_cm: 50 } },
  {
    row: 'own-25',
    cause: 'add-too-weak',
    within: { add_D: 2.5, read_add_D: 2.5, print_must_come: 'neither', light: 'no matter' },
  },
  { row: 'own-34', cause: 'tilt-too-small', within: { tilt_deg: 9 } },
  { row: 'own-35', cause: 'corridor-too-long', within: { corridor_mm: 12 } },
  { row: 'own-39', cause: 'vertex-too-long', within: { vertex_mm: both(13) } },
  { row: 'own-43', cause: 'marks-rotated', within: { marks_tilt_deg: both(1, 0) } },
  { row: 'own-44', cause: 'cross-uneven', within: { cross_above_pupil_mm: both(0.2, 0) } },
  { row: 'own-48', cause: 'unwanted-prism-vertical', within: { prism_v_imbalance_pd: 0.2 } },
  { row: 'own-49', cause: 'unwanted-prism-horizontal', within: { prism_h_imbalance_pd: 0.5 } },
  { row: 'own-58', cause: 'image-size-difference', within: { rx_L: [1, 0, 0] } },
  { row: 'own-59', cause: 'unwanted-prism-vertical', within: { prism_both_base_up_pd: 1 } },
  { row: 'own-68', cause: 'low-abbe-material', within: { abbe: 58 } },
  { row: 'own-74', cause: 'dye-fatigue', within: { lens_age_months: 6 } },
  { row: 'own-79', cause: 'residual-base-tint', within: { faded_transmittance_pct: 60 } },
];
