import type { Words } from '../types.ts';

export const heard: Words['heard'] = {
  settled: 'qué bien, gracias. No tiene que hacer nada. Si algo cambia, escriba.',
  'getting-there': 'gracias, va por buen camino. Úselos todo el día. Le preguntaremos otra vez.',
  'trouble-look': 'gracias por contarlo. Una persona de aquí lo mira y le responde.',
  'trouble-question': 'gracias por contarlo. Ahora va una pregunta corta.',
  'not-arrived': 'gracias. Vamos a ver dónde están. No le preguntamos más hasta que los tenga.',
  'not-wearing': 'gracias por contarlo. Una persona de aquí le llama o escribe para ver qué hacer.',
  'wants-contact': 'gracias. Una persona de aquí le llama en horas de tienda.',
  'wants-money-back': 'gracias por contarlo. Una persona de aquí le contacta por esto.',
  'got-it': 'gracias, tenemos su mensaje. Una persona de aquí lo lee.',
};

/* The same advice as in English; the sources stand there. */
export const advice: Words['advice'] = {
  'windscreen-uv':
    'el parabrisas frena casi toda la luz que los oscurece; en el auto quedan claros. Lleve ahí lentes de sol.',
  'hot-weather-limit':
    'con calor se oscurecen menos que en un día frío y claro. Con sol fuerte use lentes de sol.',
  'low-uv-light':
    'necesitan sol abierto para oscurecerse. A la sombra o por la tarde quedan más claros. Si al sol no mejoran, escriba.',
  'normal-fade-time':
    'se aclaran más despacio que se oscurecen; unos minutos es normal. Espere a que aclaren antes de conducir de noche.',
  'cold-slow-clear':
    'tras el frío tardan mucho más en aclararse. Espere unos minutos en un lugar cálido y antes de conducir de noche.',
  'stray-uv-indoors':
    'junto a una ventana la luz del día los tiñe un poco. Pruebe un asiento más lejos. Si sigue igual, escriba.',
  'residual-base-tint': 'un tono leve en casa es normal. Si crece, o un lado es más oscuro, escriba.',
  'early-adaptation':
    'es común en las dos primeras semanas. Úselos todo el día y deje los viejos. Si va a peor, escriba enseguida.',
  'viewing-habit':
    'apunte la nariz a lo que quiere ver. Gire la cabeza, no solo los ojos. Pruebe unos días y cuéntenos.',
  'lower-zone-on-steps':
    'en la escalera baje la barbilla, mire por arriba y vaya con la mano en el pasamanos. Si da un mal paso, escriba ya.',
  'switching-pairs': 'cada vuelta a los viejos lo alarga. Pruebe un día entero con los nuevos y cuéntenos.',
  'expectation-gap':
    'los lados son menos claros que el centro. Gire la cabeza hacia lo que mira. Si no ayuda, escriba.',
  'needs-task-pair':
    'ponga el borde de la pantalla a la altura de los ojos o más abajo. Si aún le cuesta, escriba.',
  'dirty-or-smeared':
    'lave con agua tibia y una gota de jabón suave, y seque con un paño limpio. Si sigue, escriba.',
};

export const kept: Words['kept'] = {
  'car-tint':
    'el parabrisas frena casi toda la luz que los oscurece; en el auto quedan claros. Pruebe lentes de sol, ¿o prefiere que le llamemos?',
  'how-long':
    'casi todos se adaptan en dos semanas; algunos, en un mes. Úselos todo el día, ¿o prefiere que le llamemos?',
  driving:
    'no conduzca hasta ver bien el camino, los espejos y el tablero. Pruebe con el auto parado, ¿o prefiere que le llamemos?',
  stairs: 'baje la barbilla, mire por arriba y agarre el pasamanos. Pruebe así, ¿o prefiere que le llamemos?',
  screen:
    'ponga el borde de la pantalla a la altura de los ojos o más abajo. Pruebe así, ¿o prefiere que le llamemos?',
  cleaning: 'agua tibia, una gota de jabón suave y un paño limpio. Pruebe así, ¿o prefiere que le llamemos?',
  'old-pair':
    'guarde los viejos de repuesto, pero por ahora no los use. Pruebe así, ¿o prefiere que le llamemos?',
  returns: undefined,
  papers: undefined,
  'order-status': undefined,
};
