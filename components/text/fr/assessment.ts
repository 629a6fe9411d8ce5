export const ask = {
  who: 'Qui est-ce ?',
  where: 'Comment trouver et joindre cette personne ?',
  how: 'Comment est-elle arrivée jusqu’à nous ?',
  agreement: 'Que lui a-t-on expliqué, et qu’a-t-elle accepté ?',
  goals: 'Que veut-elle faire ?',
  sitting: 'Comment est-elle assise ?',
  flags: 'Faut-il d’abord l’avis d’un service de santé ?',
  skin: 'La peau est-elle à risque ?',
  moving: 'Comment fait-elle avancer le fauteuil ?',
  home: 'Où le fauteuil doit-il passer ?',
  transfers: 'Comment s’installe-t-elle et descend-elle ?',
  loads: 'Que transporte-t-elle ?',
  limbs: 'Lui manque-t-il un membre ?',
}

export const askHint = {
  agreement: 'Dites qui verra ce dossier : l’équipe. La personne peut refuser et être aidée quand même.',
  flags: 'Chaque oui retient la remise jusqu’à ce que ce soit réglé.',
  skin: 'Un oui demande un coussin qui soulage la pression et un suivi plus tôt.',
  home: 'La pente la plus forte et la porte la plus étroite décident quel fauteuil est utilisable.',
  loads: 'Ce qui pend aux poignées fait basculer le fauteuil en arrière.',
}
