/** The two versions of a comparison: files and folders on the disk, or a revision that git knows. */
import { existsSync } from 'node:fs'
import { posix, relative, resolve, sep } from 'node:path'
import type { Version } from '../service.ts'
import { type Baseline, withKnown } from './baseline.ts'
import { type Engine, engine, engineOn } from './engine.ts'
import { displayName, findFiles, PASSED_OVER, readFiles, say } from './files.ts'
import { CallError, type Io } from './io.ts'
import { findRevision, type Revision, revisionHost } from './revision.ts'
import { safe } from './width.ts'

export interface Side {
  /** How it was called. */
  readonly name: string
  readonly version: Version
  readonly files: number
  /** Something in it could not be used; it has been said. */
  readonly faults: number
  /** Whether its project file excludes the file of this name. */
  readonly skips: Skips
}

type Skips = (name: string) => boolean

export interface SideOptions {
  readonly units?: string
  readonly config?: string
  /** What it has of the later version is not new. */
  readonly known?: Baseline
}

/** What an argument means. A file or folder of that name comes first: a revision can be written in another way too. */
type Meant =
  | { readonly kind: 'disk'; readonly path: string; readonly name: string }
  | { readonly kind: 'revision'; readonly revision: Revision; readonly below: string | undefined }

export async function bothSides(
  old: string,
  now: string | undefined,
  options: SideOptions,
  io: Io,
): Promise<readonly [Side, Side]> {
  const before = meaning(old, io)
  if (now === undefined && before.kind === 'disk')
    throw new CallError(
      `compare needs two versions: what ${old} is to be compared with, or a git revision such as HEAD in its place.`,
    )
  const after: Meant = now === undefined ? workTree(before, io) : meaning(now, io)
  // a bare revision beside a file or folder stands for the same one in it
  const same =
    before.kind === 'revision' && before.below === undefined && after.kind === 'disk'
      ? { ...before, below: pathIn(before.revision, after.path, io) }
      : before
  // what the later version passes over is passed over in both, or it would look as if those doors had gone
  const b = await read(after, undefined, options, io)
  const a = await read(same, b.skips, { ...options, known: undefined }, io)
  if (a.files + b.files === 0)
    throw new CallError(
      a.faults + b.faults === 0
        ? 'There is no .door file in either of the two versions.'
        : 'Nothing could be read of either version, so there is nothing to compare.',
    )
  return [a, b]
}

function meaning(arg: string, io: Io): Meant {
  if (arg.trim() === '')
    throw new CallError('compare was given an empty name. Name a file, a folder or a git revision.')
  if (existsSync(resolve(io.cwd, arg))) return { kind: 'disk', path: resolve(io.cwd, arg), name: arg }
  const whole = findRevision(arg, io.cwd)
  if (whole) return { kind: 'revision', revision: whole, below: undefined }
  const colon = arg.indexOf(':')
  const revision = colon > 0 ? findRevision(arg.slice(0, colon), io.cwd) : undefined
  if (!revision) throw new CallError(`"${safe(arg)}" is neither a file or folder here, nor a revision that git knows.`)
  const path = arg.slice(colon + 1)
  const below = posix
    .normalize(/^\.\.?(\/|$)/.test(path) ? posix.join(revision.prefix, path) : path || '.')
    .replace(/\/$/, '')
  if (below !== '.' && !revision.paths.some(p => p === below || p.startsWith(`${below}/`)))
    throw new CallError(`There is no .door file ${safe(path)} in ${safe(revision.name)}.`)
  return { kind: 'revision', revision, below: below === '.' ? '' : below }
}

function workTree(before: (Meant & { kind: 'revision' }) | Meant, io: Io): Meant {
  if (before.kind !== 'revision' || before.below === undefined)
    return { kind: 'disk', path: io.cwd, name: 'the work tree' }
  return { kind: 'disk', path: resolve(before.revision.top, before.below), name: before.below || 'the work tree' }
}

/** The path of something on the disk in a tree. */
function pathIn(revision: Revision, path: string, io: Io): string {
  const way = relative(io.cwd, path).split(sep).join('/')
  const below = posix.normalize(posix.join(revision.prefix, way || '.')).replace(/\/$/, '')
  if (below === '..' || below.startsWith('../'))
    throw new CallError(
      `${path} lies outside of what git keeps here, so there is nothing in ${revision.name} to compare it with.`,
    )
  return below === '.' ? '' : below
}

const read = async (meant: Meant, skips: Skips | undefined, options: SideOptions, io: Io): Promise<Side> =>
  meant.kind === 'disk' ? fromDisk(meant, skips, options, io) : fromRevision(meant, skips, options, io)

async function fromDisk(
  meant: { path: string; name: string },
  skips: Skips | undefined,
  { units, config, known }: SideOptions,
  io: Io,
): Promise<Side> {
  const run = engine(io, units, config)
  const own: Skips = name => run.excluded(resolve(meant.path, name))
  const excluded = (file: string): boolean => (skips ?? own)(nameBelow(meant.path, file))
  const files: SideFile[] = []
  let unusable = 0
  for await (const input of readFiles(findFiles([argument(meant.path, io.cwd)], io.cwd, excluded), io, undefined)) {
    if (!input) {
      unusable++
      continue
    }
    run.service.open(input.file, input.text)
    files.push({ file: input.file, name: nameBelow(meant.path, input.file), text: input.text })
  }
  return side(meant.name, run, files, unusable, own, known)
}

function fromRevision(
  { revision, below }: { revision: Revision; below: string | undefined },
  skips: Skips | undefined,
  { units, config, known }: SideOptions,
  io: Io,
): Side {
  if (units !== undefined && units !== 'imperial' && units !== 'metric')
    throw new CallError(`--units takes imperial or metric, not "${units}".`)
  const given = config === undefined ? undefined : resolve(io.cwd, config)
  const run = engineOn(
    fault => revisionHost(revision, { units: units as 'imperial' | undefined, config: given, fault }),
    io,
  )
  const folder = below ?? revision.prefix.replace(/\/$/, '')
  const own: Skips = name => run.excluded(revision.fileOf(posix.join(folder, name)))
  const nameOf = (path: string): string => nameBelow(revision.fileOf(folder), revision.fileOf(path))
  const files: SideFile[] = []
  let unusable = 0
  for (const path of revision.paths) {
    const named = path === folder
    if (!named && folder !== '' && !path.startsWith(`${folder}/`)) continue
    const tools = posix
      .dirname(path)
      .split('/')
      .some(f => PASSED_OVER.has(f))
    if (!named && (tools || (skips ?? own)(nameOf(path)))) continue
    const text = revision.text(path)
    if (!text.ok) {
      say(io, `${safe(path)} in ${safe(revision.name)} ${text.reason}.`)
      unusable++
      continue
    }
    run.service.open(revision.fileOf(path), text.text)
    files.push({ file: revision.fileOf(path), name: nameOf(path), text: text.text })
  }
  return side(below ? `${revision.name}:${below}` : revision.name, run, files, unusable, own, known)
}

/** A path as somebody would write it; never `-`, which is standard input. */
function argument(path: string, cwd: string): string {
  if (path === cwd) return '.'
  const name = displayName(path, cwd)
  return name === '-' ? path : name
}

/** A file's name in what is compared; of a file that was named itself, its last part. */
const nameBelow = (folder: string, file: string): string =>
  relative(folder, file).split(sep).join('/') || posix.basename(file.split(sep).join('/'))

interface SideFile {
  readonly file: string
  readonly name: string
  readonly text: string
}

function side(
  name: string,
  run: Engine,
  files: readonly SideFile[],
  unusable: number,
  skips: Skips,
  known: Baseline | undefined,
): Side {
  const all = run.service.version(files)
  const version = known ? withKnown(all, files, run.service, known) : all
  return { name, version, files: files.length, faults: unusable + run.faults(), skips }
}
