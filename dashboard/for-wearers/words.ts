/** What stands on more than one of the wearer's pages, in both languages. Plain words, no powers, no measures. */
export const COMMON = {
  en: {
    ring: 'Ring us',
    other: 'Español',
    invented: 'Invented shop: nothing here is real.',
    danger:
      'New flashes, many new specks, a curtain or shadow, sudden loss of sight or double sight, a painful red eye: do not wait for us. Have it looked at today by an eye doctor, an optometrist or an emergency department, and do not drive yourself.',
    answer: 'Tell us how they are',
    multifocals: 'How to use your new lenses',
    lightReactive: 'Lenses that go dark outside',
    stop: 'No more messages',
    send: 'Send',
  },
  es: {
    ring: 'Llámenos',
    other: 'English',
    invented: 'Tienda inventada: nada de esto es real.',
    danger:
      'Destellos nuevos, muchas manchas nuevas, una cortina o sombra, pérdida súbita de la vista o visión doble súbita, un ojo rojo que duele: no nos espere. Haga que lo miren hoy un oftalmólogo, un optometrista o urgencias, y no conduzca usted.',
    answer: 'Díganos cómo le va',
    multifocals: 'Cómo usar sus lentes nuevos',
    lightReactive: 'Lentes que se oscurecen afuera',
    stop: 'No más mensajes',
    send: 'Enviar',
  },
} as const;
