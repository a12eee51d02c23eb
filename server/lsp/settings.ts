/** What a person can set, under `doorwright.` in the editor. */
import type { Connection, InitializeParams } from 'vscode-languageserver/node'

export interface Settings {
  /** Derived values beside the lines. */
  readonly inlayHints: boolean
  /** Findings that an `allow` accepts, with their reason. */
  readonly showAccepted: boolean
  /** The line above each opening. */
  readonly codeLens: boolean
}

const DEFAULTS: Settings = { inlayHints: true, showAccepted: true, codeLens: true }

/** The settings in what a client sent; what is missing or no true/false has its default. */
export function settingsFrom(sent: unknown): Settings {
  const given = (sent ?? {}) as Record<string, unknown>
  const yes = (name: keyof Settings): boolean => {
    const value = given[name]
    return typeof value === 'boolean' ? value : DEFAULTS[name]
  }
  return { inlayHints: yes('inlayHints'), showAccepted: yes('showAccepted'), codeLens: yes('codeLens') }
}

/** Asks the client where it can be asked; undefined where it cannot. */
export async function fetchSettings(
  connection: Connection,
  client: InitializeParams['capabilities'],
): Promise<Settings | undefined> {
  if (!client.workspace?.configuration) return undefined
  return settingsFrom(await connection.workspace.getConfiguration('doorwright'))
}
