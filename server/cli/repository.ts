/** Where files lie as a service that keeps repositories names them: relative to the root, whatever folder we run in. */
import { existsSync } from 'node:fs'
import { dirname, isAbsolute, join, relative, sep } from 'node:path'

/** The nearest folder at or above `from` that git keeps, else `from` itself. */
export function rootOf(from: string): string {
  for (let at = from; ; at = dirname(at)) {
    if (existsSync(join(at, '.git'))) return at
    if (dirname(at) === at) return from
  }
}

/** With `/`; undefined for a file that lies outside of the root. */
export function below(root: string, file: string): string | undefined {
  const way = relative(root, file)
  if (way === '' || way === '..' || way.startsWith(`..${sep}`) || isAbsolute(way)) return undefined
  return way.split(sep).join('/')
}
