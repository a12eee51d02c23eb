/** What a person can set, under `doorwright.` in the editor. */
import type { Connection, InitializeParams } from 'vscode-languageserver/node'

export interface Settings {
  /** Derived values beside the lines. */
  readonly inlayHints: boolean
  /** Findings that an `allow` accepts, with their reason. */
  readonly showAccepted: boolean
}

const DEFAULTS: Settings = { inlayHints: true, showAccepted: true }

/** The settings in what a client sent; what is missing or no true/false has its default. */
export function settingsFrom(sent: unknown): Settings {
  const given = (sent ?? {}) as Record<string, unknown>
  const hints = given.inlayHints
  return {
    inlayHints: typeof hints === 'boolean' ? hints : DEFAULTS.inlayHints,
    showAccepted: typeof given.showAccepted === 'boolean' ? given.showAccepted : DEFAULTS.showAccepted,
  }
}

/** Asks the client where it can be asked; undefined where it cannot. */
export async function fetchSettings(
  connection: Connection,
  client: InitializeParams['capabilities'],
): Promise<Settings | undefined> {
  if (!client.workspace?.configuration) return undefined
  return settingsFrom(await connection.workspace.getConfiguration('doorwright'))
}
