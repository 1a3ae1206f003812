import type { Words } from '../types.ts';

/** The catalogue's follow-up questions in Spanish, by id and by answer key. */
export const questions: Words['questions'] = {
  'what-is-not-right': {
    text: '¿Qué no va bien? Cuéntelo con sus palabras, o responda:',
    answers: { a: 'no veo claro de lejos', b: 'no veo claro de cerca', c: 'se resbalan o sientan mal' },
  },
  'only-when-moving': {
    text: '¿Es solo al mover la cabeza, o también sentado y quieto?',
    answers: { a: 'solo al moverme', b: 'también quieto' },
  },
  'chin-down': {
    text: 'Si baja un poco la barbilla, ¿ve claro de lejos?',
    answers: { a: 'sí, más claro', b: 'no, igual' },
  },
  'blurred-where': {
    text: '¿Dónde ve borroso?',
    answers: { a: 'lejos', b: 'a un brazo de distancia', c: 'cerca' },
  },
  'chin-for-screen': {
    text: '¿Tiene que subir la barbilla o girar la cabeza para ver la pantalla?',
    answers: { a: 'subir la barbilla', b: 'girar la cabeza', c: 'ninguna' },
  },
  'screen-hours': {
    text: '¿Cuánto mira una pantalla al día?',
    answers: { a: 'menos de 2 horas', b: 'de 2 a 5 horas', c: 'más' },
  },
  'print-nearer-or-farther': {
    text: '¿La letra se aclara si la acerca o si la aleja?',
    answers: { a: 'si la acerco', b: 'si la alejo', c: 'ninguna' },
  },
  'push-up': {
    text: 'Si sube los lentes por la nariz, ¿ve bien?',
    answers: { a: 'sí', b: 'no' },
  },
  'standing-or-sitting': {
    text: '¿Es de pie, sentado o en los dos casos?',
    answers: { a: 'de pie', b: 'sentado', c: 'en los dos' },
  },
  'both-sides': {
    text: '¿Está borroso igual a los dos lados, o más a un lado?',
    answers: { a: 'más a un lado', b: 'igual a los dos' },
  },
  'one-eye-where': {
    text: 'Tape un ojo y luego el otro. ¿Dónde ve borroso el peor?',
    answers: { a: 'lejos', b: 'solo cerca', c: 'en todas partes' },
  },
  'cover-one-eye': {
    text: '¿Se va al tapar un ojo?',
    answers: { a: 'se va', b: 'sigue' },
  },
  'looking-down': {
    text: '¿Es solo al mirar abajo, o también al frente?',
    answers: { a: 'solo abajo', b: 'también al frente' },
  },
  'edges-slope': {
    text: '¿Los bordes rectos se inclinan, o solo se curvan a los lados?',
    answers: { a: 'se inclinan', b: 'se curvan a los lados', c: 'nada de eso' },
  },
  'strain-from': {
    text: '¿Viene de leer, de las pantallas, o solo de llevarlos?',
    answers: { a: 'de leer', b: 'de las pantallas', c: 'solo de llevarlos' },
  },
  'old-pair-too': {
    text: '¿Pasa igual con sus lentes viejos?',
    answers: { a: 'igual', b: 'no, solo con los nuevos' },
  },
  'some-days-better': {
    text: '¿Es igual cada día, o algunos días mejor?',
    answers: { a: 'algunos días mejor', b: 'igual cada día' },
  },
  'frame-tilted': {
    text: 'Si acerca el borde de abajo a las mejillas, ¿ve más claro de lejos?',
    answers: { a: 'sí, más claro', b: 'no, igual' },
  },
  'goes-with-cleaning': {
    text: '¿Se va al lavar y secar los lentes?',
    answers: { a: 'se va', b: 'sigue' },
  },
  'only-at-edges': {
    text: '¿Solo hacia los bordes, o también en el centro?',
    answers: { a: 'solo en los bordes', b: 'también en el centro' },
  },
  'dark-outside': {
    text: '¿Se oscurecen al salir a cielo abierto?',
    answers: { a: 'sí', b: 'no' },
  },
  'warm-and-sunny': {
    text: '¿Cómo estaba el tiempo fuera?',
    answers: { a: 'sol abierto, calor', b: 'sol abierto, sin calor', c: 'sombra, nubes o tarde' },
  },
  'how-long-to-darken': {
    text: '¿Cuánto tardan en oscurecerse?',
    answers: { a: 'segundos', b: 'un minuto más o menos', c: 'muchos minutos' },
  },
  'out-in-the-cold': {
    text: '¿Venía del frío?',
    answers: { a: 'sí', b: 'no' },
  },
  'away-from-windows': {
    text: '¿Sigue igual tras una hora lejos de las ventanas?',
    answers: { a: 'sigue igual', b: 'no, se va' },
  },
  'one-lens-replaced': {
    text: '¿Se cambió un solo lente, o se hicieron los dos juntos?',
    answers: { a: 'se cambió uno', b: 'los dos juntos' },
  },
  'loose-or-snug': {
    text: '¿Están flojos a los lados, o ajustados y aun así se resbalan?',
    answers: { a: 'ajustados y se resbalan', b: 'flojos a los lados' },
  },
  'presses-where': {
    text: '¿Dónde aprieta?',
    answers: { a: 'en la nariz', b: 'detrás de la oreja', c: 'al lado de la cabeza' },
  },
  'came-so-or-knock': {
    text: '¿Vinieron así, o fue tras un golpe?',
    answers: { a: 'vinieron así', b: 'tras un golpe' },
  },
  'heat-or-cleaner': {
    text: '¿Vino así, o fue tras calor o un limpiador fuerte?',
    answers: { a: 'vino así', b: 'tras calor o limpiador', c: 'ninguna' },
  },
  'all-day': {
    text: '¿Los usa todo el día, o vuelve a los viejos?',
    answers: { a: 'todo el día', b: 'vuelvo a los viejos' },
  },
  'shown-how': {
    text: '¿Le enseñaron cómo encontrar las partes claras de los lentes?',
    answers: { a: 'sí', b: 'no' },
  },
  'sight-or-other': {
    text: '¿Es cómo ve con ellos, u otra cosa de los lentes?',
    answers: { a: 'cómo veo', b: 'otra cosa' },
  },
};
