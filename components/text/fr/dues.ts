export const due = {
  review: 'Revue : ajustement, peau, fauteuil, savoir-faire',
  'skin-look': 'Regarder la peau',
  problem: 'S’occuper du problème',
  'unusable-chair': 'Rendre le fauteuil utilisable, ou en prêter un',
  'found-wrong': 'Réparer ce que la visite a trouvé',
  'technician-upkeep': 'Entretien technique',
  tyre: 'Gonfler les pneus',
  'cushion-review': 'Regarder le coussin',
  'cushion-life': 'Remplacer le coussin',
  growth: 'Mesurer la croissance : le fauteuil devient trop petit',
  'temporary-chair': 'Fin du fauteuil provisoire',
  'cannot-issue': 'Décider de nouveau si un fauteuil peut être remis',
}
