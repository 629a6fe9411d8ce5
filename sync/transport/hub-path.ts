/** Where a hub introduces devices to each other, below its address: `wss://` and the host, then this. */
export const HUB_PATH = '/signal'
/** Where a hub that is to be invited itself takes the answer to the code on its screen. */
export const HUB_ANSWER_PATH = '/answer'
