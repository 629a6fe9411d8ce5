import type { StandardStepKey } from '../../../src/chair/chair-model.ts'
import type { StepState } from '../../../src/preparation/step-state.ts'

/** Preparing: the build sheet and the chair as built. */
export const preparing = {
  resultNoChair: 'Choose the chair first.',
  resultLeft: { one: '{count} step left of {total}', other: '{count} steps left of {total}' },
  resultBuilt: '{chair}, built as chosen.',
  resultSerial: '{chair}, number {serial}, built as chosen.',
  noSheet: 'The build sheet follows the chosen chair. Choose the chair first.',
  openChoosing: 'To choosing',

  target: 'Build to',
  tools: 'Tools for this sheet',
  noTools: 'No tools: your hands do.',
  steps: { one: '{count} step to do', other: '{count} steps to do' },
  finished: 'Every step is done for this set-up.',
  doneSteps: { one: '{count} step done', other: '{count} steps done' },
  step: '{number}. {title}',
  change: '{setting}: {from} → {to}',
  changeNew: '{setting}: {to}',
  redoWhy: 'It was done, but for other settings.',
  contradictedWhy: 'Ticked as done, but the chair was read otherwise.',
  parts: 'Parts: {parts}',
  withTools: 'With {tools}',
  makesStale: 'Afterwards check again: {checks}',

  spanner: '{thread}, spanner {size}',
  newtonMetres: '{value} Nm',
  torquePrinted: '{torque}, printed on the part or in its papers',
  torquePrintedAbove: '{torque} as printed, which is more than a {thread} {propertyClass} bears: read the print again',
  torqueBound:
    'at most {torque}: computed for a {thread} {propertyClass}, steel in steel, friction {friction}. Thin tube, soft metal, plastic and lock nuts want less.',
  torqueUnknown: 'no figure known: by the maker’s papers',
  headOther: 'The head is of an unusual size: try the spanner before the edges are rounded.',

  pressureRear: 'Rear tyres',
  pressureCaster: 'Caster tyres',
  pressure: '{kPa} · {psi} · {bar}',
  pressureRange: 'right: {least} to {most}; sidewall: {sidewallLeast} to {sidewallMost}',
  pressurePoint: 'sidewall: {sidewallLeast} to {sidewallMost}.',
  pressureSidewall: 'The sidewall decides: it leaves no room for what is usual on this ground.',
  solid: 'solid, nothing to pump',
  gaugeOnly: 'By gauge, with the tyres cold. What the sidewall prints goes before this.',
  fill: 'Pumped here, used elsewhere?',
  fillLead: 'A tyre pumped in the cool morning or down in the valley stands harder in the heat or up on the pass.',
  fillSum: 'how this is worked out',
  fillSource: 'From: {source}; gas law at constant volume, kelvin and absolute pressures.',
  fillHere: 'Here, now',
  fillThere: 'Where the chair is used',
  fillNeeds: 'Give all four: then what the gauge must show here stands below.',
  fillWrong: 'From {least} to {most}.',
  'fill nothing': 'on the gauge here, now; it then stands at {target} where the chair is used',
  'fill sidewall-here':
    'The printed limit goes first. Where the chair is used it stands at {there} instead of {target}: check it there.',
  'fill sidewall-there': 'Held down so that it never passes the printed {most} where the chair is used.',
  fillOutside: 'air around the tyre: {here} here, {there} there',
  fillAssumes:
    'Assumes a tyre as warm as the air and of the same size in both places, and average weather: within a gauge’s error.',

  tick: 'Done',
  tickAgain: 'Done again',
  ticking: 'Saving…',
  ticked: 'Done {date}, {who}',
  secondName: 'Name of the second person who looked at it',
  secondLead: 'This cannot be undone. Two people look at the mark before the cut; the second says so with their name.',
  secondNeeded: 'Not done before a second person has looked and given their name.',
  secondSame: 'The second person is somebody else than you.',
  undo: 'Undo',
  undoWhy: 'ticked by mistake',

  'steps-in-a-ring':
    'The catalogue lets these steps wait for each other: {names}. All are listed: take them in the order the chair allows, and have the catalogue put right.',
  'other-chair':
    'The chair read is “{names}”, another than the one chosen. What was read stays in the record; this sheet starts from a new chair.',

  built: 'The chair as built',
  print: 'Print the build sheet',
  builtRead: { one: '{count} reading', other: '{count} readings' },
  readChair: 'Read the chair',
  builtLead: 'Read each from the chair itself, with the tape: not from this sheet.',
  builtComplete: 'Read from the chair',
  builtSerial: 'number {serial}',
  builtNone: 'Nothing read from the chair yet',
  asSheet: 'as on the sheet',
  other: 'Other',
  otherValue: 'What is it?',
  otherMm: 'What does the tape say, mm?',
  isOff: 'Off',
  saveBuilt: { one: 'Save {count} reading', other: 'Save {count} readings' },
  serialNumber: 'Serial number on the frame',
} as const

/** Usual steps; a model's own steps carry the words of its papers. */
export const step = {
  unpack: 'Unpack, count the parts against the list, look for damage',
  frame: 'Build the frame to this seat width and depth',
  'seat-height': 'Set the seat height at the rear wheels and at the casters',
  'rear-axle': 'Set the rear axle, the same hole on both sides',
  'rear-wheels': 'Put the rear wheels on; tightened, they turn freely and do not rock',
  'caster-stems': 'Set the caster stems upright again',
  'tyre-pressures': 'Bring the tyres to pressure by gauge; valves straight and capped',
  brakes: 'Set both brakes to the tyres: each goes on with one hand and holds',
  'anti-tip': 'Set the anti-tip wheels, both sides alike',
  'back-height': 'Set the back to its height',
  'back-tension': 'Tension the back straps evenly in the open chair, so that it still opens fully',
  cushion: 'Lay the cushion in, front to the front, cover smooth',
  'footrest-left': 'Set the left footrest',
  'footrest-right': 'Set the right footrest',
  'footrest-clearance': 'Measure the footrests to the ground and the heels to the turning casters',
  armrest: 'Set both armrests to their height',
  label: 'Label the chair with the serial number',
  tighten: 'Go over every bolt and nut that was touched',
  'spin-and-roll': 'Spin each wheel and caster: free after tightening, no play; the chair rolls straight',
  'fold-and-open': 'Fold and open the chair fully, twice; nothing catches, nothing is sharp',
  'test-ride': 'Test ride with a spotter behind the chair',
} as const satisfies Readonly<Record<StandardStepKey, string>>

/** How a step stands, said before its title where it is not simply to do. */
export const stepState = {
  'to-do': 'to do',
  redo: 'do again',
  'second-name-missing': 'second name missing',
  contradicted: 'look again',
  done: 'done',
} as const satisfies Readonly<Record<StepState, string>>

/** Tools that the usual steps name. */
export const tool = {
  knife: 'knife',
  tape: 'tape',
  pump: 'pump',
  'pressure gauge': 'pressure gauge',
  'spirit level': 'spirit level',
  marker: 'marker',
  'torque wrench': 'torque wrench',
  spanner: 'spanner {size}',
} as const
