/** What is shown before a chair is handed over (WHO 2008, p. 84), in the order in which it is usually taught. */
export const TRAINED = [
  'trainedTransfers',
  'trainedHandlingChair',
  'trainedMobility',
  'trainedStayingHealthy',
  'trainedCareOfChair',
  'trainedWhomToContact',
] as const
