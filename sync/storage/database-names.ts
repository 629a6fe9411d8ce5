/** Real cases and practice never share a database. Told apart from the code that opens them, so that the door can ask. */
export const CASES_DATABASE = 'outspoke'
export const PRACTICE_DATABASE = 'outspoke-practice'
