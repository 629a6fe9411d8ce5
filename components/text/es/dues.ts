export const due = {
  review: 'Revisión de ajuste, piel, silla y destrezas',
  'skin-look': 'Mirar la piel',
  problem: 'Atender el problema',
  'unusable-chair': 'Hacer utilizable la silla, o prestar una',
  'found-wrong': 'Arreglar lo que se encontró en la visita',
  'technician-upkeep': 'Mantenimiento por personal técnico',
  tyre: 'Inflar los neumáticos',
  'cushion-review': 'Revisar el cojín',
  'cushion-life': 'Cambiar el cojín',
  growth: 'Medir el crecimiento: la silla se queda pequeña',
  'temporary-chair': 'Fin de la silla provisional',
  'cannot-issue': 'Decidir de nuevo si se puede entregar una silla',
}
