/** Where a hub introduces devices to each other, below its address: `wss://` and the host, then this. */
export const HUB_PATH = '/signal'
