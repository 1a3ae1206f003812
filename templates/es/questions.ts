import type { Words } from '../types.ts';

/** The catalogue's follow-up questions in Spanish, by id and by answer key. */
export const questions: Words['questions'] = {
  'only-when-moving': {
    words: '¿Es solo al mover la cabeza, o también sentado y quieto?',
    answers: { a: 'solo al moverme', b: 'también quieto' },
  },
  'chin-down': {
    words: 'Si baja un poco la barbilla, ¿ve claro de lejos?',
    answers: { a: 'sí, más claro', b: 'no, igual' },
  },
  'blurred-where': {
    words: '¿Dónde ve borroso?',
    answers: { a: 'lejos', b: 'a un brazo de distancia', c: 'cerca' },
  },
  'chin-for-screen': {
    words: '¿Tiene que subir la barbilla o girar la cabeza para ver la pantalla?',
    answers: { a: 'subir la barbilla', b: 'girar la cabeza', c: 'ninguna' },
  },
  'screen-hours': {
    words: '¿Cuánto mira una pantalla al día?',
    answers: { a: 'menos de 2 horas', b: 'de 2 a 5 horas', c: 'más' },
  },
  'print-nearer-or-farther': {
    words: '¿La letra se aclara si la acerca o si la aleja?',
    answers: { a: 'si la acerco', b: 'si la alejo', c: 'ninguna' },
  },
  'push-up': {
    words: 'Si sube los lentes por la nariz, ¿ve bien?',
    answers: { a: 'sí', b: 'no' },
  },
  'standing-or-sitting': {
    words: '¿Es de pie, sentado o en los dos casos?',
    answers: { a: 'de pie', b: 'sentado', c: 'en los dos' },
  },
  'both-sides': {
    words: '¿Está borroso igual a los dos lados, o más a un lado?',
    answers: { a: 'más a un lado', b: 'igual a los dos' },
  },
  'one-eye-where': {
    words: 'Tape un ojo y luego el otro. ¿Dónde ve borroso el peor?',
    answers: { a: 'lejos', b: 'solo cerca', c: 'en todas partes' },
  },
  'cover-one-eye': {
    words: '¿Se va al tapar un ojo?',
    answers: { a: 'se va', b: 'sigue' },
  },
  'looking-down': {
    words: '¿Es solo al mirar abajo, o también al frente?',
    answers: { a: 'solo abajo', b: 'también al frente' },
  },
  'edges-slope': {
    words: '¿Los bordes rectos se inclinan, o solo se curvan a los lados?',
    answers: { a: 'se inclinan', b: 'se curvan a los lados', c: 'nada de eso' },
  },
  'strain-from': {
    words: '¿Viene de leer, de las pantallas, o solo de llevarlos?',
    answers: { a: 'de leer', b: 'de las pantallas', c: 'solo de llevarlos' },
  },
  'old-pair-too': {
    words: '¿Pasa igual con sus lentes viejos?',
    answers: { a: 'igual', b: 'no, solo con los nuevos' },
  },
  'some-days-better': {
    words: '¿Es igual cada día, o algunos días mejor?',
    answers: { a: 'algunos días mejor', b: 'igual cada día' },
  },
  'frame-tilted': {
    words: 'Si acerca el borde de abajo a las mejillas, ¿ve más claro de lejos?',
    answers: { a: 'sí, más claro', b: 'no, igual' },
  },
  'goes-with-cleaning': {
    words: '¿Se va al lavar y secar los lentes?',
    answers: { a: 'se va', b: 'sigue' },
  },
  'only-at-edges': {
    words: '¿Solo hacia los bordes, o también en el centro?',
    answers: { a: 'solo en los bordes', b: 'también en el centro' },
  },
  'dark-outside': {
    words: '¿Se oscurecen al salir a cielo abierto?',
    answers: { a: 'sí', b: 'no' },
  },
  'warm-and-sunny': {
    words: '¿Cómo estaba el tiempo fuera?',
    answers: { a: 'sol abierto, calor', b: 'sol abierto, sin calor', c: 'sombra, nubes o tarde' },
  },
  'how-long-to-darken': {
    words: '¿Cuánto tardan en oscurecerse?',
    answers: { a: 'segundos', b: 'un minuto más o menos', c: 'muchos minutos' },
  },
  'out-in-the-cold': {
    words: '¿Venía del frío?',
    answers: { a: 'sí', b: 'no' },
  },
  'away-from-windows': {
    words: '¿Sigue igual tras una hora lejos de las ventanas?',
    answers: { a: 'sigue igual', b: 'no, se va' },
  },
  'one-lens-replaced': {
    words: '¿Se cambió un solo lente, o se hicieron los dos juntos?',
    answers: { a: 'se cambió uno', b: 'los dos juntos' },
  },
  'loose-or-snug': {
    words: '¿Están flojos a los lados, o ajustados y aun así se resbalan?',
    answers: { a: 'ajustados y se resbalan', b: 'flojos a los lados' },
  },
  'presses-where': {
    words: '¿Dónde aprieta?',
    answers: { a: 'en la nariz', b: 'detrás de la oreja', c: 'al lado de la cabeza' },
  },
  'came-so-or-knock': {
    words: '¿Vinieron así, o fue tras un golpe?',
    answers: { a: 'vinieron así', b: 'tras un golpe' },
  },
  'heat-or-cleaner': {
    words: '¿Vino así, o fue tras calor o un limpiador fuerte?',
    answers: { a: 'vino así', b: 'tras calor o limpiador', c: 'ninguna' },
  },
  'all-day': {
    words: '¿Los usa todo el día, o vuelve a los viejos?',
    answers: { a: 'todo el día', b: 'vuelvo a los viejos' },
  },
  'shown-how': {
    words: '¿Le enseñaron cómo encontrar las partes claras de los lentes?',
    answers: { a: 'sí', b: 'no' },
  },
  'sight-or-other': {
    words: '¿Es cómo ve con ellos, u otra cosa de los lentes?',
    answers: { a: 'cómo veo', b: 'otra cosa' },
  },
};
