/** The page of two phones side by side: what to do next, the line between them, what crossed it. */
export const twoPhones = {
  title: 'Two phones, one case',
  lead: 'Two devices with a memory of their own, as two people hold them. {person} and everybody else here is invented. Nothing leaves this page, and nothing is kept when it is closed.',
  phone: 'Phone of {name}, {role}',
  empty: 'Nothing on this phone yet.',
  making: 'Two phones are being made: one founds a casebook, the other is invited…',
  failed: 'The two phones could not be made: {reason}',
  again: 'Begin again',

  line: 'The line between them',
  cut: 'Cut',
  cutHint: 'each works alone',
  slow: 'Slow',
  slowHint: 'about {size} a second',
  joined: 'Joined',
  joinedHint: 'as fast as it goes',

  now: 'What to do',
  nowMeasure:
    'The line is cut. Take the hip width on both phones, under “{part}”: {first} mm on one, {second} mm on the other. With the first the chair that is built fits; for the second it is too narrow.',
  nowOther: 'One has measured, and the other does not know. Measure the hips on the other phone too.',
  nowJoin: 'Both have measured, and neither knows of the other. Join them.',
  nowCrossing: 'They are telling each other what is new.',
  nowSettle:
    'Both values are on both phones. Open “{part}” there: who measured what, whether it matters, and what each would change. Settle it on one of them.',
  nowSettled: 'Settled on one, and the other knows: both work out the same. Cut the line and try anything else.',
  nowJoined: 'Cut the line, and let both work alone.',

  same: 'Both hold the same: {count} entries of this case, with the mark {hash}.',
  apart: 'They do not hold the same: {first} entries of this case on one, {second} on the other.',
  carried:
    'Over the line so far: {bytes} bytes in {frames} frames. {entries} entries were taken over, those of crew and chairs among them.',
} as const
