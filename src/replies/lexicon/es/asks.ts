import type { AskPhrases } from '../labelPhrases.ts';
import { phrases } from '../phrases.ts';

/** Lo que siempre se pregunta. */
export const spanishAsks: readonly AskPhrases[] = [
  {
    ask: 'car-tint',
    say: phrases(`carro|coche|auto|parabrisas|manejar ... oscurecen|oscuros|oscurecer|pintan`),
  },
  {
    ask: 'how-long',
    say: phrases(
      `cuanto tiempo|tarda|tardan|tardo|dura, cuantos dias|semanas, es normal, se me va a quitar, se quita, cuando me acostumbro|acostumbrare`,
    ),
  },
  { ask: 'driving', say: phrases(`manejar|conducir|manejo|conduzco`) },
  { ask: 'stairs', say: phrases(`escaleras|escalera|escalon|escalones|banqueta`) },
  { ask: 'screen', say: phrases(`computadora|pantalla|monitor|ordenador|laptop`) },
  { ask: 'cleaning', say: phrases(`limpiar|limpio|limpiarlos|lavar|lavarlos|jabon|panito|trapo`) },
  { ask: 'old-pair', say: phrases(`los viejos|anteriores|de antes, lentes viejos|anteriores`) },
  {
    ask: 'returns',
    say: phrases(`devolver|devolverlos|devolucion|regresar|regresarlos|reembolso|cambiarlos|garantia`),
  },
  { ask: 'papers', say: phrases(`factura|recibo|seguro|receta|comprobante`) },
  {
    ask: 'order-status',
    say: phrases(
      `cuando llegan|llegaran|estan|los recojo, donde estan, ya estan, ya llegaron, rastreo, pedido`,
    ),
  },
];

export const spanishAskingWords = phrases(`
^ que|cuando|donde|quien|como|cual|cuanto|cuantos|cuantas, ^ por que, ^ puedo|puede|pueden|podria|podrian|me puede|pueden, ^ es|son normal, ^ hay, ^ debo, quisiera saber, quiero saber, me puede|pueden decir
`);
