export const nearby = {
  looking: 'On regarde ce qu’il y a ici…',

  allElsewhere: 'Tout ce qui a été noté sur cet appareil se trouve aussi sur un autre de l’équipe.',
  onlyHere: {
    one: '{count} note écrite ici n’est encore sur aucun autre appareil.',
    other: '{count} notes écrites ici ne sont encore sur aucun autre appareil.',
  },
  onlyHerePeople: {
    one: '{entries} Il s’agit de {count} personne.',
    other: '{entries} Il s’agit de {count} personnes.',
  },
  onlyHereDo: 'Si cet appareil est perdu, elles le sont aussi. Rencontrez quelqu’un ou transmettez un paquet.',

  hereTitle: 'Ici en ce moment',
  nobody: 'Aucun autre appareil n’est relié.',
  since: 'Relié depuis {time}',
  onlyThere: {
    one: '{count} cas de là-bas n’est pas encore ici.',
    other: '{count} cas de là-bas ne sont pas encore ici.',
  },
  onlyHereCases: {
    one: '{count} cas d’ici n’est pas encore là-bas.',
    other: '{count} cas d’ici ne sont pas encore là-bas.',
  },
  hasOpen: '{who} a ouvert ce cas',
  hasOpenAt: '{who} a ouvert ce cas · {part}',
  hasOpenNamed: 'A ouvert le cas de {name}',
  atField: '{who} est en train de remplir ceci.',

  beginTitle: 'Rencontrer quelqu’un',
  bundleHint: 'Tout en un seul fichier scellé, par n’importe quel moyen',
  hub: 'Par un poste de rencontre',
  hubHint: 'Tous ceux de l’équipe qui sont au même poste de rencontre, d’un seul coup',
  hubWhat:
    'Le poste de rencontre à {host} ne fait que présenter les appareils les uns aux autres : il ne voit ni ce qui s’échange, ni qui est qui.',
  hubJoin: 'Rejoindre le poste de rencontre à {host}',
  hubJoining: 'On cherche le poste de rencontre à {host}…',
  hubJoined: 'Au poste de rencontre {host}. Quiconque de l’équipe y vient est rencontré sans rien faire de plus.',
  hubElsewhere: 'Une autre fenêtre de ce navigateur est au poste de rencontre. Ce qui y arrive se voit ici aussi.',
  hubFailed: 'Le poste de rencontre n’a pas pu être rejoint. {reason}',
  hubLeave: 'Quitter le poste de rencontre',

  crewTitle: 'Dernière rencontre',
  crewNobody: 'Il n’y a encore personne d’autre dans l’équipe. Faites entrer quelqu’un par deux codes.',
  lastMet: {
    one: '{when}, les deux avaient la même chose : {count} cas',
    other: '{when}, les deux avaient la même chose : {count} cas',
  },
  neverMet: 'Pas encore rencontré par cet appareil',
  struck: 'Rayé',
} as const
