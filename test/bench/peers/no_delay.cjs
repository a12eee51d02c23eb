/** Loaded into a server that waits before it validates: what waits this long (NO_DELAY_MS) waits no longer. */
const wait = Number(process.env.NO_DELAY_MS)
const { setTimeout } = globalThis
globalThis.setTimeout = (work, ms, ...rest) => setTimeout(work, ms === wait ? 0 : ms, ...rest)
