const WIDTH = 112
/** A paragraph begins with a dash and hangs by as much: no empty line is needed between two. */
const FIRST = '- '
const HANGING = '  '

/** Breaks a paragraph into lines; a word longer than a line keeps it to itself. */
const paragraph = (text: string): string => {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > WIDTH) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  return `${FIRST}${[...lines, line].join(`\n${HANGING}`)}`
}

/** Something the story counts on. It is named, so that a story that goes otherwise says what did not happen. */
export interface Turn {
  readonly name: string
  readonly happened: boolean
}

/** What the practice trip tells, and whether it went as it must. */
export interface Notebook {
  heading(text: string): void
  say(text: string): void
  /** Prints text as it stands: commands to be copied. */
  lines(text: string): void
  /**
   * Tells an event from what was found: null, undefined and false mean that it did not happen; then the notebook says
   * so in its place, and the trip fails.
   */
  turn<Found>(name: string, found: Found, words: (found: Exclude<Found, null | undefined | false>) => string): void
  turns(): readonly Turn[]
}

export const createNotebook = (print: (text: string) => void): Notebook => {
  const turns: Turn[] = []
  return {
    heading: text => print(`\n${text}`),
    say: text => print(paragraph(text)),
    lines: print,
    turn(name, found, words) {
      const happened = found !== null && found !== undefined && found !== false
      turns.push({ name, happened })
      print(paragraph(happened ? words(found as Parameters<typeof words>[0]) : `DID NOT HAPPEN: ${name}.`))
    },
    turns: () => turns,
  }
}
