/** Fitting with the person in the chair. */
export const fitting = {
  resultNoChair: 'Choose and prepare the chair first.',
  resultNone: 'Not fitted yet.',
  resultOk: 'Size, posture, pressure and moving in order.',
  resultProblem: 'Problem with {parts}.',
  resultLeft: 'Still to look at: {parts}.',
  nothing: 'Fitting needs the chosen chair. Choose it first.',
  lead: 'With the person in the chair, in this order: size, posture, pressure, then moving.',

  size: 'Size',
  sizeHint:
    'A flat hand goes in beside each hip; two fingers behind the knee; the foot rests whole on its plate; the arm hangs over the wheel.',
  posture: 'Posture',
  postureHint:
    'Pelvis level and back in the seat, trunk upright without holding on, head free. Look from the side and from the front.',
  pressure: 'Pressure, by hand',
  pressureShort: 'Pressure',
  pressureHint:
    'Palm up between the cushion and each seat bone. Even: fingers move. Firm: they can hardly move. Pinched: they cannot. Then again without the cushion, to learn what it does.',
  withCushion: 'On the cushion',
  withoutCushion: 'Without the cushion, for comparison',
  moving: 'Moving',
  movingHint:
    'Indoors and on their own ground, with a spotter: pushes, turns, brakes, leans. Then look at size and posture again.',
  strapHint: 'Only if a strap is fitted. Whoever sits in it, or sits beside them, must be able to open it.',
  skinHint:
    'Under the seat bones, tail bone, heels, elbows. Red that fades within half an hour is watched; red that stays is out of the chair.',

  scales: 'Mass centre, with two scales',
  scalesHint:
    'Chair level, brakes off, person sitting still as usual. One board with a scale under both rear wheels, one under both casters, tops at one height. Read both.',
  centre: 'Mass centre ahead of the axle',
  centreMeasured: 'measured; the model said {model}, {gap} apart',
  centreDoubt:
    'That is more than the model’s error of {error} allows. Is the set-up on the chair the one on the sheet? Mass, loads, how they sit?',
  centreAgrees: 'Within the model’s error. From now on the measured one counts.',
  axleSetSince: 'The axle was set after the scales were read: read them again, the place of the axle counts.',
  centreModel: 'by the model; two scales would measure it',

  adjust: 'Adjust',
  adjustHint: 'Move a setting and see what follows. What depends on it is asked again: preparing, checks, fitting.',
  reopened: 'Asked again since the chair was adjusted',
  reopenedLine: '{why} Check again: {checks}.',
  toChecks: 'To the checks',
  pinnedSaved: 'Kept. The build sheet and the checks say what follows from it.',
  save: 'Save the fitting',
} as const

/** Training: ticked when it was shown by the person. */
export const training = {
  resultNone: 'Not trained yet.',
  resultAll: 'All six shown by the person.',
  resultSome: '{count} of {total} shown',
  resultCaregiver: '{count} of {total} shown; caregiver {name}',
  lead: 'Ticked when they have shown it themselves, not when it was told. It may be the caregiver who shows it.',
  shown: 'Shown {date}',
  notShown: 'not shown yet',
  told: 'Only told so far',
  troubleHint: 'The first visit then comes earlier.',
  'how trainedTransfers': 'Into the chair and out of it: bed, floor, latrine, vehicle. Brakes on first.',
  'how trainedHandlingChair': 'Folds, opens, lifts, takes wheels and cushion off and on.',
  'how trainedMobility': 'Pushes, turns, brakes; slopes up and down, a kerb, rough ground; what tips the chair.',
  'how trainedStayingHealthy':
    'Takes weight off the skin, looks at the skin each day, knows what a sore looks like and what then.',
  'how trainedCareOfChair': 'Pumps tyres, cleans, oils, tightens; cushion the right way round.',
  'how trainedWhomToContact': 'Says whom to call, and when: sore skin, loose wheel, brakes that slip.',
} as const
