/** What stands on more than one of the wearer's pages, in both languages. Plain words, no powers, no measures. */
export const COMMON = {
  en: {
    ring: 'Ring us',
    other: 'Español',
    invented: 'Invented shop: nothing here is real.',
    danger:
      'New flashes, many new specks, a curtain or shadow, sudden loss of sight or double sight, a painful red eye: do not wait for us. Have it looked at today by an eye doctor, an optometrist or an emergency department, and do not drive yourself.',
    'first-multifocals': 'How to use your new lenses',
    'light-reactive': 'Lenses that go dark outside',
    stop: 'No more messages',
    send: 'Send',
    tooOften: 'That was a lot in a short time, and the last was not kept. Please ring us.',
    notMeasure: 'Right and left: a number of millimetres each, from 8 to 45. Measure again, please.',
    noWords: 'Nothing was written. Tap an answer, or write a few words.',
    notPicture: 'We could not take that picture. Send a photo of up to 8 MB, or ring us.',
  },
  es: {
    ring: 'Llámenos',
    other: 'English',
    invented: 'Tienda inventada: nada de esto es real.',
    danger:
      'Destellos nuevos, muchas manchas nuevas, una cortina o sombra, pérdida súbita de la vista o visión doble súbita, un ojo rojo que duele: no nos espere. Haga que lo miren hoy un oftalmólogo, un optometrista o urgencias, y no conduzca usted.',
    'first-multifocals': 'Cómo usar sus lentes nuevos',
    'light-reactive': 'Lentes que se oscurecen afuera',
    stop: 'No más mensajes',
    send: 'Enviar',
    tooOften: 'Ha enviado mucho en poco tiempo y lo último no se guardó. Llámenos, por favor.',
    notMeasure: 'Derecho e izquierdo: un número de milímetros cada uno, de 8 a 45. Mida otra vez, por favor.',
    noWords: 'No escribió nada. Toque una respuesta o escriba unas palabras.',
    notPicture: 'No pudimos recibir esa foto. Envíe una de hasta 8 MB, o llámenos.',
  },
} as const;
