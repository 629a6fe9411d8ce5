export const app = {
  name: 'Outspoke',
  people: 'Personnes',
  case: 'Cas',
  nearby: 'Autour',
  ready: 'Départ',
  settings: 'Préférences',
  tabs: 'Pages',
  back: 'Retour',
  cancel: 'Annuler',
  save: 'Enregistrer',
  close: 'Fermer',
  loading: 'Ouverture…',
  failed: 'Affichage impossible. Ce qui est enregistré est en sécurité. {reason}',
  tryAgain: 'Réessayer',
  practiceStrip: 'Exercice, {date}',
  practiceInvented: 'toutes les personnes sont inventées',
  practiceClose: 'Fermer l’exercice',
  updateReady: 'Une nouvelle version est là.',
  updateTake: 'La prendre maintenant',
  updateWaits: 'Elle attend ce qui est saisi et pas encore enregistré. Enregistrez-le ou laissez-le :',
  updateForm: 'Elle attend que le formulaire à l’écran soit terminé ou quitté.',
  draftsRefused:
    'Cet appareil ne peut pas garder ce que vous saisissez en ce moment : enregistrez chaque formulaire avant de le quitter. Tout ce qui est enregistré est en sécurité.',
  draftsUnreadable:
    'Ce qui avait été saisi ici sans être enregistré n’a pas pu être lu. Tout ce qui est enregistré est en sécurité.',
  updateElsewhere:
    'Outspoke est ouvert dans une autre fenêtre. Fermez-la d’abord : rien de ce qui est à moitié rempli ne doit se perdre.',
}
