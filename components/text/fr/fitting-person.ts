export const fitting = {
  resultNoChair: 'Choisissez et préparez d’abord le fauteuil.',
  resultNone: 'Pas encore essayé avec la personne.',
  resultOk: 'Taille, posture, pression et roulage en ordre.',
  resultProblem: 'Problème avec {parts}.',
  resultLeft: 'Reste à regarder : {parts}.',
  nothing: 'L’essayage demande le fauteuil choisi. Choisissez-le d’abord.',
  lead: 'Avec la personne dans le fauteuil, dans cet ordre : taille, posture, pression, puis en roulant.',
  size: 'Taille',
  sizeHint:
    'Une main à plat passe à côté de chaque hanche ; deux doigts derrière le genou ; le pied repose en entier sur sa palette ; le bras pend au-dessus de la roue.',
  posture: 'Posture',
  postureHint:
    'Bassin de niveau et au fond de l’assise, tronc droit sans se tenir, tête libre. Regardez de côté et de face.',
  pressure: 'Pression, à la main',
  pressureShort: 'Pression',
  pressureHint:
    'Paume vers le haut entre le coussin et chaque ischion. Égale : les doigts bougent. Ferme : ils bougent à peine. Pincée : ils ne bougent pas. Puis sans le coussin, pour savoir ce qu’il fait.',
  withCushion: 'Sur le coussin',
  withoutCushion: 'Sans le coussin, pour comparer',
  moving: 'En roulant',
  movingHint:
    'À l’intérieur et sur son propre sol, avec quelqu’un derrière : pousse, tourne, freine, se penche. Puis regardez de nouveau taille et posture.',
  strapHint: 'Seulement si une sangle est posée. La personne assise, ou celle qui est à côté, doit pouvoir l’ouvrir.',
  skinHint:
    'Sous les ischions, le coccyx, les talons, les coudes. Une rougeur qui part en une demi-heure se surveille ; si elle reste, hors du fauteuil.',
  scales: 'Centre de masse, avec deux balances',
  scalesHint:
    'Fauteuil de niveau, freins desserrés, la personne immobile comme d’habitude. Une planche avec balance sous les deux roues arrière, une sous les deux roulettes, à la même hauteur. Lisez les deux.',
  centre: 'Centre de masse devant l’axe',
  centreMeasured: 'mesuré ; le modèle disait {model}, {gap} d’écart',
  centreDoubt:
    'C’est plus que ne permet l’erreur du modèle, {error}. Le fauteuil est-il réglé comme sur la fiche ? Le poids, les charges, la position assise ?',
  centreAgrees: 'Dans l’erreur du modèle. Désormais c’est la mesure qui compte.',
  axleSetSince: 'L’axe a été réglé après la lecture des balances : relisez-les, la place de l’axe compte.',
  centreModel: 'd’après le modèle ; deux balances le mesureraient',
  adjust: 'Ajuster',
  adjustHint:
    'Déplacez un réglage et voyez ce qui suit. Ce qui en dépend est redemandé : préparation, contrôles, essayage.',
  reopened: 'Redemandé depuis que le fauteuil a été ajusté',
  reopenedLine: '{why} À contrôler de nouveau : {checks}.',
  toChecks: 'Aux contrôles',
  pinnedSaved: 'Gardé. La fiche de montage et les contrôles disent ce qui en découle.',
  save: 'Enregistrer l’essayage',
}

export const training = {
  resultNone: 'Pas encore d’apprentissage.',
  resultAll: 'Les six points montrés par la personne.',
  resultSome: '{count} sur {total} montrés',
  resultCaregiver: '{count} sur {total} montrés ; personne aidante : {name}',
  lead: 'Coché quand cela a été montré, pas quand cela a été dit. La personne aidante peut aussi le montrer.',
  shown: 'Montré le {date}',
  notShown: 'pas encore montré',
  told: 'Seulement dit jusqu’ici',
  troubleHint: 'La première visite vient alors plus tôt.',
  'how trainedTransfers': 'S’installer et descendre : lit, sol, latrines, véhicule. Freins d’abord.',
  'how trainedHandlingChair': 'Plie, ouvre, soulève, ôte et remet roues et coussin.',
  'how trainedMobility':
    'Pousse, tourne, freine ; pentes en montée et en descente, un trottoir, un sol difficile ; sait ce qui fait basculer.',
  'how trainedStayingHealthy':
    'Soulage la peau, la regarde chaque jour, sait à quoi ressemble une escarre et que faire alors.',
  'how trainedCareOfChair': 'Gonfle, nettoie, huile, resserre ; le coussin dans le bon sens.',
  'how trainedWhomToContact': 'Dit qui appeler, et quand : peau abîmée, roue lâche, freins qui glissent.',
}
