/** What the preview's page and the extension say to each other. Lines and columns count from 0. */

export interface Section {
  readonly id: string
  readonly title: string
  readonly html: string
}

/** What the page shows. */
export interface Update {
  readonly type: 'update'
  readonly uri: string
  readonly pinned: boolean
  /** The opening that is shown, where there is one. */
  readonly mark?: string
  readonly marks: readonly string[]
  /** The opening's first line; the lines in the sections count from it. */
  readonly line: number
  readonly sections: readonly Section[]
  /** In place of sections. */
  readonly message?: string
}

export type FromPage =
  | { readonly type: 'ready' }
  | { readonly type: 'sheet' }
  | { readonly type: 'go'; readonly line: number; readonly character: number }
  | { readonly type: 'choose'; readonly mark: string }
  | { readonly type: 'pin'; readonly pinned: boolean }

/** What the page remembers, so that it is the same after the window was opened anew. */
export interface Remembered {
  readonly uri?: string
  readonly mark?: string
  readonly pinned?: boolean
  /** The sections that are closed, by id. */
  readonly closed?: readonly string[]
  readonly scroll?: number
}
