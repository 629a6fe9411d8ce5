/** Who is here, what they have, and what stands on this device only. */
export const nearby = {
  looking: 'Looking what is here…',

  allElsewhere: 'Everything written on this device is on another device of the crew too.',
  onlyHere: {
    one: '{count} entry written here is on no other device yet.',
    other: '{count} entries written here are on no other device yet.',
  },
  onlyHerePeople: {
    one: '{entries} It is about {count} person.',
    other: '{entries} They are about {count} people.',
  },
  onlyHereDo: 'If this device is lost, that is lost with it. Meet somebody, or hand on a bundle.',

  hereTitle: 'Here now',
  nobody: 'No other device is connected.',
  since: 'Connected since {time}',
  onlyThere: {
    one: '{count} case there is not here yet.',
    other: '{count} cases there are not here yet.',
  },
  onlyHereCases: {
    one: '{count} case here is not there yet.',
    other: '{count} cases here are not there yet.',
  },
  hasOpen: '{who} has this case open',
  hasOpenAt: '{who} has this case open · {part}',
  hasOpenNamed: 'Has {name} open',
  atField: '{who} is filling this in just now.',

  beginTitle: 'Meet somebody',
  bundleHint: 'Everything as one sealed file, by any carrier',
  hub: 'Through a hub',
  hubHint: 'Everybody of the crew who is at the same hub, all at once',
  hubWhat:
    'The hub at {host} only introduces devices to each other: it sees neither what is exchanged nor who anybody is.',
  hubJoin: 'Join the hub at {host}',
  hubJoining: 'Looking for the hub at {host}…',
  hubJoined: 'At the hub {host}. Whoever of the crew comes there is met by itself.',
  hubElsewhere: 'Another window of this browser is at the hub. What comes there is seen here too.',
  hubFailed: 'The hub could not be joined. {reason}',
  hubLeave: 'Leave the hub',

  crewTitle: 'Last met',
  crewNobody: 'Nobody else is in the crew yet. Let somebody in by two codes.',
  lastMet: {
    one: '{when}, both held the same: {count} case',
    other: '{when}, both held the same: {count} cases',
  },
  neverMet: 'Not met by this device yet',
  struck: 'Struck off',
} as const
