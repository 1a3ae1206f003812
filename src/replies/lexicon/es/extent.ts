import type { ExtentPhrases } from '../lexicon.ts';
import { phrases } from '../phrases.ts';

export const spanishMaybeStop = phrases(
  `^ alto, ^ basta, ^ paren, ^ pare, ^ cancelar, ^ cancelen, ^ baja, ya no quiero, no quiero mas, ya estuvo, demasiados mensajes|textos, me tienen harto|harta`,
);

export const spanishWeightyWords = phrases(`
ojo, ojos, vista, vision, ciego, ciega, parpado, pupila, veo, borroso, mareo, mareado, desmaye, desmayo, dolor, duele, duelen, ardor, arde, sangre, golpe, cai, caida, caigo, choque, accidente, hospital, doctor, emergencia, herida, herido, quemadura, repente, destellos, manchas, sombra, cortina, hinchado, rojo, rota, roto, cabeza, nariz, oreja, orejas, sien, nauseas, vomito
`);

export const spanishExtent: ExtentPhrases = {
  worse: phrases(`peor, empeora, empeorando, cada vez peor`),
  same: phrases(`igual que, sigue igual, igual, lo mismo, sin cambio`),
  better: phrases(`mejor que, mejorando, cada dia mejor, un poco mejor, va mejor`),
  right: phrases(`ojo derecho, lente derecho, el derecho`),
  left: phrases(`ojo izquierdo, lente izquierdo, el izquierdo`),
  bothEyes: phrases(`los dos ojos, ambos ojos`),
  day: phrases(`dia {numero}, {numero} dias`),
  week: phrases(`{numero} semanas, una semana, un mes`),
};
