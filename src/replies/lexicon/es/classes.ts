import { type Classes, phrases } from '../phrases.ts';

/** Cosas e ideas en español, sin acentos, como las lee el normalizador. */
export const spanishClasses: readonly Classes[] = [
  {
    far: phrases(
      `tele, television, letrero, letreros, senal, senales, anuncios, subtitulos, lejos, de lejos, a lo lejos, distancia, la distancia, pizarra, pizarron, pantalla del cine, cine, caras de lejos, numero del camion, camion, autobus, bus, micro, guagua, placas, semaforo, semaforos, carretera, calle, cancha, marcador, partido, altar, misa, manejar, conducir, arboles, reloj de la pared, al frente, el otro lado, la gente`,
    ),
    arm: phrases(
      `cuentakilometros, el ordenador, fogones, vitroceramica, la encimera, probador, computadora, computador, ordenador, pantalla, monitor, laptop, portatil, tablero, tablero del carro, velocimetro, salpicadero, estante, estantes, anaquel, anaqueles, mostrador, caja, cajero, estufa, horno, partitura, teclado, media distancia, distancia media, distancia intermedia, a un brazo, largo del brazo, distancia del brazo, mesa, espejo, atril, gps`,
    ),
    near: phrases(
      `leer, lectura, al leer, para leer, de cerca, cerca, celular, movil, telefono, libro, libros, periodico, diario, revista, menu, carta, letra chica, letra pequena, letras chiquitas, letras pequenas, letras, etiqueta, etiquetas, receta, recetas, medicina, medicinas, pastillas, frasco, aguja, hilo, coser, costura, tejer, biblia, cuentas, factura, recibo, mensajes del celular, reloj, unas, ingredientes, papel, papeles, documento, documentos, crucigrama`,
    ),
    blur: phrases(
      `borroso, borrosa, borrosos, borrosas, borron, nublado, nublada, nubladas, empanado, empanada, desenfocado, desenfocada, fuera de foco, opaco, opaca, turbio, turbia, neblina, niebla, difuso, difusa, confuso, distorsion, manchas en las letras`,
    ),
    badsee: phrases(
      `no veo, no alcanzo a ver, no puedo ver, no se ve, no se ven, no veo bien, no distingo, no puedo leer, no alcanzo a leer, no leo, batallo, me cuesta, cuesta trabajo, cuesta ver, cuesta leer, no logro ver, no logro leer, no enfoco, no enfoca, no puedo enfocar, tengo que adivinar, veo mal, se ve mal, se ven mal, no reconozco, veo poco, ni veo`,
    ),
    move: phrases(
      `mueve, mueven, moverse, moviendo, balancea, balancean, tambalea, ondula, ondulan, flota, gira, giran, baila, bailan, inclina, sube y baja, barco, lancha, mece`,
    ),
    surroundings: phrases(
      `piso, suelo, paredes, pared, cuarto, todo, mundo, banqueta, calle, casa, techo, pasillo, escaleras, cosas`,
    ),
    walk: phrases(
      `camino, caminar, caminando, ando, andar, muevo, mover, giro, girar, volteo, voltear, muevo la cabeza, giro la cabeza`,
    ),
    oneEye: phrases(
      `un ojo, ojo derecho, ojo izquierdo, del derecho, del izquierdo, el derecho, el izquierdo, con el derecho, con el izquierdo`,
    ),
    suddenly: phrases(
      `hoy, desde hoy, desde ayer, anoche, de repente, de pronto, de golpe, esta manana, al despertar, amaneci`,
    ),
    fromFitting: phrases(
      `desde el primer dia, desde que los tengo, desde que me los dieron, con los lentes, desde que los uso`,
    ),
    hoy: phrases(
      `hoy, ayer, anoche, desde hoy, desde ayer, desde anoche, de repente, de pronto, de golpe, esta manana, esta tarde, desde la manana, hace rato, hace una hora, hace un rato, amaneci, al despertar, desperte, me desperte, subitamente, repentinamente, apenas, recien`,
    ),
    nose: phrases(
      `nariz, orejas, oreja, oidos, sienes, sien, puente, detras de las orejas, atras de las orejas, cabeza, plaquetas, cara`,
    ),
    numero: phrases(
      `uno, dos, tres, cuatro, cinco, seis, siete, ocho, nueve, diez, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 20, 30`,
    ),
    bien: phrases(
      `bien, muy bien, perfecto, perfectos, perfecta, excelente, excelentes, genial, contento, contenta, encantado, encantada, feliz, felices, satisfecho, satisfecha, de maravilla, maravilla, super bien, todo bien, estupendo, estupenda, fenomenal, buenisimo, buenisimos, comodo, comodos, acostumbrado, acostumbrada`,
    ),
  },
  {
    unclear: phrases(`{blur}, {badsee}, no claro, no muy claro, no nitido, nada claro`),
    hypothetical: phrases(
      `si algun dia, si alguna vez, si veo, si me, si noto, y si, que pasa si, por si, me dijeron que, espero que no, preguntan por`,
    ),
    before: phrases(`antes, al principio, los primeros dias, la primera semana, hace anos`),
    ended: phrases(`se me quito, se me quitaron, ya no, desaparecio, se fue, ya paso, paso`),
    past: phrases(`era, estaba, tenia, veia, fue`),
    present: phrases(`todavia, sigue, siguen, sigo, ahora, aun`),
    mended: phrases(`ya no, se quito, ya estan bien, ya paso`),
    otherPerson: phrases(
      `mi esposo, mi esposa, mi mama, mi papa, mi hermano, mi hermana, mi hijo, mi hija, mi suegra, mi suegro, mi amigo, mi amiga, mi vecina, mi vecino, mi tia, mi tio`,
    ),
    theirs: phrases(`los de ella, los de el, a ella le, a el le, los suyos`),
    wornByThem: phrases(`con los lentes, con lentes, lentes nuevos, hospital, urgencias`),
    speaksFor: phrases(
      `de parte de, escribo por, escribo de parte, soy su hija, soy su hijo, soy la hija, soy el hijo, le escribo por`,
    ),
    notMe: phrases(`yo no, a mi no, los mios no, los mios`),
    tells: phrases(`dice, dijo, dicen, noto`),
  },
];
