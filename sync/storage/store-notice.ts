/** What the store itself has to tell, to be shown until the next start. */
export type StoreNotice =
  | { readonly type: 'catalogue-rebuilt'; readonly lostRows: number; readonly message: string }
  | { readonly type: 'catalogue-altered'; readonly entries: number; readonly message: string }
  | { readonly type: 'store-restored'; readonly message: string }
  | { readonly type: 'no-second-copy'; readonly message: string }

export interface StoreState {
  readonly catalogueRowsLost: number
  readonly catalogueEntriesForeign: number
  /** The browser had lost the store, and it was made whole from the second copy. */
  readonly wasRestored: boolean
  /** A second copy should be there, and cannot be written to. */
  readonly lacksSecondCopy: boolean
}

export const noticesOf = (state: StoreState): readonly StoreNotice[] => {
  const notices: (StoreNotice | false)[] = [
    state.catalogueRowsLost > 0 && {
      type: 'catalogue-rebuilt',
      lostRows: state.catalogueRowsLost,
      message:
        'The chair catalogue on this device was damaged and was made anew from what could be read. Cases are safe. Meet one of the crew or read a bundle to have it whole again.',
    },
    state.catalogueEntriesForeign > 0 && {
      type: 'catalogue-altered',
      entries: state.catalogueEntriesForeign,
      message:
        'The chair catalogue on this device was changed by something other than this app. What was changed has been put out. Cases are safe. Meet one of the crew to have it whole again.',
    },
    state.wasRestored && {
      type: 'store-restored',
      message:
        'The browser had lost this device\u2019s store. It was put back whole from the second copy: nothing is missing. Hand everything on soon, to one of the crew or as a bundle.',
    },
    state.lacksSecondCopy && {
      type: 'no-second-copy',
      message:
        'This device cannot keep its second copy just now, perhaps because there is no room. What is saved is safe, but if the browser loses it there is no other copy here. Make room, close the app and open it anew; until then hand everything on each day.',
    },
  ]
  return notices.filter(notice => notice !== false)
}
