export const twoPhones = {
  title: 'Dos teléfonos, un caso',
  lead: 'Dos dispositivos, cada uno con su propia memoria, como los llevan dos personas. {person} y todas las demás personas de aquí son inventadas. Nada sale de esta página y nada queda cuando se cierra.',
  phone: 'Teléfono de {name}, {role}',
  empty: 'Todavía no hay nada en este teléfono.',
  making: 'Se preparan dos teléfonos: uno crea un libro de casos, el otro recibe la invitación…',
  failed: 'No se pudieron preparar los dos teléfonos: {reason}',
  again: 'Empezar de nuevo',

  line: 'La línea entre los dos',
  cut: 'Cortada',
  cutHint: 'cada uno trabaja solo',
  slow: 'Lenta',
  slowHint: 'unos {size} por segundo',
  joined: 'Unida',
  joinedHint: 'tan rápida como puede',

  now: 'Qué hacer',
  nowMeasure:
    'La línea está cortada. Tome el ancho de caderas en los dos teléfonos, en «{part}»: {first} mm en uno, {second} mm en el otro. Con la primera medida la silla ya montada le queda bien; con la segunda es demasiado estrecha.',
  nowOther: 'Uno ha medido y el otro no lo sabe. Mida las caderas también en el otro teléfono.',
  nowJoin: 'Los dos han medido y ninguno sabe del otro. Únalos.',
  nowCrossing: 'Se están contando lo que hay de nuevo.',
  nowSettle:
    'Los dos valores están en los dos teléfonos. Abra allí «{part}»: quién midió qué, si importa y qué cambiaría con cada uno. Resuélvalo en uno de ellos.',
  nowSettled: 'Resuelto en uno, y el otro lo sabe: los dos calculan lo mismo. Corte la línea y pruebe lo que quiera.',
  nowJoined: 'Corte la línea y deje que cada uno trabaje solo.',

  same: 'Los dos tienen lo mismo: {count} anotaciones de este caso, con la marca {hash}.',
  apart: 'No tienen lo mismo: {first} anotaciones de este caso en uno, {second} en el otro.',
  carried:
    'Por la línea hasta ahora: {bytes} bytes en {frames} tramas. Pasaron {entries} anotaciones, entre ellas las del equipo y las sillas.',
} as const
