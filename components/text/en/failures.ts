import type { ShownType } from '../say-failure.ts'
import type { PartedType, UnmetType } from '../say-meeting.ts'

/** Why something could not be done, by the type of the refusal: what happened, what is still safe, what to do. */
export const failure = {
  'storage-full':
    'This device has no room left. Everything saved before is safe. Free some room, or write a bundle, then save again.',
  'storage-failed':
    'The store of this device did not take what was written. Everything saved before is safe. Try again; if it fails again, close the app and open it anew.',
  'storage-unreadable': 'The store of this device cannot be read. Nothing was changed. Close the app and open it anew.',
  'storage-unavailable':
    'This browser does not let the app store anything here. Nothing was changed. Leave private browsing, or allow this page to keep data, and open the app again.',
  'newer-store':
    'A later version of the app has stored here. Nothing was changed or deleted. Close the app, open it again while there is a network, and it will be up to date.',
  'catalogue-rebuilt':
    'The chair catalogue on this device was damaged and was made anew from what could be read. Cases are safe. Meet one of the crew or read a bundle to have it whole again.',
  'catalogue-altered':
    'The chair catalogue on this device was changed by something other than this app. What was changed has been put out. Cases are safe. Meet one of the crew to have it whole again.',
  'store-restored':
    'The browser had lost this device’s store. It was put back whole from the second copy: nothing is missing. Hand everything on soon, to one of the crew or as a bundle.',
  'no-second-copy':
    'This device cannot keep its second copy just now, perhaps because there is no room. What is saved is safe, but if the browser loses it there is no other copy here. Make room, close the app and open it anew; until then hand everything on each day.',
  'wrong-passphrase':
    'This passphrase does not open the casebook. Everything stored is safe and was not touched. Try again; capital letters count.',
  'short-passphrase':
    'The passphrase needs at least {count} letters or signs. Six words are better. Nothing was changed.',
  'lock-unreadable':
    'The lock of this store cannot be read: it is damaged, or a later version of the app wrote it. Nothing was changed. Update the app; if that does not help, strike this device off and invite it anew.',
  'not-a-device-key':
    'The key of this device cannot be read, so nothing can be opened here. Nothing was changed. Strike this device off from another one of the crew and invite it anew.',
  'already-set-up': 'This device is set up already. Nothing was changed. Open it with its passphrase.',
  'not-set-up': 'This device is not set up yet, so there is nothing to open. Choose a passphrase first.',
  'not-practice': 'This store holds real cases and is not opened for practice. Nothing was changed.',
  'no-casebook': 'There is no casebook in this store. Found one, or join one.',
  'casebook-exists': 'This store holds a casebook already. It was left as it is; open it.',
  'nothing-said': 'There is nothing to save yet.',
  'unknown-field': 'This version of the app does not know that question. Update the app.',
  'invalid-value': 'An answer cannot be taken as it is: {field}.',
  'unknown-case': 'There is no such case on this device.',
  held: 'A chair cannot be written down as handed over while something stands in the way. What stands in the way is listed with the handover; settle it first.',
  visitor: 'This device looks on as a visitor and cannot record.',
  'not-in-crew': 'This device is not in the crew yet: meet the one who invited you first.',
  'hidden-case': 'One of the crew asked to erase this case; it is hidden and takes nothing.',
  'erased-case': 'This case was erased by two of the crew and takes nothing any more.',
  'unknown-device': 'That device is not in the crew. Nothing was changed.',
  'own-device': 'A device cannot strike itself off; another one of the crew must.',
  'let-this-in':
    'That device let this one into the crew: struck off from here, this one would be out of the crew as well. Nothing was changed. Another one of the crew must strike it off, whom it did not let in.',
  'too-long': 'That is too much for one entry. Say it in several.',
  'photo-not-agreed': 'Nobody has agreed that photos may be taken, or it was taken back. Nothing was saved; ask first.',
  'photo-removed': 'This very photo was taken out of this case and does not come back.',
  'unknown-photo': 'This case names no such photo. It was not kept.',
  'rules-failed':
    'For one person what follows from the record could not be worked out. What was saved is safe. Update the app; if that does not help, tell the crew.',
  'secret-unreadable':
    'The secret of this casebook cannot be read on this device. Cases are safe. Meet one of the crew: then it comes again.',
  'entry-refused':
    'What was written does not hold: it was signed or addressed wrongly, which is a fault of the app. Close the app, open it anew and save again.',
  'not-a-bundle': 'This file is not a bundle. Nothing was changed. Choose another file.',
  'newer-format':
    'This bundle was made by a later version of the app, or its beginning is damaged. Nothing was changed. Update the app, then take it in.',
  truncated: 'This bundle is cut short: its end is missing. Nothing was changed. Copy it from its source once more.',
  damaged: 'This bundle was damaged on its way. Nothing was changed. Copy it from its source once more.',
  'other-casebook':
    'This bundle belongs to another casebook. Nothing was changed. Open that casebook, then take it in.',
  'unknown-epoch':
    'This bundle was sealed after somebody was struck off, which this device has not heard of yet. Nothing was changed. Meet one of the crew, then take it in.',
  'wrong-secret':
    'This bundle does not open with the secret that is here, or somebody changed the file. Nothing was changed. Meet one of the crew to receive the secret again.',
  'too-large': 'This file is larger than any casebook. Nothing was changed. Ask who made it.',
  'unreadable-inside': 'This bundle opens, but what is in it cannot be read. Nothing was changed. Ask for a new one.',
  partial:
    'This bundle holds only part of a record: what it builds on is not in it. Nothing was changed. Ask for a whole one.',
  'file-unreadable':
    'This device could not read the file. Nothing was changed. Choose it again, or copy it from its source once more.',
  someAnswer: 'one of those just typed',
  fault:
    'This is a fault of the app. Close the app and open it anew; if it comes again, update the app or tell the crew.',
} as const satisfies Readonly<Record<ShownType, string>> & Readonly<Record<string, string>>

/** What is wrong at one place of a catalogue file, by the code of the check. */
export const issue = {
  invalid_type: 'is missing, or of another kind',
  too_small: 'is too small or too short',
  too_big: 'is too great or too long',
  unrecognized_keys: 'holds a name that is not known',
  invalid_value: 'is none of the values allowed',
  other: 'does not fit the rest',
} as const

/** Why two devices did not meet, by the type of the refusal. */
export const unmet = {
  'no-address':
    'This device knows no address at which the other one could reach it, so a code would lead nowhere. Nothing was exchanged. Join the same hotspot on both, allow the camera (that lets the browser know its own address), and begin again; or hand on a bundle.',
  'not-a-code': 'This is not a code of this page. Nothing was changed. Scan the code on the other screen.',
  'other-code-version':
    'This code comes from a later version of the app. Nothing was changed. Update this one, or hand on a bundle.',
  'damaged-code':
    'The code was not read whole. Nothing was changed. Scan it again, nearer and straight on; as text, copy it whole.',
  'strange-description':
    'This browser describes its connection in a way that the app does not know. Nothing was exchanged. Use another browser, or hand on a bundle.',
  'own-code': 'This is the code of this device itself. Nothing was changed. Scan the code on the other screen.',
  'answer-for-offer':
    'This is the second code, and this device asks for the first. Nothing was changed. One device shows the first code, the other one scans it and shows the second.',
  'offer-for-answer':
    'Both devices show a first code. Nothing was changed. Let one of them begin again and scan first.',
  'no-casebook':
    'Neither device holds a casebook. Nothing was changed. Found one on one of them, or find one of the crew.',
  'other-casebook':
    'The other device holds another casebook. Nothing was exchanged. Open the same casebook on both, and begin again.',
  'not-in-time':
    'The two devices did not find each other in time. Nothing was exchanged. Join the same hotspot on both, go nearer to each other, and begin again with new codes.',
  'given-up': 'This was given up here. Nothing was exchanged. Begin again with new codes.',
  'closed-early':
    'The other device hung up before it had shown who it is. Nothing was exchanged. Begin again; if it goes on, ask whether this device was struck off.',
  'no-proof-in-time':
    'The other device did not show in time who it is. Nothing was exchanged. Go nearer to each other, and begin again.',
  'other-gate-version':
    'The two apps are too far apart to recognise each other. Nothing was exchanged. Update the older one, or hand on a bundle.',
  'met-itself': 'This device met itself. Nothing was exchanged.',
  'not-in-crew':
    'The other device is not in the crew, or was struck off. Nothing was exchanged. One of the crew can invite it by two codes.',
  'false-proof':
    'The other device could not prove who it is on this connection: somebody may stand between the two. Nothing was exchanged. Meet by two codes, where both can see each other.',
  unexpected:
    'The other device broke off the greeting with something that does not belong there. Nothing was exchanged. Begin again; if it goes on, update both apps.',
  'no-way':
    'The two devices found no way to each other. Nothing was exchanged. Join the same hotspot on both, go nearer to each other, and begin again; if the hotspot keeps its guests apart, use another one or hand on a bundle.',
  'hub-unreachable':
    'The hub does not answer. Nothing was exchanged, and nothing is lost. Join its hotspot and see that the hub runs; this device goes on trying. Two codes and bundles need no hub.',
  'not-invited':
    'The connection ended before the other device had invited this one. Nothing was kept here but the lock. Begin again with new codes.',
  'unreadable-welcome':
    'The other device sent an invitation that this app cannot read. Nothing was kept here but the lock. Update the older app, and begin again.',
} as const satisfies Readonly<Record<UnmetType, string>>

/** Why a connection is over. */
export const parted = {
  ended: 'The connection has ended. What had come by then is kept; meet again for the rest.',
  cut: 'The connection broke off. What had come by then is kept; meet again for the rest.',
  silent: 'The other device fell silent. What had come by then is kept; meet again for the rest.',
  flooded:
    'The other device sent more than was asked for, so the connection was closed. What had come by then is kept.',
  refused:
    'One of the two devices refused to go on: the other was struck off meanwhile, or sent what cannot be read. What had come by then is kept. If the crew knows of no strike-off, update both apps and meet again.',
} as const satisfies Readonly<Record<PartedType, string>>
