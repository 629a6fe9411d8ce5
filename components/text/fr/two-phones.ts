export const twoPhones = {
  title: 'Deux téléphones, un dossier',
  lead: 'Deux appareils, chacun avec sa propre mémoire, comme deux personnes les tiennent. {person} et toutes les autres personnes ici sont inventées. Rien ne quitte cette page, et rien ne reste quand elle est fermée.',
  phone: 'Téléphone de {name}, {role}',
  empty: 'Encore rien sur ce téléphone.',
  making: 'Deux téléphones se préparent : l’un crée un registre, l’autre est invité…',
  failed: 'Les deux téléphones n’ont pas pu être préparés : {reason}',
  again: 'Recommencer',

  line: 'La liaison entre les deux',
  cut: 'Coupée',
  cutHint: 'chacun travaille seul',
  slow: 'Lente',
  slowHint: 'environ {size} par seconde',
  joined: 'Établie',
  joinedHint: 'aussi vite que possible',

  now: 'Que faire',
  nowMeasure:
    'La liaison est coupée. Prenez la largeur des hanches sur les deux téléphones, sous « {part} » : {first} mm sur l’un, {second} mm sur l’autre. Avec la première mesure, le fauteuil monté convient ; avec la seconde, il est trop étroit.',
  nowOther: 'L’un a mesuré, et l’autre ne le sait pas. Mesurez les hanches sur l’autre téléphone aussi.',
  nowJoin: 'Les deux ont mesuré, et aucun ne sait rien de l’autre. Reliez-les.',
  nowCrossing: 'Ils se disent ce qu’il y a de nouveau.',
  nowSettle:
    'Les deux valeurs sont sur les deux téléphones. Ouvrez-y « {part} » : qui a mesuré quoi, si cela compte, et ce que chacune changerait. Tranchez sur l’un d’eux.',
  nowSettled:
    'Tranché sur l’un, et l’autre le sait : les deux calculent la même chose. Coupez la liaison et essayez ce que vous voulez.',
  nowJoined: 'Coupez la liaison et laissez chacun travailler seul.',

  same: 'Les deux ont la même chose : {count} entrées de ce dossier, avec la marque {hash}.',
  apart: 'Ils n’ont pas la même chose : {first} entrées de ce dossier sur l’un, {second} sur l’autre.',
  carried:
    'Par la liaison jusqu’ici : {bytes} octets en {frames} trames. {entries} entrées ont été reprises, y compris celles de l’équipe et des fauteuils.',
} as const
