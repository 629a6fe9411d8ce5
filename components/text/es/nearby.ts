export const nearby = {
  looking: 'Viendo qué hay aquí…',

  allElsewhere: 'Todo lo anotado en este dispositivo está también en otro del equipo.',
  onlyHere: {
    one: '{count} anotación hecha aquí no está aún en ningún otro dispositivo.',
    other: '{count} anotaciones hechas aquí no están aún en ningún otro dispositivo.',
  },
  onlyHerePeople: {
    one: '{entries} Se refiere a {count} persona.',
    other: '{entries} Se refieren a {count} personas.',
  },
  onlyHereDo: 'Si este dispositivo se pierde, se pierden. Encuentre a alguien o entregue un paquete.',

  hereTitle: 'Ahora aquí',
  nobody: 'No hay ningún otro dispositivo conectado.',
  since: 'Conectado desde las {time}',
  onlyThere: {
    one: '{count} caso de allí no está aún aquí.',
    other: '{count} casos de allí no están aún aquí.',
  },
  onlyHereCases: {
    one: '{count} caso de aquí no está aún allí.',
    other: '{count} casos de aquí no están aún allí.',
  },
  hasOpen: '{who} tiene abierto este caso',
  hasOpenAt: '{who} tiene abierto este caso · {part}',
  hasOpenNamed: 'Tiene abierto el caso de {name}',
  atField: '{who} está rellenando esto ahora mismo.',

  beginTitle: 'Encontrar a alguien',
  bundleHint: 'Todo en un archivo sellado, por el medio que sea',
  hub: 'Por un puesto de encuentro',
  hubHint: 'Todos los del equipo que estén en el mismo puesto de encuentro, a la vez',
  hubWhat:
    'El puesto de encuentro en {host} solo presenta los dispositivos entre sí: no ve lo que se intercambia ni quién es nadie.',
  hubJoin: 'Unirse al puesto de encuentro en {host}',
  hubJoining: 'Buscando el puesto de encuentro en {host}…',
  hubJoined: 'En el puesto de encuentro {host}. A quien llegue allí del equipo se le encuentra sin hacer nada más.',
  hubElsewhere: 'Otra ventana de este navegador está en el puesto de encuentro. Lo que llegue allí se ve también aquí.',
  hubFailed: 'No fue posible unirse al puesto de encuentro. {reason}',
  hubLeave: 'Dejar el puesto de encuentro',

  crewTitle: 'Último encuentro',
  crewNobody: 'Aún no hay nadie más en el equipo. Deje entrar a alguien con dos códigos.',
  lastMet: {
    one: '{when}, los dos tenían lo mismo: {count} caso',
    other: '{when}, los dos tenían lo mismo: {count} casos',
  },
  neverMet: 'Este dispositivo aún no lo ha encontrado',
  struck: 'Dado de baja',
} as const
