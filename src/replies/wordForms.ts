/** Words whose forms no rule makes: `form=lemma`. */
const IRREGULAR = `
saw=see, seen=see, sees=see, seeing=see, went=go, goes=go, gone=go, going=go, got=get, gets=get, getting=get, gotten=get
has=have, had=have, having=have, did=do, does=do, done=do, doing=do, was=be, were=be, is=be, are=be, am=be, been=be, being=be
fell=fall, fallen=fall, came=come, coming=come, took=take, taken=take, taking=take, gave=give, given=give, giving=give, made=make, making=make
lost=lose, losing=lose, left=leave, kept=keep, held=hold, stood=stand, sat=sit, told=tell, said=say, sent=send, bought=buy, brought=bring, thought=think, found=find
broke=break, broken=break, bent=bend, hurt=hurt, hurts=hurt, hurting=hurt, rang=ring, rung=ring, wore=wear, worn=wear, wearing=wear, slid=slide, sliding=slide, slipt=slip
stung=sting, struck=strike, shone=shine, swam=swim, swum=swim, dug=dig, digging=dig, stuck=stick, felt=feel, feels=feel, ran=run, began=begin, begun=begin, flew=fly, forgot=forget, forgotten=forget
spoke=speak, spoken=speak, drove=drive, driven=drive, rode=ride, ridden=ride, wrote=write, written=write, knew=know, known=know, threw=throw, thrown=throw, tore=tear, torn=tear, stole=steal, woke=wake, woken=wake
lying=lie, lay=lie, paid=pay, met=meet, led=lead, meant=mean, lenses=lens, knives=knife, feet=foot, teeth=tooth, people=person, eyes=eye, shelves=shelf, leaves=leave, halves=half, bit=bit, worse=worse, better=better
clearer=clear, sharper=sharp, blurrier=blurry, fuzzier=fuzzy, darker=dark, lighter=light, smaller=small, bigger=big, taller=tall, looser=loose, tighter=tight, higher=high, lower=low, closer=close, nearer=near, farther=far, further=far
duele=doler, duelen=doler, veo=ver, ve=ver, ven=ver, vio=ver, visto=ver, viendo=ver, vi=ver
`;

const irregular = new Map<string, string>();
for (const entry of IRREGULAR.split(/[,\n]/u)) {
  const [form, lemma] = entry.split('=');
  if (form !== undefined && lemma !== undefined) irregular.set(form.trim(), lemma.trim());
}

/**
 * The word itself and the plainer words that it may be a form of ("sliding": slide, slid; "kerbs": kerb). Drawn-out
 * letters are shortened ("soooo": so). The caller keeps those that the lexicon knows.
 */
export function wordForms(word: string): string[] {
  const forms = [word];
  addForms(forms, word);
  if (/(.)\1\1/u.test(word)) {
    for (const short of [word.replace(/(.)\1{2,}/gu, '$1$1'), word.replace(/(.)\1{2,}/gu, '$1')]) {
      forms.push(short);
      addForms(forms, short);
    }
  }
  return forms;
}

/** A Spanish word for glasses of either gender ("las viejas": los viejos); of no use to an English word. */
export function masculineForms(word: string): string[] {
  if (word === 'las') return ['los'];
  if (word.length < 5) return [];
  if (word.endsWith('as')) return [`${word.slice(0, -2)}os`];
  return word.endsWith('a') ? [`${word.slice(0, -1)}o`] : [];
}

/** The word, and without drawn-out letters; no other form of it. */
export function sameWord(word: string): string[] {
  if (!/(.)\1\1/u.test(word)) return [word];
  return [word, word.replace(/(.)\1{2,}/gu, '$1$1'), word.replace(/(.)\1{2,}/gu, '$1')];
}

function addForms(forms: string[], word: string): void {
  const lemma = irregular.get(word);
  if (lemma !== undefined) forms.push(lemma);
  const n = word.length;
  if (n < 4) return;
  if (word.endsWith('ies')) forms.push(`${word.slice(0, -3)}y`);
  if (word.endsWith('s') && !word.endsWith('ss')) {
    forms.push(word.slice(0, -1));
    if (word.endsWith('es')) forms.push(word.slice(0, -2));
  }
  if (word.endsWith('ing') && n > 5) addStem(forms, word.slice(0, -3));
  if (word.endsWith('ed') && n > 4) {
    addStem(forms, word.slice(0, -2));
    if (word.endsWith('ied')) forms.push(`${word.slice(0, -3)}y`);
  }
}

function addStem(forms: string[], stem: string): void {
  forms.push(stem, `${stem}e`);
  const last = stem.at(-1);
  if (last !== undefined && last === stem.at(-2)) forms.push(stem.slice(0, -1));
}
