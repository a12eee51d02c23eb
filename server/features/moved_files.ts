/** What `use` has to say after files moved: paths in the files that use them, and in the moved ones themselves. */
import type { Edit, Files, Item } from '../model/index.ts'

export interface Move {
  readonly from: string
  readonly to: string
}

/** Where a name lies after the moves: a folder takes all that is in it along. */
export function movedTo(file: string, moves: readonly Move[]): string {
  for (const { from, to } of moves) {
    if (file === from) return to
    const rest = file.startsWith(from) ? file.slice(from.length) : ''
    if (/^[\\/]/.test(rest)) return to + rest
  }
  return file
}

export function movedFiles(moves: readonly Move[], where: readonly string[], files: Files): Edit[] {
  const out: Edit[] = []
  for (const file of where)
    for (const use of files.get(file)?.uses ?? []) {
      const path = use.node.path
      if (!path?.closed) continue
      const target = files.target(file, path.value)
      if (!target.ok) continue
      const [here, there] = [movedTo(file, moves), movedTo(target.file, moves)]
      if (here === file && there === target.file) continue
      const fresh = relative(here, there)
      // two that moved together still find each other
      if (fresh === undefined || fresh === relative(file, target.file)) continue
      out.push({ place: inQuotes(use, path.start, path.end), text: fresh.replace(/["\\]/g, '\\$&') })
    }
  return out
}

const inQuotes = ({ file, chunk }: Item, start: number, end: number) => ({
  file,
  chunk,
  start: start + 1,
  end: end - 1,
})

/** `other` as a `use` in `from` names it, with `/`; undefined where no path leads there (another disk). */
export function relative(from: string, other: string): string | undefined {
  const [a, b] = [from.split(/[\\/]/).slice(0, -1), other.split(/[\\/]/)]
  let same = 0
  while (same < a.length && same < b.length - 1 && a[same] === b[same]) same++
  if (same === 0 && `${a[0] ?? ''}${b[0]}`.includes(':')) return undefined
  return [...a.slice(same).map(() => '..'), ...b.slice(same)].join('/')
}
