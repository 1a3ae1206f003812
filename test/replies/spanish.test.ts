import { describe, expect, test } from 'vitest';
import { sortReply } from '../../src/replies/sortReply.ts';

const rows: readonly [string, string][] = [
  ['ALTO', 'stop'],
  ['basta', 'stop'],
  ['No me escriban más', 'stop'],
  ['ya no quiero recibir mensajes', 'stop'],
  ['quiten mi número de la lista', 'stop'],
  ['mi esposo falleció', 'stop'],
  ['AYUDA', 'help'],
  ['¿Quién es?', 'help'],
  ['no conozco este número', 'help'],
  ['Veo destellos en el ojo izquierdo', 'urgent-eye'],
  ['tengo una cortina negra en un ojo', 'urgent-eye'],
  ['manchas negras flotando desde ayer', 'urgent-eye'],
  ['perdí la vista de un ojo', 'urgent-eye'],
  ['de repente veo doble', 'urgent-eye'],
  ['el ojo está rojo y me duele mucho', 'urgent-eye'],
  ['me entró cloro en el ojo', 'urgent-eye'],
  ['Me caí en la escalera', 'fall-or-injury'],
  ['casi choco por no ver el carro', 'fall-or-injury'],
  ['me mareo cuando camino', 'swim'],
  ['No veo bien los letreros', 'distance-blur'],
  ['la pantalla de la computadora se ve borrosa', 'intermediate-blur'],
  ['no puedo leer el periódico', 'near-blur'],
  ['tengo que levantar la barbilla para leer', 'near-too-low'],
  ['tengo que agachar la cabeza para ver de lejos', 'near-too-high'],
  ['me duele la cabeza todas las tardes', 'strain'],
  ['las luces de los carros tienen halos', 'glare'],
  ['se me resbalan', 'slipping'],
  ['me aprietan la nariz', 'pressure'],
  ['están rayados', 'surface-flaw'],
  ['veo borroso', 'unclear-blur'],
  ['no se oscurecen en el carro', 'clear-in-car'],
  ['Todo muy bien, gracias', 'settled'],
  ['todavía no me llegan', 'not-arrived'],
  ['quiero que me devuelvan mi dinero', 'wants-money-back'],
  ['por favor que me llame alguien', 'wants-contact'],
  ['voy mejorando poco a poco', 'getting-there'],
];

describe('Spanish', () => {
  test.each(rows)('"%s" is %s', (text, label) => {
    const reading = sortReply({ text });
    expect(reading.labels).toContain(label);
    if (label !== 'stop') expect(reading.stop).toBe(false);
  });

  test('the language is told from the words', () => {
    expect(sortReply({ text: 'No veo bien de lejos' }).locale).toBe('es');
    expect(sortReply({ text: 'I cannot see far' }).locale).toBe('en');
    expect(sortReply({ text: 'ok', locale: 'es' }).locale).toBe('es');
    expect(sortReply({ text: 'ok' }).locale).toBe('en');
  });

  test('a danger in the other language of a mixed reply is not missed', () => {
    expect(
      sortReply({ text: 'Hello, my eye is ok but mi mamá dice que veo destellos en el ojo' }).urgent,
    ).toBe(true);
  });

  test.each(['1', '2', '3', '4', '5', 'uno', 'dos', 'tres', 'cuatro', 'cinco'])(
    '%s answers a check-in',
    (text) => {
      expect(sortReply({ text, asked: { kind: 'check-in' }, locale: 'es' }).bareAnswer).toBeDefined();
    },
  );
});
