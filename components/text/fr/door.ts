export const door = {
  tagline: 'Chaque fauteuil prêt pour la personne qui s’y assoira, avec ou sans réseau.',
  tryPractice: 'Essayer la tournée d’exercice',
  tryPracticeHint:
    'Une vallée de personnes inventées, au troisième jour d’une tournée. Rien n’y est réel ; rien ne peut mal tourner.',
  found: 'Créer un registre',
  foundHint:
    'Pour votre propre équipe. Vous en êtes le premier membre ; les autres rejoindront votre téléphone plus tard.',
  joinLater: 'Votre équipe a déjà un registre ? Le rejoindre par deux codes arrive avec la prochaine version.',
  insecure:
    '{address} n’est pas une adresse sûre : ici le navigateur ne permet ni de sceller ni de signer, donc rien ne peut s’ouvrir, pas même l’exercice. Ouvrez l’application à son adresse https, ou sur l’ordinateur qui la sert, comme localhost.',
  lost:
    'Cet appareil avait un registre à l’adresse {address}, et le navigateur l’a effacé, ainsi que sa seconde copie. Ce que gardent les autres téléphones de l’équipe et les paquets est en sûreté. Pour le retrouver, demandez à un membre de l’équipe d’inviter de nouveau cet appareil, ou lisez un paquet. Fonder un registre ici en commence un vide.',
  nothingHere: 'Dans ce navigateur, rien n’est encore gardé à l’adresse {address}.',
  livesHere:
    'Le registre vivra dans ce navigateur, à l’adresse {address}. Un autre navigateur, ou une autre adresse, a sa propre réserve, et elle est vide : revenez toujours à celle-ci.',
  settingOut: 'Préparation de la tournée d’exercice…',
  settingOutPeople: '{done} personnes sur {all}',
  foundTitle: 'Créer un registre',
  crewName: 'Le nom de votre équipe',
  place: 'Où elle travaille',
  placeHint: 'En tête de chaque liste : une vallée, un district.',
  yourName: 'Votre nom',
  yourNameHint: 'Il figure à côté de tout ce que vous notez.',
  role: 'Vous êtes',
  technician: 'Technicien ou technicienne en fauteuils',
  therapist: 'Thérapeute',
  coordinator: 'Coordination',
  passphrase: 'Phrase secrète',
  passphraseAgain: 'La même encore une fois',
  passphraseHint: 'Six mots que vous seul mettriez ensemble. Elle scelle tout sur cet appareil.',
  passphraseLost: 'Personne ne peut la retrouver pour vous. Écrivez-la et gardez-la là où vous gardez l’argent.',
  passphraseStrong: 'Six mots ou plus : bien.',
  passphraseWeak:
    'Elle suffit contre quelqu’un qui trouve le téléphone. Six mots tiennent face à un voleur qui a du temps.',
  show: 'Montrer ce que je tape',
  notSame: 'Les deux phrases secrètes ne sont pas les mêmes. Tapez de nouveau la seconde.',
  missing: 'Il manque encore : {fields}.',
  foundNow: 'Le créer',
  founding: 'Scellement du registre…',
  founded: 'Le registre est créé.',
  again:
    'Le verrou est fait, le registre pas encore : cela a été interrompu. Rien n’est perdu. Donnez les noms encore une fois.',
  lockedTitle: 'Verrouillé',
  locked: 'Tout ce qui est enregistré est en sécurité et scellé.',
  lockedIdle:
    'Verrouillé parce que personne n’y a touché depuis un moment. Tout ce qui est enregistré est en sécurité et scellé ; ce qui était à moitié saisi revient.',
  unlock: 'Déverrouiller',
  unlocking: 'Déverrouillage…',
  passphraseEmpty: 'Tapez d’abord la phrase secrète.',
  practiceInstead: 'Ouvrir plutôt la tournée d’exercice',
  failedTitle: 'L’ouverture a échoué',
  tryAgain: 'Réessayer',
}
