export type WordFault = {
  readonly kind: 'prescription' | 'measurement' | 'health' | 'lens type' | 'offer' | 'sender not named';
  /** The words that are at fault; empty where words are missing. */
  readonly words: string;
};

export type Sent = {
  readonly channel: 'text' | 'subject';
  /** The name that must stand in the text; without it any naming of a sender will do. */
  readonly sender?: string | undefined;
};

/**
 * What must not stand in a text or a subject line, which anyone who holds the handset can read: powers, measurements,
 * conditions, the type of lens, anything to sell; and a text must say who writes. Source: HHS FAQ 198 and 45 CFR
 * 164.502(b) for what a message may give away; ICO on service messages and 47 CFR 64.1200(f)(15) for offers (read as
 * quoted). The word lists are our own.
 */
export function wordFaults(text: string, sent: Sent = { channel: 'text' }): readonly WordFault[] {
  const faults = NEVER.flatMap(({ kind, pattern }) =>
    [...text.matchAll(pattern)].map((found): WordFault => ({ kind, words: found[0].trim() })),
  );
  const named = sent.channel === 'subject' || namesSender(text, sent.sender);
  return named ? faults : [...faults, { kind: 'sender not named', words: '' }];
}

/** Words about the lenses that an unasked text keeps to itself as well; an answer may use what the wearer used. */
export function lensWords(text: string): readonly string[] {
  return [...text.matchAll(LENS_WORDS)].map((found) => found[0]);
}

const NEVER: readonly { readonly kind: WordFault['kind']; readonly pattern: RegExp }[] = [
  { kind: 'prescription', pattern: /(?<![\d+])[+\-−]\s?\d{1,2}[.,]\d{2}\b/g },
  {
    kind: 'prescription',
    pattern:
      /\b(?:sph|sphere|cyl|cylinder|axis|ax|add|addition|prism|base (?:in|out|up|down))\b[ :=]*[+-]?\d/gi,
  },
  {
    kind: 'prescription',
    pattern:
      /\b(?:cylinders?|axis|prisms?|di?optr(?:es?|ers?|[íi]as?)|prescriptions?|lens powers?|graduaci[óo]n|cilindro|prisma)\b/gi,
  },
  { kind: 'measurement', pattern: /\b\d+(?:[.,]\d+)?\s?(?:mm|cm|mmhg|d|dpt)\b/gi },
  {
    kind: 'measurement',
    pattern:
      /\b(?:pd|pupillary distance|fitting height|segment height|base curve|vertex distance|pantoscopic|visual acuity)\b/gi,
  },
  { kind: 'measurement', pattern: /\b(?:20\/\d{2,3}|6\/\d{1,2})\b/g },
  {
    kind: 'health',
    pattern:
      /\b(?:cataracts?|cataratas?|glaucoma|macular?|maculopathy|retina[ls]?|retinopathy|diabet\w+|keratoconus|amblyop\w+|lazy eyes?|strabismus|squint (?:operation|surgery)|astigmat\w+|myop\w+|miop\w+|hyperop\w+|hypermetrop\w+|presbyop\w+|presbicia|(?:short|long|near|far)[- ]?sighted(?:ness)?|dry eyes?|conjunctivitis|uveitis|keratitis|blepharitis|dementia|strokes?|epilep\w+|migraines?|blood pressure|eye pressure|eye disease|eye condition|your condition|diagnos\w+|surgery|operation|medication|eye drops?|pregnan\w+|vertigo|multiple sclerosis|parkinson\w*|cancer|detachment|nystagmus|ptosis|colou?r[- ]?blind\w*|low vision|partially sighted)\b/gi,
  },
  {
    kind: 'lens type',
    pattern:
      /\b(?:multi-?focal\w*|vari-?focal\w*|progressives?|progresiv\w+|bi-?focal\w*|tri-?focal\w*|photochrom\w+|fotocrom\w+|fotosensib\w+|light[- ]reactive|self[- ]tinting|high[- ]index|polycarbonate|single[- ]vision|contact lens(?:es)?|reading addition|anti[- ]?reflec\w+|(?:near|reading|lower) (?:zone|segment))\b/gi,
  },
  {
    kind: 'offer',
    pattern:
      /\d\s?%|\bper ?cent off\b|\b(?:(?:a|the|our|on|summer|winter|big) sale|sale (?:now|this|today|ends|starts)|discount\w*|offers?(?! you\b)|vouchers?|coupons?|promo\w*|bargains?|half price|buy one|second pair|spare pair deal|refer (?:a|your) friends?|special price|loyalty|reward\w*|prize|gift cards?|book (?:now|your next)|upgrade|descuentos?|ofertas?|rebajas?|gratis|sorteo)\b|(?<!feel )\bfree\b(?! to\b)|\b(?:leave|write|give) (?:us )?a (?:\S+ )?review\b|\breview us\b|\brate us\b|[$£€]\s?\d|\b\d+\s?(?:dollars?|pounds?|euros?)\b/gi,
  },
];

const LENS_WORDS =
  /\b(?:tint\w*|dark\w*|clear\w*|windscreens?|windshields?|sunglasses|sun|chin|nose|stairs?|corridor|reading|screens?|driv\w+|oscur\w+|sol|barbilla|parabrisas|escaleras?|conduc\w+)\b/gi;

/** "Sample Street Opticians: …", "…, Sample Street Opticians here.", "this is …", "it's …", "from …", "somos …". */
const NAMING: readonly RegExp[] = [
  /^[\p{Lu}\d][\p{L}\d'&.-]*(?: [\p{Lu}&\d][\p{L}\d'&.-]*| (?:of|and|the|de|la|los|y))*(?: \([^)]+\))?:/u,
  /\b[\p{Lu}][\p{L}'&-]+(?: [\p{Lu}&][\p{L}'&-]*)* here\b/u,
  /(?:[Tt]his is|[Ii]t's|[Ii]t’s|[Ff]rom|[Ww]e are|[Aa]t|[Ss]omos|[Ss]oy|[Dd]e) (?:the )?[\p{Lu}][\p{L}'&-]+/u,
  /\b[\p{Lu}][\p{L}'&-]+ (?:Opticians?|Optical|Optics|Optometrists?|Eyecare|Eyewear|Spectacles|[ÓO]ptica|Vision|Eyes|Glasses)\b/u,
  /\b[ÓO]ptica [\p{Lu}]/u,
];

function namesSender(text: string, sender: string | undefined): boolean {
  if (sender !== undefined) return text.toLowerCase().includes(sender.toLowerCase());
  return NAMING.some(
    (pattern) =>
      pattern.test(text) && !/^(?:Hi|Hello|Hola|Dear)\b[^:]*:/u.test(pattern.exec(text)?.[0] ?? ''),
  );
}
