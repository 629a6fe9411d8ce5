/** Meeting by two codes: showing, scanning, inviting, joining, and what came of it. */
export const codes = {
  title: 'Two codes',
  hint: 'Meet another device without any network, or let somebody new into the crew',
  what: 'Two devices meet by themselves: each shows a code, and each scans the other’s. Both have to be on the same hotspot or Wi-Fi; it needs no internet.',
  practice:
    'This is practice, and practice is each device’s own: nothing of it is exchanged. Open your crew’s casebook to meet others.',
  who: 'Agree on who begins.',
  showFirst: 'Show the first code',
  showFirstHint: 'The other one chooses “Scan the first code”.',
  scanFirst: 'Scan the first code',
  scanFirstHint: 'The other one chooses “Show the first code”.',
  newcomer:
    'Somebody new to the crew chooses “Join a crew by two codes” on the new device. Once you have met, you name them here.',

  step: 'Step {step} of 3',
  making: 'Making the code…',
  offerTitle: 'Let them scan this',
  offerHow: 'Hold this before the other one’s camera. Once a code stands on their screen, go on.',
  offerNext: 'Now scan theirs',
  backToCode: 'Back to my code',
  answerScanTitle: 'Scan their code',
  answerScanHow: 'It stands on the other screen now.',
  offerScanTitle: 'Scan the first code',
  offerScanHow: 'It stands on the other screen, where “Show the first code” was chosen.',
  answerTitle: 'Now they scan this',
  answerHow:
    'Hold this before the other one’s camera. Then leave both devices as they are: this page goes on by itself.',
  findingTitle: 'They are finding each other',
  findingHow: 'Leave both devices as they are. It takes a few seconds, at most half a minute.',
  startOver: 'Begin again',
  failedTitle: 'They did not meet',
  askCamera: 'Allow the camera, and begin again',

  picture: 'QR code for the other one’s camera',
  pictureFailed: 'The code could not be drawn. Send it as text.',
  asText: 'Send the code as text',
  asTextHint:
    'For when a camera does not work: any way to the other device will do. It says nothing of anybody, and is worth something only while this page stands here.',
  codeText: 'The code as text',
  copy: 'Copy',
  copied: 'Copied.',
  notCopied: 'This browser does not copy. Mark the text and copy it.',
  share: 'Share',

  toHub: 'It is a hub, and has no camera',
  toHubHint:
    'A laptop with a hub that keeps the casebook cannot scan. Where this app came from that hub, it takes your code directly.',
  toHubGive: 'Give my code to the hub',
  'toHub given': 'The hub has it. Leave this page open: it goes on by itself.',
  'toHub nobody':
    'No hub at this address waits for a code. Nothing was given. Open the app at the hub’s address, or send the code as text.',
  'toHub other-code':
    'The hub shows another code by now. Nothing was changed. Begin again, and scan the one on its screen.',
  'toHub unreachable':
    'The hub does not answer. Nothing was changed. Join its hotspot and try again, or send the code as text.',

  cameraOpening: 'Opening the camera…',
  cameraLooking: 'Looking for the code…',
  cameraPicture: 'What the camera sees',
  cameraRefused:
    'The camera may not be used here. Allow it in the settings of the browser and try again, or take the code as text.',
  cameraNone: 'No camera was found. Take the code as text.',
  cameraBusy:
    'The camera does not open; perhaps another app has it. Close that and try again, or take the code as text.',
  cameraAgain: 'Try the camera again',
  paste: 'Take the code as text',
  pasteLabel: 'The code that was sent to you',
  pasteTake: 'Take this code',
  pasteEmpty: 'Put the code that was sent to you here first.',

  inviteTitle: 'Somebody new',
  inviteWhat:
    'This device is not in your crew yet. Let it in only if you can see whose it is: everything the crew holds goes over to it.',
  inviteName: 'Their name',
  inviteNameHint: 'It stands beside everything that is written down on that device.',
  inviteRole: 'They are',
  technicianDoes: 'Prepares, adjusts and repairs chairs; writes in every case.',
  therapistDoes: 'Assesses, measures, fits and trains; writes in every case.',
  coordinatorDoes: 'Plans trips and stock and answers for the numbers; writes in every case.',
  visitor: 'Visitor who reads',
  visitorDoes: 'Looks on: sees every case, and can write in none.',
  inviteDo: 'Let them in',
  inviting: 'Letting them in…',
  inviteNot: 'Do not let them in',
  inviteAgain: '{name} was named before, when a meeting broke off.',
  invited: '{name} is in the crew.',
  leftBefore: 'They left before they were let in. {reason} What you typed stays for the next meeting.',

  comparing: 'Comparing what both hold…',
  exchanging: 'Exchanging: {done} of {all} cases',
  equal: 'Both now hold the same.',
  unequal: 'Not everything could be handed over. What is here stands; update both apps and meet again.',
  nothingNew: 'Nothing was new.',
  cameIn: { one: '{count} entry came in', other: '{count} entries came in' },
  wentOver: { one: '{count} entry went over', other: '{count} entries went over' },
  cameInFor: '{words}, {people}.',
  ofPeople: { one: 'for {count} person', other: 'for {count} people' },
  refused: {
    one: '{count} entry was not taken: it was altered, or nobody of the crew has signed it.',
    other: '{count} entries were not taken: they were altered, or nobody of the crew has signed them.',
  },
  goesOn: 'While both stay near, with the app open, what is new goes over by itself.',
  nobody: 'A device that is new here',
  toPeople: 'To the people',
  another: 'Meet another device',
  useMeanwhile: 'What has come can be used while the rest comes.',

  joinTitle: 'Join a crew',
  joinWhat:
    'Meet one of the crew who has the casebook: you two scan each other’s codes, they name you, and everything comes over.',
  joinSeal: 'Seal this device, and go on',
  joinSealing: 'Sealing this device…',
  waitTitle: 'They are letting you in',
  waitHow: 'You two have met. They name you on their device now. Leave both as they are.',
  joined: 'You are in the crew. The cases are coming.',
  noCrewYet:
    'What the crew holds has not come to this device yet, so nothing can be written down. Meet the one who let you in once more.',
  firstOpen:
    'The first exchange did not come to its end: cases may be missing here. What has come is kept and can be used. Meet one of the crew for the rest.',
  meetAgain: 'Meet by two codes',
} as const
