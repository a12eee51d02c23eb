/** File names as the service has them (paths, so that messages can show them) and URIs as the client has them. */
import { fileURLToPath, pathToFileURL } from 'node:url'

export class FileNames {
  /** The client's own spelling of the URIs of open documents. */
  readonly #uris = new Map<string, string>()

  /** A path for `file:` URIs; any other (a document never saved) stands for itself. */
  name(uri: string): string {
    try {
      if (uri.startsWith('file:')) return fileURLToPath(uri)
    } catch {
      // A file on another machine, or no valid URI: it can be looked at, but its `use` leads nowhere.
    }
    return uri
  }

  opened(uri: string): string {
    const name = this.name(uri)
    this.#uris.set(name, uri)
    return name
  }

  closed(name: string): void {
    this.#uris.delete(name)
  }

  uri(name: string): string {
    return (
      this.#uris.get(name) ?? (URL.canParse(name) && !/^[A-Za-z]:[\\/]/.test(name) ? name : pathToFileURL(name).href)
    )
  }
}
