import { foldWord } from './normalise.ts';
import type { Locale } from './types.ts';

const SPANISH = new Set(
  'el la los las un una unos unas de del que y en es son con para por mi mis me se si no pero muy mas ya lo le les al todo todos todas bien mal gracias hola buenos buenas dias tardes favor porfa porfavor quiero puedo veo ver lentes gafas anteojos ojo ojos cuando como este esta estos estas estoy tengo tiene hay soy usted ustedes numero quien mensajes mensaje deje dejen basta alto ayuda siento duele cabeza nada nadie desde ayer hoy aqui cerca lejos borroso borrosa doble nuevos nuevas porque tambien donde perfecto claro leer llegan llegado estan esta voy poco mejorando rayados rayado siguen sigo sigue otra otro vez mucho mucha muchos todavia aprietan resbalan caen cai marea leer letreros carro coche sol afuera adentro casa sombra flotando rojo duele veces tanto antes ahora entonces nunca siempre senora senor amable devuelvan dinero cita llamen llame mareo mareos piso escaleras vista noche luz luces parar pare paren cancelar cancela cancelen suscripcion genial perfecta perfectos perfectas estupendo estupendamente excelente contento contenta encantado encantada tienen vienen rayon rayones mal mejor peor conducir manejar ordenador computadora pantalla coche lente lentes letras madre padre esposo esposa marido mujer mujer hijo hija murio fallecio ojos gracias cristal caja tranquila tranquilo paz molesten molestar escriban escriba manden mande baja reembolso vuelvan siguen estuvo puse puso disculpe disculpen oiga ellas ellos nosotros sin sobre entre hasta hacia muchisimas nada algo alguien'.split(
    ' ',
  ),
);
const ENGLISH = new Set(
  'the a an i im ive is are am was were be my me you your it its they theyre them these this that and or but not dont cant with for to of in on at from when what who how why can could will would please thanks thank hi hello have has had get got good fine great all just see read look glasses eye eyes stop help yes okay there than then if so very really still'.split(
    ' ',
  ),
);
/** Shared by both; they say nothing about the language. */
const BOTH = new Set(['no', 'me', 'a', 'an', 'son', 'con', 'es', 'am', 'he', 'has', 'un', 'as', 'in', 'on']);

const WORDS_LOOKED_AT = 60;
const LETTERS_LOOKED_AT = 2000;

/**
 * The language of a reply by its small words; `given` when they do not decide it, else English. `mixed` when words of
 * both were seen.
 */
export function readLocale(text: string, given?: Locale): { locale: Locale; mixed: boolean } {
  const opening = text.slice(0, LETTERS_LOOKED_AT);
  let spanish = /[ñ¿¡]/u.test(opening) ? 1.5 : 0;
  let english = 0;
  let looked = 0;
  for (const match of opening.matchAll(/[\p{L}'’]{1,40}/gu)) {
    const word = foldWord(match[0]);
    if (!BOTH.has(word)) {
      if (SPANISH.has(word)) spanish += 1;
      if (ENGLISH.has(word)) english += 1;
    }
    looked += 1;
    if (looked >= WORDS_LOOKED_AT) break;
  }
  const locale = spanish > english ? 'es' : english > spanish ? 'en' : (given ?? 'en');
  return { locale, mixed: spanish >= 1 && (english >= 1 || locale === 'en') };
}
