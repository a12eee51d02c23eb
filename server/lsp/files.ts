/** File names as the service has them (so that messages can show them) and URIs as the client has them. */

/** How the machine writes names: paths on a disk, addresses where there is none. Neither throws. */
export interface Naming {
  name(uri: string): string
  uri(name: string): string
}

export class FileNames {
  readonly #naming: Naming
  /** The client's own spelling of the URIs of open documents. */
  readonly #uris = new Map<string, string>()

  constructor(naming: Naming = { name: uri => uri, uri: name => name }) {
    this.#naming = naming
  }

  name(uri: string): string {
    return this.#naming.name(uri)
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
    return this.#uris.get(name) ?? this.#naming.uri(name)
  }
}
