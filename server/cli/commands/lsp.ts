/**
 * `lsp`: the language server. This is the one place where the command line reaches into the language server's room, so
 * that both come in one program; it is loaded only here, so that the other commands start without it.
 */
import { CallError } from '../io.ts'

export interface LspOptions {
  readonly stdio?: boolean
  readonly nodeIpc?: boolean
  readonly socket?: string
}

export async function lsp(options: LspOptions): Promise<void> {
  const asked = [
    options.stdio && '--stdio',
    options.nodeIpc && '--node-ipc',
    options.socket !== undefined && `--socket=${options.socket}`,
  ].filter(a => typeof a === 'string')
  if (asked.length > 1) throw new CallError(`Only one way to talk at a time, not ${asked.join(' and ')}.`)
  if (
    options.socket !== undefined &&
    !(/^\d+$/.test(options.socket) && Number(options.socket) >= 1 && Number(options.socket) <= 65535)
  )
    throw new CallError(`--socket takes the number of a port, 1 to 65535, not "${options.socket}".`)
  if (options.nodeIpc && !process.send)
    throw new CallError('--node-ipc is for a program that starts this one with a channel to it; there is none.')
  const { start } = await import('../../lsp/start.ts')
  start([asked[0] ?? '--stdio'])
}
