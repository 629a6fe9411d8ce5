/** How each measure is taken, and what is said about a reading. */
export const measuring = {
  lead: 'Seated upright on a firm, flat surface; heights from that surface.',
  progress: '{count} of {total}',
  how: 'How to take it',
  of: '{field}, {name}',
  measuredBy: 'Measured by {who}',
  use: 'Enter',
  useAs: 'Enter {value}',
  save: 'Save {value}',
  saveNext: 'Save {value}, then {next}',
  saveRepeat: 'Save as a second reading',
  saveCorrection: 'The earlier one was wrong: replace it',
  typeAgain: 'Type it again',
  keep: '{value} is right',
  fix: 'Yes, {value}',
  savedLine: '{field} {value}: saved on this device.',
  all: 'All measures',
  later: 'Later',
  next: 'Next: {field}',
  again: 'Measure once more',
  finished: 'All measures are there.',
  notNeeded: 'not measured: limb loss',
  notYet: 'not measured',
  hidden: {
    one: 'measured once: shown when you have typed yours',
    other: 'measured {count} times: shown when you have typed yours',
  },
  times: { one: 'measured once', other: 'measured {count} times' },
  earlier: 'Before',
  agrees: '{apart} apart: they agree, the mean counts.',
  differs: '{apart} apart, more than {tolerance}: save it, then measure once more.',
  typeFirst: 'Type the reading first.',
  stands: 'Two readings stand that do not agree: {options}.',
  wanted: 'Needed for the fit',
  optional: 'Helps, if there is time',

  'how hipWidthMm':
    'Widest place of hips or thighs, a flat board pressed lightly to each side. Straight across, not around.',
  'how thighDepthLeftMm':
    'Along the left thigh from the back of the buttocks to the fold behind the knee. Pelvis against a board.',
  'how thighDepthRightMm':
    'Along the right thigh from the back of the buttocks to the fold behind the knee. Pelvis against a board.',
  'how calfLengthLeftMm':
    'Left: from the fold behind the knee straight down to the floor, in the shoes worn in the chair.',
  'how calfLengthRightMm':
    'Right: from the fold behind the knee straight down to the floor, in the shoes worn in the chair.',
  'how shoeSoleMm': 'Thickness of the sole under the heel.',
  'how ribHeightMm': 'From the seat up to the lowest rib, at the side.',
  'how scapulaHeightMm': 'From the seat up to the lowest point of the shoulder blade, arms hanging.',
  'how axillaHeightMm': 'From the seat up to the armpit, arm hanging loosely.',
  'how shoulderHeightMm': 'From the seat up to the bony tip of the shoulder.',
  'how elbowHeightMm':
    'From the seat up to the underside of the elbow, upper arm hanging, elbow bent to a right angle.',
  'how upperArmMm': 'From the bony tip of the shoulder to the underside of the bent elbow.',
  'how forearmGripMm': 'From the back of the bent elbow to the middle of a closed fist.',
  'how biacromialMm': 'Across the back from one bony tip of the shoulder to the other.',
  'how statureMm':
    'Standing, or lying flat from crown to heel; before any limb was lost. If it cannot be taken, leave it: it matters little.',
  'how massKg': 'On a scale, or a chair scale less the chair. With no scale, guess and say so.',
  'how hipFlexionLeftDeg': 'Lying on the back: bend the left hip until the pelvis begins to roll. Straight is 0.',
  'how hipFlexionRightDeg': 'Lying on the back: bend the right hip until the pelvis begins to roll. Straight is 0.',
  'how kneeExtensionLeftDeg':
    'Sitting: raise the left lower leg forward until the pelvis begins to roll. Hanging straight down is 0.',
  'how kneeExtensionRightDeg':
    'Sitting: raise the right lower leg forward until the pelvis begins to roll. Hanging straight down is 0.',

  'short hipWidthMm': 'Hips',
  'short thighDepthMm': 'thighs',
  'short calfLengthMm': 'calves',
  'short massKg': 'mass',
} as const

/** What is unlikely about a value, and the slip that would explain it. */
export const doubt = {
  'centimetres-as-millimetres': '{typed} looks like centimetres: {meant}?',
  'inches-as-millimetres': '{typed} looks like inches: {meant}?',
  'metres-as-millimetres': '{typed} looks like metres: {meant}?',
  'millimetres-as-centimetres': '{typed} looks like millimetres: {meant}?',
  'inches-as-centimetres': '{typed} looks like inches: {meant}?',
  'millimetres-as-inches': '{typed} looks like millimetres: {meant}?',
  'centimetres-as-inches': '{typed} looks like centimetres: {meant}?',
  'millimetres-as-metres': '{typed} looks like millimetres: {meant}?',
  'pounds-as-kilograms': '{typed} looks like pounds: {meant}?',
  'kilograms-as-pounds': '{typed} looks like kilograms: {meant}?',
  'grams-as-kilograms': '{typed} looks like grams: {meant}?',
  'decimal-point-one-place-right': 'Is the decimal point one place off: {meant}?',
  'decimal-point-one-place-left': 'Is the decimal point one place off: {meant}?',
  'digits-swapped': 'Were two digits swapped: {meant}?',
  'not-possible': '{typed} is outside what any person measures. It will not be used until it is measured again.',
  unlikely: '{typed} is far from what the other measures lead to expect. Measure once more.',
  'sides-apart': 'Left and right are {apart} apart. Is the pelvis level? Measure both again.',
  'out-of-order': '{lower} should lie below {upper}. Measure both again.',
  'after-today': 'This day is still to come.',
  about: '{field}: {doubt}',
} as const
