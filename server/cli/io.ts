/** What a command may touch of the world around it, so that a test can stand in for the terminal. */
import { LARGEST_FILE } from '../host.ts'
import { type Colours, colours, wantsColour } from './colour.ts'

export interface Io {
  out(text: string): void
  err(text: string): void
  /** All of standard input. */
  stdin(): Promise<Uint8Array>
  readonly cwd: string
  /** Columns that text may fill. */
  readonly width: number
  readonly colour: Colours
  /** For what goes to standard error. */
  readonly errColour: Colours
  /** Nobody reads standard output any more: what is left to do is not worth doing. */
  readonly closed: boolean
  /** Waits until a slow reader of standard output has caught up, so that what is written does not pile up in memory. */
  drained?(): Promise<void>
  /** Shows how far a long run is, on a terminal's standard error only; `undefined` takes it away. */
  progress(text: string | undefined): void
}

/** Something about the call or a file that the user has to put right: said on standard error, exit status 2. */
export class CallError extends Error {}

/** Lines much longer than this are hard to read, however wide the window. */
const WIDEST = 110

export function processIo(): Io {
  let closed = false
  let shown = false
  for (const stream of [process.stdout, process.stderr])
    stream.on('error', (error: NodeJS.ErrnoException) => {
      // The reader went away (`| head`): no fault of ours and nothing to tell.
      if (error.code === 'EPIPE' || error.code === 'EOF' || error.code === 'ERR_STREAM_DESTROYED') closed = true
      else throw error
    })
  const progress = (text: string | undefined): void => {
    if (!process.stderr.isTTY || (text === undefined && !shown)) return
    shown = text !== undefined
    process.stderr.write(`\r\x1b[2K${text ?? ''}`)
  }
  const write = (stream: NodeJS.WriteStream, text: string): void => {
    progress(undefined)
    if (!closed) stream.write(text)
  }
  return {
    out: text => write(process.stdout, text),
    err: text => write(process.stderr, text),
    drained: async () => {
      if (!closed && process.stdout.writableNeedDrain) await oneOf(process.stdout, ['drain', 'close', 'error'])
    },
    stdin: readAll,
    cwd: process.cwd(),
    width: Math.max(40, Math.min(process.stdout.columns || WIDEST, WIDEST)),
    colour: colours(wantsColour(process.env, process.stdout.isTTY)),
    errColour: colours(wantsColour(process.env, process.stderr.isTTY)),
    get closed() {
      return closed
    },
    progress,
  }
}

const oneOf = (stream: NodeJS.WriteStream, events: readonly string[]): Promise<void> =>
  new Promise(done => {
    const heard = (): void => {
      for (const e of events) stream.off(e, heard)
      done()
    }
    for (const e of events) stream.on(e, heard)
  })

async function readAll(): Promise<Uint8Array> {
  const parts: Buffer[] = []
  let length = 0
  for await (const part of process.stdin) {
    parts.push(part as Buffer)
    length += (part as Buffer).length
    // What is too long is refused; no need to take in all of it.
    if (length > LARGEST_FILE) break
  }
  return Buffer.concat(parts)
}
