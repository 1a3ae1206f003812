import type { LabelPhrases } from '../labelPhrases.ts';
import { phrases } from '../phrases.ts';

/** Muerte o enfermedad grave en la casa. */
export const spanishBereavement = phrases(
  `fallecio, murio, ha fallecido, ha muerto, acaba de morir, acaba de fallecer, en paz descanse, esta muy grave, muy grave, en el hospital .. grave, ingresado|ingresada en el hospital, en cuidados intensivos, en la uci, terapia intensiva, cancer, enterramos a, estamos de luto, de luto, funeral, velorio, perdimos a mi|nuestro|nuestra, ya no esta con nosotros, derrame cerebral, infarto, se esta muriendo`,
);

const always = ['asked', 'supposed', 'denied', 'over', 'other'] as const;

export const spanishLabels: readonly LabelPhrases[] = [
  {
    label: 'urgent-eye',
    say: phrases(`
mancha|sombra|nube|velo|telon|persiana|cortina .. tapa|tapando|cubre|mitad|lado|baja|cae|sube|crece, mitad de la vista, media vista, falta la mitad, se me puso|quedo .. negro|oscuro|gris|borroso .. ojo|ojos|vista, todo negro, se me apago .. vista|ojo, se me fue .. vista|ojo, telon, visto .. destellos|luces, me entro .. ojo|ojos, se me metio .. ojo|ojos, tengo algo .. en el ojo, algo en el ojo, basura en el ojo, cayo .. en el ojo|los ojos, salpico .. ojo|ojos, lejia|cloro|acido|cemento|cal|chile .. ojo|ojos, ojo|ojos .. lejia|cloro|acido|cemento|chile, no puedo abrir .. ojo, no lo puedo abrir, golpe en el ojo, me pegaron|golpee .. ojo, la luz me lastima .. ojo, no soporto la luz, destellos, destello, relampagos, relampago, flashes, chispas .. ojo|ojos|vista, luces .. ojo|vista|esquina & !carros & !coches, luces que parpadean, rayos de luz, lucecitas, manchas|manchitas|puntos|puntitos|mosquitas|moscas|telaranas|telarana|hilos .. flotando|flotan|negras|negros|negra|ojo|vista, manchas negras, puntos negros, puntitos negros, moscas volantes, cortina .. ojo|negra|oscura|lado|vista|gris, como una cortina, cortina negra, sombra .. ojo|vista|lado|esquina, velo .. ojo|vista|negro, como un velo, perdi la vista|vision, perdi .. vista|vision, se me fue la vista, se me nublo la vista, se me nublo .. ojo, perdida de vision|vista, no veo nada .. ojo|derecho|izquierdo, no veo .. con|por|del ojo|derecho|izquierdo, no veo de un ojo, no puedo ver .. ojo, me quede ciego|ciega, quede ciego|ciega, ciego|ciega de, veo negro, {hoy} ... veo doble, veo doble ... {hoy}, {hoy} ... doble, doble ... {hoy}, {hoy} ... no veo, {hoy} ... borroso .. ojo, dolor .. ojo|ojos, duele .. ojo & !cabeza, duele el|un|mi ojo, duelen los ojos & mucho|fuerte, me duele .. ojo, ojo .. duele|arde|punza|pica, me arde .. ojo, ardor .. ojo, punzada .. ojo, ojo .. rojo|inflamado|hinchado|lloroso|infectado|irritado|pus|lagana, ojos .. rojos|hinchados|inflamados|infectados, rojo .. ojo, se me metio .. ojo|ojos, me entro .. ojo|ojos, me cayo .. ojo|ojos, me salpico .. ojo|ojos, algo en el ojo, basura en el ojo, cloro .. ojo|ojos, me pico .. ojo, me golpee .. ojo, golpe en el ojo, me pegue .. ojo, me molesta mucho la luz, pus
`),
    not: phrases(
      `si veo destellos, si me pasa, si tengo destellos, no tengo destellos, ni destellos, sin destellos, destellos ni, ni manchas, desprendimiento .. hace anos, mi hermana|hermano|vecina|vecino tuvo, ojo con, en un abrir y cerrar, a ojo, mal de ojo, cortina del bano, cortinas de la sala, gotas para el ojo`,
    ),
  },
  {
    label: 'fall-or-injury',
    say: phrases(
      `por poco atropello, por poco me, por poco le, por poco, casi atropello|atropelle|chocamos|choque|mato|pego|doy, me di un golpe|porrazo|trancazo|fregadazo, me di .. cabeza|cara|rodilla|frente .. con|contra|al, rode por, rodar por, me caigo, me fui de bruces|boca|cabeza|espaldas, me pegue .. cabeza|cara|frente|rodilla, me abri .. ceja|frente|cabeza, me hice dano, me hice una herida, moreton, moretones, puntos en la ceja|frente|cabeza, urgencias por|con, me llevaron al hospital, esguince, yeso, fractura, me lleve .. por delante, me sali de la carretera|carril, me meti en sentido, frenazo, frene a, me cai, cai en|de|por, me cai|caigo, me he caido, se cayo|cae en|de|por, mi mama se cayo, tropece, me tropece, me tropiezo, me resbale, resbale, caida, me lastime, me raspe, me corte, me golpee, me rompi, me fracture, me torci, choque, choque el|mi|con, casi choco, casi atropello, casi me caigo, casi me atropellan, casi le pego, por poco choco, accidente, sangre, sangrando, hospital & cai|golpe, se quebro .. ojo|cara, un vidrio`,
    ),
    not: phrases(
      `se cayo mi .. pero de, se cayo mi nieto, se cayo mi perro, se me cayeron, me cai bien, se cayo el sistema, se me caen, me caen, se caen, se me cae, me cae bien, cae de maravilla`,
    ),
  },
  {
    label: 'swim',
    say: phrases(
      `{surroundings} .. {move}, {move} .. {surroundings}, me mareo, mareo, mareos, mareado, mareada, marea, vertigo, todo me da vueltas, da vueltas, dan vueltas, como en barco|lancha, como borracho|borracha, {walk} ... {move}`,
    ),
    not: phrases(`mueve los lentes, sin mareo, sin mareos, mareo al leer`),
  },
  {
    label: 'distance-blur',
    say: phrases(
      `{far} .. {unclear}, {unclear} .. {far}, {far} {blur}, {far} ... {badsee}, {badsee} ... {far}, no .. {far}`,
    ),
    not: phrases(`no lejos, cerca y lejos, de lejos bien, de lejos veo bien, lejos bien, de lejos perfecto`),
  },
  {
    label: 'intermediate-blur',
    say: phrases(
      `cuentakilometros .. no|borroso, no .. cuentakilometros, ordenador borroso, pantalla borroso, {arm} .. {unclear}, {unclear} .. {arm}, {badsee} ... {arm}, {arm} ... {badsee}`,
    ),
  },
  {
    label: 'near-blur',
    say: phrases(
      `{near} .. {unclear}, {unclear} .. {near}, {badsee} ... {near}, {near} ... {badsee}, no puedo leer, no alcanzo a leer, no leo, lo tengo que alejar, tengo que alejar, alejar .. celular|libro|telefono|periodico, acercar mucho, tengo que acercar, alejarlo, estirar el brazo, lupa`,
    ),
    not: phrases(
      `de cerca bien, de cerca todo bien, de cerca perfecto, cerca bien, no puedo leer sus mensajes`,
    ),
  },
  {
    label: 'near-too-low',
    say: phrases(
      `levantar la barbilla|cabeza|menton, levanto la barbilla|cabeza|menton, subir la barbilla|cabeza|menton, alzar la barbilla|cabeza, alzo la barbilla|cabeza, echar la cabeza .. atras, echo la cabeza .. atras, cabeza hacia atras, cabeza para atras, inclinar la cabeza .. atras, subirme los lentes, subir los lentes, levantar los lentes, subo los lentes, levanto los lentes, lectura .. abajo|baja|bajo, parte de leer .. abajo|baja, zona de lectura .. abajo|baja, muy abajo`,
    ),
  },
  {
    label: 'near-too-high',
    say: phrases(
      `bajar la barbilla|cabeza|menton, bajo la barbilla|cabeza|menton, agachar la cabeza, agacho la cabeza, agachar .. para ver, bajarme los lentes, bajar los lentes, bajo los lentes, parte de leer .. arriba|alta|alto, lectura .. arriba|alta, por encima de los lentes`,
    ),
  },
  {
    label: 'narrow-field',
    say: phrases(
      `a los lados .. {unclear}, los lados .. {unclear}, lados {blur}, {blur} .. lados|orillas, orillas .. {blur}, solo .. centro, solo en medio, nomas en medio, mover .. cabeza para leer|ver, girar la cabeza para, voltear la cabeza para, muevo la cabeza para leer|ver, campo .. chico|reducido|estrecho|pequeno, por un tubo, como tunel, vision de tunel`,
    ),
  },
  {
    label: 'one-eye-off',
    say: phrases(
      `{oneEye} .. {unclear}, {oneEye} .. mal|peor|menos|mejor, {blur} .. {oneEye}, un ojo .. otro, tapo|cierro .. ojo, con un ojo`,
    ),
    notWith: phrases(`destellos, cortina, manchas, dolor, duele`),
  },
  {
    label: 'doubling',
    say: phrases(
      `veo doble, doble, dobles, veo dos, imagen doble, dos imagenes, fantasma, fantasmas, letras con sombra, sombra .. letras, dobles .. letras`,
    ),
    not: phrases(`doble turno, el doble de, doble clic`),
  },
  {
    label: 'depth-misjudged',
    say: phrases(
      `escalon|escalones|escaleras|escalera|banqueta|piso|suelo .. cerca|lejos|alto|bajo|altos|bajos|cercanos, no calculo|calcule|mido|medi, no calculo bien, calcular .. distancia|escalones|escalon, no calcule .. escalon, no se donde .. piso|escalon, piso mal, me salto .. escalon`,
    ),
    not: phrases(`de cerca, de lejos`),
  },
  {
    label: 'size-or-shape',
    say: phrases(
      `puertas|ventanas|lineas|paredes|cosas|muebles|mesas|mesa|puerta|pared .. torcidas|torcidos|torcida|curvas|inclinadas|inclinada|altas|chuecas|onduladas|deformadas, todo .. grande|pequeno|chico|alto|inclinado|torcido, ver? cosas .. grandes|chicas|pequenas|chuecas|torcidas|deformes|inclinadas, lineas .. curvas|chuecas|torcidas|onduladas, se ven|ve .. mas grande|grandes|chico|chicos|pequeno|curvo|curvas|inclinado|deforme|deformes|chueco|torcido, distorsionado, distorsiona, deforma, deformado, piso .. inclinado`,
    ),
  },
  {
    label: 'strain',
    say: phrases(
      `duele la cabeza, dolor de cabeza, dolores de cabeza, migrana, jaqueca, ojos cansados, se me cansan los ojos, cansan .. ojos|vista, vista cansada, cansancio .. ojos|vista, duele .. frente, me duelen los ojos, nauseas, asco, nausea, arden los ojos, ojos .. cansados|pesados`,
    ),
    not: phrases(`vista cansada me dijeron`),
  },
  {
    label: 'glare',
    say: phrases(
      `reflejo, reflejos, halo, halos, deslumbra, deslumbran, encandila, encandilan, luces .. rayos|halos|estrella|estrellas|destellos|picos, faros .. rayos|molestan|halos|estrella, brillo, brillos, rayos .. luces, luces de noche .. molestan`,
    ),
    not: phrases(`brillo en los ojos`),
  },
  {
    label: 'colour-fringes',
    say: phrases(
      `arcoiris, arco iris, orillas|bordes|contorno|borde .. color|colores|morado|azul|amarillo|morada, colores en los bordes|orillas, bordes de color|colores`,
    ),
  },
  {
    label: 'unclear-blur',
    say: phrases(
      `{blur}, no veo bien, no veo claro, veo mal, no se ve bien, vista nublada, no veo nada, no me sirven para ver, veo peor`,
    ),
    not: phrases(`de lejos bien, dia nublado, esta nublado, cielo nublado`),
  },
  {
    label: 'clear-in-car',
    say: phrases(
      `carro|coche|auto|camion|parabrisas|manejar|manejo|manejando|conducir ... no .. oscurecen|oscuros|oscurece|cambian|pintan, no .. oscurecen|cambian|oscurece|pintan|oscuros ... carro|coche|auto|parabrisas|manejar|manejo|manejando|conducir, carro|coche|auto .. claros`,
    ),
  },
  {
    label: 'weak-outdoors',
    say: phrases(
      `no .. oscurecen|oscuros|oscurece|pintan|oscuro ... sol|afuera|playa|calle, sol|afuera|playa ... no .. oscurecen|oscuros|oscurece|pintan|oscuro|suficiente, no .. suficientemente oscuros, muy claros .. sol|afuera, casi no .. oscurecen|oscuros|oscurece, poco oscuros, falta oscuros`,
    ),
    notWith: phrases(`carro|coche|auto|parabrisas & !sol`),
  },
  {
    label: 'slow-to-darken',
    say: phrases(
      `tardan|tarda|demoran|demora .. oscurecer|oscurecerse|oscuros|ponerse|cambiar|pintar, lentos .. oscurecer, minutos .. oscurecer|oscurecerse`,
    ),
  },
  {
    label: 'slow-to-clear',
    say: phrases(
      `tardan|tarda|demoran|demora .. aclarar|aclararse|aclaran|quitar|claros|volver, lentos .. aclarar, siguen oscuros, se quedan oscuros .. rato|minutos|entro|adentro|horas, minutos .. aclarar|aclararse`,
    ),
  },
  {
    label: 'tinted-indoors',
    say: phrases(
      `adentro|casa|interior|oficina .. oscuros|grises|tenidos|cafes|color|tinte|oscurecidos, se quedan .. grises|oscuros|cafes|tenidos, nunca .. claros|transparentes|aclaran, siempre .. oscuros|grises|tenidos|color|tinte, siempre tienen color`,
    ),
    notWith: phrases(`minutos`),
  },
  {
    label: 'mismatched-tint',
    say: phrases(
      `un lente|uno|lado|cristal .. oscuro|claro .. otro, uno mas oscuro|claro, no .. mismo color|tono, diferente color|tono|tinte, un lente .. mas oscuro`,
    ),
  },
  {
    label: 'slipping',
    say: phrases(
      `me quedan sueltos|flojos|anchos|enormes, quedan grandes, se escurren, se me escurren, bailan en la nariz, se me van para abajo, resbalan, resbala, se me resbalan, se me caen, se me cae, se caen, flojos, flojo, floja, sueltos, me quedan grandes, me quedan flojos, quedan grandes, se me bajan, se bajan, se deslizan, se me van .. nariz`,
    ),
    not: phrases(`se me caen las letras`),
  },
  {
    label: 'pressure',
    say: phrases(
      `hacen|hace dano .. {nose}, me hacen dano, hacen dano, me hace dano, hunden, molestan detras, apretan, me dejan marca|marcas, aprietan, aprieta, apretados, apretado, lastiman, lastima .. {nose}, me marcan, marcas .. {nose}, duele .. nariz|orejas|oreja|sienes, duelen .. nariz|orejas|oreja|sienes, molestan .. nariz|orejas, rozan, roza, clavan, se me clavan, me pesan, pesados, muy justos, dolor .. nariz|orejas|detras de`,
    ),
    not: phrases(`duele la cabeza`),
  },
  {
    label: 'crooked',
    say: phrases(
      `chuecos, chueco, torcidos, torcido, desnivelados, disparejos, disparejo, un lado mas alto, ladeados, ladeado, doblados, doblado, mas alto de un lado`,
    ),
    notWith: phrases(`lineas, cosas`),
  },
  {
    label: 'surface-flaw',
    say: phrases(
      `tienen|tiene|con|viene|vienen .. rayon|raya|rasguno|aranazo|aranados|aranado|marca|golpe|burbuja|desconchon, aranados, aranado, aranazo, rasguno, rasgunos, rasgunados, capa .. pelando|levantando|cae, se despinta, rayado, rayados, rayada, rayon, rayones, raspados, rayita, raya en, se pela, pelando, descarapelan, descarapelado, burbuja, burbujas, despostillado, mancha .. lente|lentes|cristal|mica|no se quita, no se quita la mancha`,
    ),
  },
  {
    label: 'broken',
    say: phrases(
      `se rompieron, se rompio, rotos, roto, se quebro, se quebraron, quebrados, se zafo, se zafaron, se salio .. tornillo|lente|cristal|mica, tornillo .. perdio|salio|cayo|falta, se cayo .. tornillo|mica|cristal|plaqueta, pata rota, patita rota`,
    ),
  },
  {
    label: 'wrong-item',
    say: phrases(
      `no es .. pedi|pedido|ordene|escogi|elegi|compre, no son .. pedi|pedidos|ordene|escogi|elegi|compre|mios, no es el que pedi, pedi .. llego|llegaron|mandaron|dieron|enviaron, equivocados, equivocado & !numero, color equivocado, me mandaron otro|otros|otra, no son mios, no son los mios`,
    ),
    not: phrases(`numero equivocado, se equivoco de numero`),
  },
  {
    label: 'settled',
    say: phrases(
      `= genial, = perfecto, = estupendo, = fenomenal, genial, ningun problema, estupendamente, veo estupendamente|genial|fenomenal|claro|clarito|nitido, veo de maravilla, como nuevo, que maravilla, todo en orden, todo correcto, todo perfecto, todo genial, no puedo quejarme, sin quejas, ninguna queja, no me los quito, ya ni los noto, van de maravilla|lujo|perlas, de lujo, de diez, = {bien}, todo {bien}, ^ {bien} $, veo {bien}, veo muy bien, estoy {bien}, muy contento|contenta|feliz|satisfecho|satisfecha, contento|contenta con, me encantan, me encanto, me gustan mucho, los amo, ya me acostumbre, me acostumbre, acostumbrado|acostumbrada, sin problema, sin problemas, ningun problema, no tengo problemas|problema, de maravilla, {bien} gracias, encantado|encantada, felices con, van {bien}, me quedan {bien}, son {bien}, estan {bien}, muy buenos, buenisimos, comodos, excelente, perfecto`,
    ),
    not: phrases(
      `me quedan grandes, me quedan sueltos, quedan flojos, no {bien}, no muy bien, no veo {bien}, no estoy {bien}, ojala, bien borroso, feliz navidad, feliz ano, feliz dia, feliz cumpleanos, buenos dias, esta bien si, no tan bien`,
    ),
    even: ['over'],
  },
  {
    label: 'getting-there',
    say: phrases(
      `cada dia .. mejor, un poquito mejor, poquito a poco, va a mejor, vamos mejorando, mejor pero, algo mejor, bastante mejor, todavia no del todo, aun no del todo, en ello estoy, dandome tiempo, cuesta pero voy, mejor que, cada dia mejor, voy mejorando, mejorando, va mejorando, poco a poco, acostumbrandome, me estoy acostumbrando, me voy acostumbrando, me acostumbro, ya casi, dandoles tiempo, dar tiempo, darles tiempo, dandole tiempo, un poco mejor, mas o menos, ahi la llevo, ahi vamos, ahi voy, todavia me estoy, un dia a la vez, mejoro, va mejor, ya mejor`,
    ),
    not: phrases(`veo mejor sin, mejor sin`),
    even: ['supposed', 'over', 'asked'],
  },
  {
    label: 'not-wearing',
    say: phrases(
      `no los uso, ya no los uso, no me los pongo, ya no me los pongo, deje de usarlos|usar, los deje de usar, uso los viejos, uso los de antes, ando con los viejos, con los viejos, volvi a los viejos|anteriores|de antes, regrese a los viejos|anteriores, guardados, en el cajon, no los estoy usando, prefiero los viejos|anteriores`,
    ),
    not: phrases(`con los viejos no, con los viejos veia`),
    even: ['over', 'denied'],
  },
  {
    label: 'not-arrived',
    say: phrases(
      `no llegan, no han llegado, no me han llegado, no me llegan, no llegaron, todavia no llegan|llegaron|los|me, aun no llegan|los|me|han, no los he recibido|recogido|abierto|probado|estrenado, no he recibido|recogido|abierto|probado, no me los he puesto|probado, no me los han entregado|dado, esperando .. lentes|paquete|envio, cuando llegan|llegaran, los recojo`,
    ),
    even: ['denied', 'asked', 'supposed'],
  },
  {
    label: 'wants-contact',
    say: phrases(
      `puedo conducir|manejar|usarlos|usar|lavarlos|limpiarlos|cambiar|ponerme|llevarlos|ir|pasar|dormir|nadar, se puede|pueden conducir|manejar|lavar|ajustar|limpiar, tienen abierto, abren|cierran el|los|a, a que hora abren|cierran, con que .. limpio|limpian|lavo, como .. limpio|limpian|lavo|uso, me gustaria hablar|que|saber|una, hablar con alguien|una|un|el|la|ustedes, cuanto tiempo .. tarda|tardo|acostumbro, cuando me .. acostumbrar, es normal, tengo que .. volver|ir|pasar & asked, donde .. llevo|dejo|envio, me podrian|pueden|podria .. llamar|decir|atender|ajustar|dar, pueden devolverme la llamada, devolverme la llamada, necesito una cita|cita|hablar|ver|que, quisiera, llamen, llamenme, llameme, me llame|llamen|llaman|marque|marquen, me puede|pueden llamar|marcar|hablar|ayudar|decir|atender, que me llame|llamen, quiero hablar, necesito hablar, hablar con alguien|una|un, quiero una cita, una cita, cita por favor, hacer cita, agendar, puedo ir|pasar|llevarlos, quisiera hablar|una|que|saber, me pueden ajustar|apretar|arreglar, los pueden ajustar|apretar|arreglar|revisar, que hago, que debo hacer, es normal, como los limpio, cuanto tarda|tiempo|cuesta, a que hora, tengo una pregunta, necesito ayuda, contactenme, comuniquense, pueden revisar`,
    ),
    not: phrases(`no me llamen, no llamen, no quiero una cita, quien me llama`),
    even: [...always],
  },
  {
    label: 'wants-money-back',
    say: phrases(
      `mi dinero, devuelvan .. dinero, devolver, devolverlos, devolucion, reembolso, reembolsen, reembolsar, regresar los lentes, regresarlos, quiero regresarlos, devuelvanme, me devuelvan, que me regresen, profeco, denuncia, demandar, mi banco, cancelar el pedido`,
    ),
    not: phrases(`no quiero devolver, no quiero mi dinero`),
    even: ['asked'],
  },
  {
    label: 'stop',
    say: phrases(`= para, = parar, = cancelar suscripcion, = cancelar mensajes, = borrar, = borrarme, = desuscribir, = desuscribirme, parar, que no me .. lleguen|manden|escriban|envien|molesten, no me lleguen, dejenme|dejeme|dejame tranquilo|tranquila|en|solo|sola, no quiero que me .. escriban|manden|envien|molesten|contacten|escriba|mande, no quiero mas|saber, no quiero .. esto|estos mensajes, no deseo|quiero seguir, no deseo|quiero .. recibir|recibiendo|mensajes|textos|esto, quiero que paren|dejen|pare|deje|cesen, que paren|dejen|cesen .. mensajes|escribir|mandar, paren ya, ya paren, ya dejen, dejen ya, cesen, no insistan, ya no escriban, cancelar suscripcion, cancelen .. suscripcion, no manden|envien|escriban|mande|escriba mas, ni un mensaje mas, sacarme de, sacame de|saquenme de, fuera de la lista, me doy de baja, quiero .. baja, no vuelvan a escribir|escribirme|mandar|contactarme|molestarme, = alto, = basta, = parar, = pare, = paren, = stop, = cancelar, = cancela, = cancelen, = baja, = darme de baja, = dar de baja, = fin, = no mas, = ya basta, = salir, = detener, = no quiero, = ya no, = terminar, = dejen de molestar, = ya no mas, = ya estuvo, = quitar, = eliminar, = suspender
no me manden|mande|escriban|escriba|envien|envie|contacten|contacte|textee|texteen|molesten|moleste, ya no .. manden|mande|escriban|escriba|envien|envie|contacten|molesten, ya no quiero .. mensajes|recibir|textos|correos, no quiero .. mensajes|recibir|textos|correos, no mas mensajes|textos|correos, dejen|deje de escribir|escribirme|mandar|mandarme|enviar|enviarme|molestar|molestarme|contactarme|textear, paren|pare de escribir|escribirme|mandar|mandarme|enviar|enviarme|molestar, dejenme en paz, deje me en paz, dejame en paz, en paz, darme de baja, denme de baja, dar de baja, deme de baja, quitenme|quiteme|saquenme|saqueme|borrenme|borreme|eliminenme, quiten|saquen|borren|eliminen .. numero|lista, borren mi numero, no me contacten, no me llamen ni, cancelar .. mensajes|suscripcion, cancelen .. mensajes, no me interesa, ya no deseo, no deseo recibir, basta de mensajes, basta ya, alto a los mensajes`).concat(
      spanishBereavement,
    ),
    not: phrases(
      `no dejen de escribir, no dejen de mandar, no paren, ya no me duele, ya no veo, ya no los uso, no quiero una cita`,
    ),
    even: [...always],
  },
  {
    label: 'resume',
    say: phrases(
      `= empezar, = comenzar, = reanudar, = iniciar, = start, = alta, reanudar, reanuden, vuelvan a mandar|mandarme|enviar|enviarme|escribir|escribirme, quiero .. mensajes .. otra vez|de nuevo|nuevamente, otra vez .. mensajes, de nuevo .. mensajes, mensajes de nuevo|otra, activen .. mensajes, puse alto por error, por error .. alto|baja|stop, darme de alta, denme de alta`,
    ),
    even: [...always],
  },
  {
    label: 'help',
    say: phrases(
      `esto que es, y esto que es, y ustedes quienes son, quienes son, de donde me escriben, de que empresa|tienda|negocio, quien me manda, que numero es, que es este numero|mensaje, quien envia, = ayuda, = info, = informacion, = help, quien es, quien eres, quienes son, quien habla, quien escribe, quien me escribe, quien manda, de quien es, de parte de quien, que es esto, de que se trata, no conozco .. numero, no reconozco .. numero, de donde son|es|me, es una estafa, son estafadores, es un robot, eres un robot, quien son ustedes, quienes son ustedes, quien es usted`,
    ),
    even: [...always],
  },
  {
    label: 'wrong-number',
    say: phrases(
      `numero equivocado, se equivoco de numero|persona, equivocado de numero, se equivocaron, esta equivocado, persona equivocada, no soy .., no soy, aqui no vive|hay|es, no conozco a, yo no uso lentes, no uso lentes, no es mi numero, este numero no es, este no es el numero`,
    ).filter((p) => !p.endsWith('..')),
    not: phrases(`no uso lentes viejos, no uso lentes para`),
    even: [...always],
  },
];
