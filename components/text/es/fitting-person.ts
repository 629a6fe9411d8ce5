export const fitting = {
  resultNoChair: 'Elija y prepare primero la silla.',
  resultNone: 'Todavía sin ajustar con la persona.',
  resultOk: 'Talla, postura, presión y movimiento en orden.',
  resultProblem: 'Problema con {parts}.',
  resultLeft: 'Falta mirar: {parts}.',
  nothing: 'Para el ajuste hace falta la silla elegida. Elíjala primero.',
  lead: 'Con la persona en la silla, en este orden: talla, postura, presión y después en movimiento.',
  size: 'Talla',
  sizeHint:
    'Cabe una mano plana a cada lado de la cadera; dos dedos detrás de la rodilla; el pie apoya entero; el brazo cuelga sobre la rueda.',
  posture: 'Postura',
  postureHint:
    'Pelvis nivelada y al fondo del asiento, tronco erguido sin sujetarse, cabeza libre. Mire de lado y de frente.',
  pressure: 'Presión, con la mano',
  pressureShort: 'Presión',
  pressureHint:
    'Palma hacia arriba entre el cojín y cada isquion. Pareja: los dedos se mueven. Firme: apenas se mueven. Aprisionada: no se mueven. Después sin el cojín, para saber qué hace.',
  withCushion: 'Sobre el cojín',
  withoutCushion: 'Sin el cojín, para comparar',
  moving: 'En movimiento',
  movingHint:
    'Dentro de casa y en su propio terreno, con alguien detrás: empuja, gira, frena, se inclina. Después mire otra vez talla y postura.',
  strapHint: 'Solo si lleva correa. Quien va en la silla, o quien está a su lado, debe poder abrirla.',
  skinHint:
    'Bajo los isquiones, el hueso de la cola, talones, codos. Lo rojo que se va en media hora se vigila; si se queda, fuera de la silla.',
  scales: 'Centro de masa, con dos básculas',
  scalesHint:
    'Silla nivelada, frenos sueltos, la persona quieta como de costumbre. Una tabla con báscula bajo las dos ruedas traseras, otra bajo las delanteras, a la misma altura. Lea las dos.',
  centre: 'Centro de masa por delante del eje',
  centreMeasured: 'medido; el modelo decía {model}, {gap} de diferencia',
  centreDoubt:
    'Es más de lo que admite el error del modelo, {error}. ¿La silla está como dice la hoja? ¿El peso, la carga, la forma de sentarse?',
  centreAgrees: 'Dentro del error del modelo. Desde ahora vale el medido.',
  axleSetSince: 'El eje se movió después de leer las básculas: léalas otra vez, el lugar del eje cuenta.',
  centreModel: 'según el modelo; dos básculas lo medirían',
  adjust: 'Ajustar',
  adjustHint:
    'Mueva un ajuste y vea qué se sigue. Lo que depende de él se pide de nuevo: preparación, comprobaciones, ajuste.',
  reopened: 'Pedido de nuevo desde que se ajustó la silla',
  reopenedLine: '{why} Comprobar de nuevo: {checks}.',
  toChecks: 'A las comprobaciones',
  pinnedSaved: 'Guardado. La hoja de montaje y las comprobaciones dicen qué se sigue.',
  save: 'Guardar el ajuste',
}

export const training = {
  resultNone: 'Todavía sin entrenar.',
  resultAll: 'La persona mostró las seis.',
  resultSome: '{count} de {total} mostradas',
  resultCaregiver: '{count} de {total} mostradas; cuida {name}',
  lead: 'Se marca cuando lo han mostrado, no cuando se les contó. También puede mostrarlo quien cuida.',
  shown: 'Mostrado el {date}',
  notShown: 'todavía no mostrado',
  told: 'Solo contado hasta ahora',
  troubleHint: 'Entonces la primera visita llega antes.',
  'how trainedTransfers': 'Subir y bajar de la silla: cama, suelo, letrina, vehículo. Antes, los frenos puestos.',
  'how trainedHandlingChair': 'Pliega, abre, levanta, quita y pone ruedas y cojín.',
  'how trainedMobility':
    'Empuja, gira, frena; pendientes arriba y abajo, un bordillo, terreno malo; sabe qué vuelca la silla.',
  'how trainedStayingHealthy':
    'Alivia el peso sobre la piel, mira la piel cada día, sabe cómo es una herida por presión y qué hacer.',
  'how trainedCareOfChair': 'Infla, limpia, engrasa, aprieta; el cojín en su posición.',
  'how trainedWhomToContact': 'Dice a quién llamar y cuándo: piel dañada, rueda floja, frenos que resbalan.',
}
