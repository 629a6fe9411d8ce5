/** Questions of referral and assessment: each a group that is answered and saved together. */
export const ask = {
  // referral
  who: 'Who is it?',
  where: 'How are they found and reached?',
  how: 'How did they come to us?',
  agreement: 'What were they told, and what did they agree to?',
  // assessment
  goals: 'What do they want to do?',
  sitting: 'How do they sit?',
  flags: 'Must a health worker see them first?',
  skin: 'Is the skin at risk?',
  moving: 'How do they move the chair?',
  home: 'Where must the chair go?',
  transfers: 'How do they get in and out?',
  loads: 'What do they carry?',
  limbs: 'Is a limb missing?',
} as const

/** One line below a question: why it is asked. */
export const askHint = {
  agreement: 'Say who will see this record: the crew. They may say no and still be helped.',
  flags: 'Each yes holds the handover until it is settled.',
  skin: 'A yes asks for a cushion that relieves pressure, and earlier follow-up.',
  home: 'The steepest slope and the narrowest door decide which chair can be used at all.',
  loads: 'What hangs on the handles tips the chair backwards.',
} as const
