/** First opening, founding, lock. */
export const door = {
  tagline: 'Each chair made ready for the person who will sit in it, with or without a network.',
  tryPractice: 'Try the practice trip',
  tryPracticeHint:
    'A valley of invented people, three days into a trip. Nothing in it is real; nothing in it can go wrong.',
  found: 'Found a casebook',
  foundHint: 'For your own crew. You are its first member; the others join your phone later.',
  joinLater: 'Does your crew have a casebook already? Joining by two codes comes with the next version.',
  insecure:
    '{address} is not a secure address: here the browser gives no means to seal or to sign, so nothing can be opened, not even practice. Open the app at its https address, or on the computer that serves it as localhost.',
  lost:
    'This device had a casebook at {address}, and the browser has deleted it, with its second copy. What the crew’s other phones and bundles hold is safe. To have it back, let one of the crew invite this device anew, or read a bundle in. Founding a casebook here begins an empty one.',
  nothingHere: 'In this browser nothing is kept yet at {address}.',
  livesHere:
    'The casebook will live in this browser, at {address}. Another browser, or another address, has a store of its own, and it is empty: always come back to this one.',
  settingOut: 'Setting out the practice trip…',
  settingOutPeople: '{done} of {all} people',

  foundTitle: 'Found a casebook',
  crewName: 'What your crew calls itself',
  place: 'Where it works',
  placeHint: 'It heads every list: a valley, a district.',
  yourName: 'Your name',
  yourNameHint: 'It stands beside everything you write down.',
  role: 'You are',
  technician: 'Wheelchair technician',
  therapist: 'Therapist',
  coordinator: 'Coordinator',
  passphrase: 'Passphrase',
  passphraseAgain: 'The same once more',
  passphraseHint: 'Six words that only you would put together. It seals everything on this device.',
  passphraseLost: 'Nobody can find it again for you. Write it down and keep it where you keep money.',
  passphraseStrong: 'Six words or more: good.',
  passphraseWeak: 'It will do against somebody who finds the phone. Six words hold against a thief with time.',
  show: 'Show what I type',
  notSame: 'The two passphrases are not the same. Type the second one again.',
  missing: 'Still missing: {fields}.',
  foundNow: 'Found it',
  founding: 'Sealing the casebook…',
  founded: 'The casebook is founded.',
  again: 'The lock is made, the casebook is not yet: that was interrupted. Nothing was lost. Give the names once more.',

  lockedTitle: 'Locked',
  locked: 'Everything saved is safe and sealed.',
  lockedIdle:
    'Locked because nobody touched it for a while. Everything saved is safe and sealed; what was half typed comes back.',
  unlock: 'Unlock',
  unlocking: 'Unlocking…',
  passphraseEmpty: 'Type the passphrase first.',
  practiceInstead: 'Open the practice trip instead',
  failedTitle: 'This could not be opened',
  tryAgain: 'Try again',
} as const
