import { type Command, InputError } from './command.ts'

/** Every command by name. A new one is one line here; nothing of it is loaded before it is called for. */
const COMMANDS: Readonly<Record<string, () => Promise<Command>>> = {
  fit: async () => (await import('./fit.ts')).fit,
  outcome: async () => (await import('./outcome.ts')).outcome,
  collect: async () => (await import('./collect.ts')).collect,
  show: async () => (await import('./show.ts')).show,
  report: async () => (await import('./report.ts')).report,
  export: async () => (await import('./export.ts')).exportCases,
  'read-table': async () => (await import('./read-table.ts')).readTable,
  serve: async () => (await import('./serve.ts')).serve,
  hub: async () => (await import('./hub.ts')).hub,
  walkthrough: async () => (await import('../../demo/walkthrough.ts')).walkthrough,
}

const USAGE_ERROR = 2
const FAULT = 1
const isHelp = (arg: string | undefined): boolean => arg === '--help' || arg === '-h'

const helpText = async (): Promise<string> => {
  const width = Math.max(...Object.keys(COMMANDS).map(name => name.length))
  const lines = Object.entries(COMMANDS).map(
    async ([name, load]) => `  ${name.padEnd(width)}   ${(await load()).summary}`,
  )
  return `outspoke COMMAND ...

${(await Promise.all(lines)).join('\n')}

outspoke COMMAND --help tells more. Answers go to stdout, words about the work to stderr. Exit status 2: the call or a
file is not as it must be, and nothing was changed.
`
}

const say = (words: string): void => {
  process.stderr.write(`${words}\n`)
}

/** What `parseArgs` refuses: an option it does not know, or one without its value. */
const isArgumentError = (error: unknown): error is Error =>
  error instanceof Error && 'code' in error && String(error.code).startsWith('ERR_PARSE_ARGS')

/** Runs one call of the command line and gives its exit status. */
const main = async (args: readonly string[]): Promise<number> => {
  const [name, ...rest] = args
  if (name === undefined || isHelp(name) || name === 'help') {
    const text = await helpText()
    if (name !== undefined) process.stdout.write(text)
    else process.stderr.write(text)
    return name === undefined ? USAGE_ERROR : 0
  }
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined
  if (!load) {
    say(`outspoke: there is no command "${name}".\n\n${await helpText()}`)
    return USAGE_ERROR
  }
  const command = await load()
  if (rest.some(isHelp)) {
    process.stdout.write(`${command.usage}\n`)
    return 0
  }
  try {
    return await command.run(rest)
  } catch (error) {
    if (error instanceof InputError) say(`outspoke ${name}: ${error.message}`)
    else if (isArgumentError(error)) say(`outspoke ${name}: ${error.message}\n\n${command.usage}`)
    else throw error
    return USAGE_ERROR
  }
}

// A reader such as `head` may close the pipe early: nothing is wrong then.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? 0 : FAULT)
})

try {
  process.exitCode = await main(process.argv.slice(2))
} catch (error) {
  say(
    `outspoke met a fault of its own; no file was left half-written.\n${error instanceof Error ? error.stack : error}`,
  )
  process.exitCode = FAULT
}
