/** Ready for the field. Each line is a state in words, then what to do. */
export const ready = {
  title: 'Ready for the field',
  looking: 'Looking…',
  all: 'This device is ready to leave the network behind.',
  some: { one: '{count} thing to see to before you leave', other: '{count} things to see to before you leave' },
  doneMark: 'in order',
  openMark: 'to do',

  copyYes: 'The app opens without a network.',
  copyArriving: 'The app is still being kept for use without a network.',
  copyArrivingDo: 'Stay on the network for a moment.',
  copyMissing: 'The app is not kept on this device yet.',
  copyMissingDo: 'Open it once while there is a network.',
  copyImpossible: 'This address cannot keep the app for use without a network.',
  copyImpossibleDo: 'Open it at its https address, or on this computer as localhost.',

  keptYes: 'This device promises to keep what is stored.',
  keptNo: 'This device may delete what is stored when it runs out of room.',
  keptNoDo: 'Put the app on the home screen and open it from there, then ask again.',
  keptAsk: 'Ask it to keep everything',
  keptUnknown: 'This browser does not say whether it keeps what is stored.',
  keptUnknownDo: 'Carry a bundle of everything as a second copy.',

  room: '{free} are free here.',
  roomLow: 'Only {free} are free here.',
  roomLowDo: 'Delete films and photos from the device before you leave.',

  cameraYes: 'The camera may be used for photos and for codes.',
  cameraAsk: 'The camera has not been asked for yet.',
  cameraAskDo: 'Ask now, while somebody can help.',
  cameraAskButton: 'Ask for the camera',
  cameraNo: 'The camera may not be used.',
  cameraNoDo: 'Allow it in the settings of the browser. Without it photos are left out and codes are typed.',
  cameraNone: 'No camera was found.',
  cameraNoneDo: 'Photos are left out; codes can be typed.',

  handedToday: 'Everything here was handed on today.',
  handedDays: {
    one: 'What is here was last handed on {count} day ago.',
    other: 'What is here was last handed on {count} days ago.',
  },
  handedNever: 'Nothing was handed on from this device yet.',
  handedDo: 'Meet one of the crew, or carry a bundle: until then this device holds the only copy.',
  handedPractice: 'Practice is never handed on.',

  chairs: { one: '{count} chair model is in the catalogue.', other: '{count} chair models are in the catalogue.' },
  chairsNone: 'No chair model is in the catalogue.',
  chairsNoneDo: 'Without models nothing can be recommended. Add a catalogue file under Settings.',

  passphraseYes: 'A passphrase locks this device’s casebook.',
  passphrasePractice: 'Practice has no passphrase: nothing in it is secret.',
} as const

export const settings = {
  title: 'Settings',
  language: 'Language',
  crew: 'Crew',
  crewSaved: 'The new name is saved.',
  crewSave: 'Save the name',
  you: 'You are {name}, {role}.',
  'role technician': 'technician',
  'role therapist': 'therapist',
  'role coordinator': 'coordinator',
  'role visitor': 'visitor',

  catalogue: 'Chair models',
  catalogueAdd: 'Add models from a catalogue file',
  catalogueAdded: { one: '{count} model was added.', other: '{count} models were added.' },
  catalogueUnreadable: 'This is not a catalogue file. Nothing was added. {reason}',

  passphrase: 'Passphrase',
  passphraseChange: 'Change the passphrase',
  passphraseOld: 'Passphrase until now',
  passphraseNew: 'New passphrase',
  passphraseChanged: 'The passphrase is changed. From now on only the new one opens this device.',
  passphraseChanging: 'Sealing anew…',
  idle: 'Lock by itself after',
  idleMinutes: { one: '{count} minute', other: '{count} minutes' },
  lockNow: 'Lock now',

  practice: 'Practice trip',
  practiceIs: 'You are in the practice trip. It is {date} there.',
  practiceDay: 'Move the practice day on',
  practiceOneDay: 'One day on',
  practiceSixWeeks: 'Six weeks on',
  practiceMoved: 'In practice it is now {date}.',
  practiceClose: 'Close the practice trip',
  practiceCloseHint: 'It stays on this device and opens where you left it.',
  practiceAfresh: 'Begin the practice trip afresh',
  practiceAfreshHint: 'Removes what was tried out in it. Real casebooks are elsewhere and not touched.',
  practiceAfreshSure: 'Yes, begin afresh',
  practiceOpen: 'Open the practice trip',
  practiceOpenHint: 'Your casebook is locked meanwhile.',

  version: 'About',
  cautions:
    'Outspoke supports trained people and does not replace them. Local rules and licensed practice come first. What is printed on a part wins over what is shown here.',
} as const
