/** Wording of the frame around everything: short, concrete, in the person's interest. */
export const app = {
  name: 'Outspoke',
  people: 'People',
  case: 'Case',
  nearby: 'Nearby',
  ready: 'Ready for the field',
  back: 'Back',
  cancel: 'Cancel',
  save: 'Save',
  close: 'Close',
  loading: 'Opening…',
  failed: 'This could not be shown. What was saved is safe. {reason}',
  tryAgain: 'Try again',
  practice: 'Practice: invented people. Nothing here is real, and it is kept apart from your cases.',
} as const
