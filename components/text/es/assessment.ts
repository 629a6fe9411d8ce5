export const ask = {
  who: '¿Quién es?',
  where: '¿Cómo se le encuentra y se le avisa?',
  how: '¿Cómo llegó a nosotros?',
  agreement: '¿Qué se le explicó y qué aceptó?',
  goals: '¿Qué quiere hacer?',
  sitting: '¿Cómo se sienta?',
  flags: '¿Debe verle antes personal de salud?',
  skin: '¿Está en riesgo la piel?',
  moving: '¿Cómo mueve la silla?',
  home: '¿Por dónde tiene que pasar la silla?',
  transfers: '¿Cómo se sube y se baja?',
  loads: '¿Qué lleva consigo?',
  limbs: '¿Le falta una extremidad?',
}

export const askHint = {
  agreement: 'Diga quién verá este registro: el equipo. Puede decir que no y recibir ayuda igualmente.',
  flags: 'Cada sí detiene la entrega hasta que se resuelva.',
  skin: 'Un sí pide un cojín que alivie la presión y un seguimiento más temprano.',
  home: 'La pendiente más fuerte y la puerta más estrecha deciden qué silla se puede usar.',
  loads: 'Lo que cuelga de los mangos vuelca la silla hacia atrás.',
}
