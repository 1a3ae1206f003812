/** Where the figures of the catalogue come from. Only openings or abstracts were read where it says so. */
export const PRACTICE = 'common practice, no source';

/** Starting weights: shares of causes among rechecks, moved toward fit and use because a dispenser sees those first. */
export const WEIGHTS =
  'ours, for a first multifocal wearer; drawn from Bist et al. 2021 (Ophthalmic Physiol Opt 41:610-622), Freeman & Evans ' +
  "2010 (30:1-11) and Beesley, Davey & Elliott 2022, abstracts; to be overwritten by the shop's own outcomes";

export const ANSI = 'ANSI Z80.1-2015, quick reference guide';
export const YOUNG = 'Young & Borish 1994, J Am Optom Assoc 65:445-450, abstract';
export const BEESLEY = 'Beesley, Davey & Elliott 2022, abstract and report';
export const ELLIOTT = 'Elliott 2014, Glenn A. Fry lecture, abstract';
export const LORD = 'Lord 2002, multifocal glasses and falls, abstract';
export const MAKER_TABLE = "lens maker's progressive problem table, training page, distance zone";
export const TAYLOR = 'Taylor, Progressive lenses: how to troubleshoot common problems, part II';
export const CLUES = '20/20 Magazine, L&T 19075, complaints as clues';
export const SEG_HEIGHT = '20/20 Magazine, Seg height';
export const LAUVER = 'Lauver 2015, Progressive troubleshooting triage';
export const MCCARTHY = 'McCarthy, Back to basics in dispensing 8; Anisometropia, Optometry in Practice 2013';
export const CARDS = 'dispensing study cards, frame adjustments and repairs';
export const MOON = 'Moon, Kim & Yu 2020, abstract';
export const ALABI = 'Alabi 2021, abstract';
export const BOXER = 'Boxer Wachler 2016, 29 cars';
export const TECHNICIAN = 'eye-technician course, module 20.2, Handling glasses complaints';
export const MEISTER = 'Meister 2008, Progressive lens dispensing';
export const MILDER = 'Milder 1976';
export const CARLTON = 'Carlton, A question of colour, Optician';
export const EXAM = 'opticianry exam guide, sections 3.3 and 8.2';
export const SELLER = "eyewear sellers' and makers' pages on light-reactive lenses";
export const CO_ANNEX = 'College of Optometrists, Annex 4, urgency of referrals';
export const HOFSTETTER = 'Hofstetter 1950 amplitude by age; add by age, trade tables';
export const JALIE = 'Jalie, chromatic aberration: 0.1 prism dioptre notice level, from memory';
export const NFOS = 'National Federation of Opticianry Schools, course 11a, vertex';
