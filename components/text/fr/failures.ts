export const failure = {
  'storage-full':
    'Il n’y a plus de place sur cet appareil. Tout ce qui a été enregistré avant est en sécurité. Libérez de la place, ou écrivez un paquet, puis enregistrez de nouveau.',
  'storage-failed':
    'La réserve de cet appareil n’a pas pris ce qui a été écrit. Tout ce qui a été enregistré avant est en sécurité. Réessayez ; si cela échoue encore, fermez l’application et ouvrez-la de nouveau.',
  'storage-unreadable':
    'La réserve de cet appareil ne peut pas être lue. Rien n’a été changé. Fermez l’application et ouvrez-la de nouveau.',
  'storage-unavailable':
    'Ce navigateur ne laisse pas l’application garder quoi que ce soit ici. Rien n’a été changé. Quittez la navigation privée, ou permettez à cette page de garder des données, puis rouvrez l’application.',
  'newer-store':
    'Une version plus récente de l’application a enregistré ici. Rien n’a été changé ni effacé. Fermez l’application, rouvrez-la avec du réseau, et elle sera à jour.',
  'catalogue-rebuilt':
    'Le catalogue de fauteuils de cet appareil était abîmé ; il a été refait avec ce qui pouvait être lu. Les cas sont en sécurité. Rencontrez quelqu’un de l’équipe ou lisez un paquet pour le ravoir en entier.',
  'catalogue-altered':
    'Quelque chose d’autre que cette application a changé le catalogue de fauteuils de cet appareil. Ce qui a été changé est écarté. Les cas sont en sécurité. Rencontrez quelqu’un de l’équipe pour le ravoir en entier.',
  'store-restored':
    'Le navigateur avait perdu la réserve de cet appareil. Elle a été remise en entier à partir de la seconde copie : rien ne manque. Transmettez tout bientôt, à quelqu’un de l’équipe ou en paquet.',
  'no-second-copy':
    'Cet appareil ne peut pas garder sa seconde copie en ce moment, peut-être faute de place. Ce qui est enregistré est en sécurité, mais si le navigateur le perd il n’y a pas d’autre copie ici. Libérez de la place, fermez l’application et rouvrez-la ; d’ici là, transmettez tout chaque jour.',
  'wrong-passphrase':
    'Cette phrase secrète n’ouvre pas le registre. Tout ce qui est enregistré est en sécurité, rien n’a été touché. Réessayez ; les majuscules comptent.',
  'short-passphrase':
    'La phrase secrète demande au moins {count} lettres ou signes. Mieux : six mots. Rien n’a été changé.',
  'lock-unreadable':
    'Le verrou de cette réserve ne peut pas être lu : il est abîmé, ou une version plus récente de l’application l’a écrit. Rien n’a été changé. Mettez l’application à jour ; si cela n’aide pas, rayez cet appareil et invitez-le de nouveau.',
  'not-a-device-key':
    'La clé de cet appareil ne peut pas être lue : rien ne peut s’ouvrir ici. Rien n’a été changé. Rayez cet appareil depuis un autre de l’équipe et invitez-le de nouveau.',
  'already-set-up': 'Cet appareil est déjà préparé. Rien n’a été changé. Ouvrez-le avec sa phrase secrète.',
  'not-set-up':
    'Cet appareil n’est pas encore préparé : il n’y a rien à ouvrir. Choisissez d’abord une phrase secrète.',
  'not-practice': 'Cette réserve contient de vrais cas et ne s’ouvre pas pour l’exercice. Rien n’a été changé.',
  'no-casebook': 'Il n’y a pas de registre dans cette réserve. Créez-en un, ou rejoignez-en un.',
  'casebook-exists': 'Cette réserve contient déjà un registre. Il est resté tel quel ; ouvrez-le.',
  'nothing-said': 'Il n’y a encore rien à enregistrer.',
  'unknown-field': 'Cette version de l’application ne connaît pas cette question. Mettez l’application à jour.',
  'invalid-value': 'Une réponse ne peut pas être prise telle quelle : {field}.',
  'unknown-case': 'Ce cas n’est pas sur cet appareil.',
  held: 'Un fauteuil ne peut pas être noté comme remis tant que quelque chose s’y oppose. Ce qui s’y oppose est indiqué avec la remise ; réglez-le d’abord.',
  visitor: 'Cet appareil regarde en visiteur et ne peut rien noter.',
  'not-in-crew': 'Cet appareil n’est pas encore de l’équipe : rencontrez d’abord qui vous a invité.',
  'hidden-case': 'Quelqu’un de l’équipe a demandé d’effacer ce cas ; il est masqué et ne prend plus rien.',
  'erased-case': 'Deux personnes de l’équipe ont effacé ce cas ; il ne prend plus rien.',
  'unknown-device': 'Cet appareil-là n’est pas de l’équipe. Rien n’a été changé.',
  'own-device': 'Un appareil ne peut pas se rayer lui-même ; un autre de l’équipe doit le faire.',
  'let-this-in':
    'Cet appareil-là a fait entrer celui-ci dans l’équipe : rayé d’ici, il entraînerait celui-ci avec lui. Rien n’a été changé. Un autre de l’équipe, qu’il n’a pas fait entrer, doit le rayer.',
  'too-long': 'C’est trop pour une seule note. Écrivez-le en plusieurs fois.',
  'photo-not-agreed':
    'Personne n’a accepté que des photos soient prises, ou l’accord a été retiré. Rien n’a été enregistré ; demandez d’abord.',
  'photo-removed': 'Cette photo même a été retirée de ce cas et ne revient pas.',
  'unknown-photo': 'Ce cas ne mentionne pas cette photo. Elle n’a pas été gardée.',
  'rules-failed':
    'Pour une personne, ce qui découle des notes n’a pas pu être calculé. Ce qui est enregistré est en sécurité. Mettez l’application à jour ; si cela n’aide pas, prévenez l’équipe.',
  'secret-unreadable':
    'Le secret de ce registre ne peut pas être lu sur cet appareil. Les cas sont en sécurité. Rencontrez quelqu’un de l’équipe : il reviendra alors.',
  'entry-refused':
    'Ce qui a été écrit n’est pas valable : mal signé ou mal adressé, c’est une erreur de l’application. Fermez l’application, rouvrez-la et enregistrez de nouveau.',
  'not-a-bundle': 'Ce fichier n’est pas un paquet. Rien n’a changé. Choisissez un autre fichier.',
  'newer-format':
    'Ce paquet vient d’une version plus récente de l’application, ou son début est abîmé. Rien n’a changé. Mettez l’application à jour, puis recevez-le.',
  truncated: 'Ce paquet est coupé : sa fin manque. Rien n’a changé. Copiez-le encore une fois depuis sa source.',
  damaged: 'Ce paquet a été abîmé en chemin. Rien n’a changé. Copiez-le encore une fois depuis sa source.',
  'other-casebook': 'Ce paquet appartient à un autre registre. Rien n’a changé. Ouvrez ce registre, puis recevez-le.',
  'unknown-epoch':
    'Ce paquet a été scellé après que quelqu’un a été rayé, ce que cet appareil ne sait pas encore. Rien n’a changé. Rencontrez quelqu’un de l’équipe, puis recevez-le.',
  'wrong-secret':
    'Ce paquet ne s’ouvre pas avec le secret qui est ici, ou quelqu’un a changé le fichier. Rien n’a changé. Rencontrez quelqu’un de l’équipe pour recevoir de nouveau le secret.',
  'too-large': 'Ce fichier est plus grand que tout registre. Rien n’a changé. Demandez à qui l’a fait.',
  'unreadable-inside':
    'Ce paquet s’ouvre, mais ce qu’il contient ne peut pas être lu. Rien n’a changé. Demandez-en un nouveau.',
  partial:
    'Ce paquet ne contient qu’une partie d’un dossier : il y manque ce sur quoi elle repose. Rien n’a changé. Demandez-en un entier.',
  'file-unreadable':
    'Cet appareil n’a pas pu lire le fichier. Rien n’a changé. Choisissez-le de nouveau, ou copiez-le encore une fois depuis sa source.',
  someAnswer: 'une de celles qui viennent d’être saisies',
  fault:
    'C’est une erreur de l’application. Fermez l’application et rouvrez-la ; si cela revient, mettez-la à jour ou prévenez l’équipe.',
}

export const issue = {
  invalid_type: 'manque, ou est d’une autre sorte',
  too_small: 'est trop petit ou trop court',
  too_big: 'est trop grand ou trop long',
  unrecognized_keys: 'contient un nom inconnu',
  invalid_value: 'n’est aucune des valeurs admises',
  other: 'ne va pas avec le reste',
}

export const unmet = {
  'no-address':
    'Cet appareil ne connaît aucune adresse où l’autre pourrait l’atteindre : un code ne mènerait à rien. Rien n’a été échangé. Rejoignez tous deux le même point d’accès, autorisez l’appareil photo (le navigateur connaît alors sa propre adresse) et recommencez ; ou transmettez un paquet.',
  'not-a-code': 'Ce n’est pas un code de cette page. Rien n’a changé. Scannez le code sur l’autre écran.',
  'other-code-version':
    'Ce code vient d’une version plus récente de l’application. Rien n’a changé. Mettez celle-ci à jour, ou transmettez un paquet.',
  'damaged-code':
    'Le code n’a pas été lu en entier. Rien n’a changé. Scannez-le de nouveau, de plus près et bien en face ; en texte, copiez-le en entier.',
  'strange-description':
    'Ce navigateur décrit sa connexion d’une façon que l’application ne connaît pas. Rien n’a été échangé. Prenez un autre navigateur, ou transmettez un paquet.',
  'own-code': 'C’est le code de cet appareil lui-même. Rien n’a changé. Scannez le code sur l’autre écran.',
  'answer-for-offer':
    'C’est le second code, et cet appareil demande le premier. Rien n’a changé. Un appareil montre le premier code, l’autre le scanne et montre le second.',
  'offer-for-answer':
    'Les deux appareils montrent un premier code. Rien n’a changé. Que l’un des deux recommence et scanne d’abord.',
  'no-casebook':
    'Aucun des deux appareils n’a de registre. Rien n’a changé. Créez-en un sur l’un d’eux, ou trouvez quelqu’un de l’équipe.',
  'other-casebook':
    'L’autre appareil tient un autre registre. Rien n’a été échangé. Ouvrez le même sur les deux, et recommencez.',
  'not-in-time':
    'Les deux appareils ne se sont pas trouvés à temps. Rien n’a été échangé. Rejoignez tous deux le même point d’accès, rapprochez-vous et recommencez avec de nouveaux codes.',
  'given-up': 'La rencontre a été abandonnée ici. Rien n’a été échangé. Recommencez avec de nouveaux codes.',
  'closed-early':
    'L’autre appareil a raccroché avant d’avoir montré qui il est. Rien n’a été échangé. Recommencez ; si cela continue, demandez si cet appareil a été radié.',
  'no-proof-in-time':
    'L’autre appareil n’a pas montré à temps qui il est. Rien n’a été échangé. Rapprochez-vous et recommencez.',
  'other-gate-version':
    'Les deux applications sont trop éloignées pour se reconnaître. Rien n’a été échangé. Mettez la plus ancienne à jour, ou transmettez un paquet.',
  'met-itself': 'Cet appareil s’est rencontré lui-même. Rien n’a été échangé.',
  'not-in-crew':
    'L’autre appareil n’est pas de l’équipe, ou a été radié. Rien n’a été échangé. Quelqu’un de l’équipe peut l’inviter par deux codes.',
  'false-proof':
    'L’autre appareil n’a pas pu prouver qui il est sur cette connexion : quelqu’un se tient peut-être entre les deux. Rien n’a été échangé. Rencontrez-vous par deux codes, là où vous pouvez vous voir.',
  unexpected:
    'L’autre appareil a rompu le salut par quelque chose qui n’y a pas sa place. Rien n’a été échangé. Recommencez ; si cela continue, mettez les deux applications à jour.',
  'no-way':
    'Les deux appareils n’ont pas trouvé de chemin l’un vers l’autre. Rien n’a été échangé. Rejoignez tous deux le même point d’accès, rapprochez-vous et recommencez ; si ce point d’accès sépare ses invités, prenez-en un autre ou transmettez un paquet.',
  'hub-unreachable':
    'Le poste de rencontre ne répond pas. Rien n’a été échangé, et rien n’est perdu. Rejoignez son point d’accès et voyez s’il tourne ; cet appareil continue d’essayer. Deux codes et les paquets s’en passent.',
  'not-invited':
    'La connexion a pris fin avant que l’autre appareil n’ait invité celui-ci. Rien n’est resté ici que le verrou. Recommencez avec de nouveaux codes.',
  'unreadable-welcome':
    'L’autre appareil a envoyé une invitation que cette application ne sait pas lire. Rien n’est resté ici que le verrou. Mettez à jour l’application la plus ancienne, et recommencez.',
}

export const parted = {
  ended: 'La connexion est terminée. Ce qui était arrivé est gardé ; rencontrez-vous de nouveau pour le reste.',
  cut: 'La connexion s’est rompue. Ce qui était arrivé est gardé ; rencontrez-vous de nouveau pour le reste.',
  silent: 'L’autre appareil ne répond plus. Ce qui était arrivé est gardé ; rencontrez-vous de nouveau pour le reste.',
  flooded: 'L’autre appareil a envoyé plus que demandé : la connexion a été fermée. Ce qui était arrivé est gardé.',
  refused:
    'L’un des deux appareils a refusé de continuer : l’autre a été radié entre-temps, ou a envoyé ce qui ne peut être lu. Ce qui était arrivé est gardé. Si l’équipe ne sait rien d’une radiation, mettez les deux applications à jour et rencontrez-vous de nouveau.',
}
