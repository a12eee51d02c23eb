import type { Uri } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import type { OpeningParams, Server } from './protocol.ts'

/** Asks the server; of a server that is not there, or on its way, undefined: it gives no answer. */
export function serverOf(client: BaseLanguageClient): Server {
  const ask = async <R>(method: string, params: unknown): Promise<R | null | undefined> => {
    if (!client.isRunning()) return undefined
    try {
      return await client.sendRequest<R>(`doorwright/${method}`, params)
    } catch {
      return undefined // the client has written the reason to its output
    }
  }
  const uriOf = (uri: Uri): string => client.code2ProtocolConverter.asUri(uri)
  // Not the editor's own object: on its way to a worker that loses its line and column.
  const plain = ({ position, ...p }: OpeningParams): OpeningParams =>
    position ? { ...p, position: { line: position.line, character: position.character } } : p
  return {
    preview: p => ask('preview', plain(p)),
    openings: uri => ask('openings', { uri: uriOf(uri) }),
    size: p => ask('size', plain(p)),
    sheet: uri => ask('sheet', { uri: uriOf(uri) }),
    toEdit: edit => client.protocol2CodeConverter.asWorkspaceEdit(edit as never),
  }
}
