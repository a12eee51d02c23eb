/** The service with the disk behind it, as all commands use it. */
import { existsSync } from 'node:fs'
import { dirname, relative, resolve, sep } from 'node:path'
import picomatch from 'picomatch'
import type { Config } from '../config/index.ts'
import { nodeHost } from '../host.ts'
import { Service, type ServiceHost } from '../service.ts'
import { displayName, say } from './files.ts'
import { CallError, type Io } from './io.ts'
import { safe } from './width.ts'

export interface Engine {
  readonly service: Service
  /** Rules or verbs that broke down by a fault of ours: what they would have said is not known. */
  readonly faults: () => number
  /** Does some work and gives the faults in it as data, every time they happen; `tell` says each once, and counts it. */
  readonly watched: <T>(work: () => T) => { readonly value: T; readonly faults: readonly Fault[] }
  readonly tell: (fault: Fault) => void
  /** The host without what the service keeps of it: where `use` leads. */
  readonly host: ProjectHost
  /** The project file that counts for a file. What is wrong with it is said once, and counts as a fault. */
  readonly project: (file: string) => Config | undefined
  /** Whether the project file keeps a file from being meant by its folder. */
  readonly excluded: (file: string) => boolean
}

/** A rule or verb that broke down by a fault of ours. */
export interface Fault {
  readonly at: string
  readonly message: string
}

/**
 * @param config the project file to use in place of the nearest one above each file
 * @param seen the faults that were told already, for engines that work on the same files
 */
export function engine(io: Io, units?: string, config?: string, seen = new Set<string>()): Engine {
  if (units !== undefined && units !== 'imperial' && units !== 'metric')
    throw new CallError(`--units takes imperial or metric, not "${units}".`)
  const given = config === undefined ? undefined : resolve(io.cwd, config)
  if (given !== undefined && !existsSync(given))
    throw new CallError(`${config} cannot be found. --config takes a project file, doorwright.json.`)
  return engineOn(fault => nodeHost({ units, fault, config: given }), io, seen)
}

export type ProjectHost = Omit<ServiceHost, 'project'> & { project(file: string): Config | undefined }

/** The same on another host than the disk. */
export function engineOn(
  hostFor: (fault: NonNullable<ServiceHost['fault']>) => ProjectHost,
  io: Io,
  seen = new Set<string>(),
): Engine {
  const tell = ({ at, message }: Fault): void => {
    if (!seen.has(at))
      say(io, `a fault of doorwright itself in ${at}: ${message}. Everything else was looked at; please report it.`)
    seen.add(at)
  }
  let collected: Fault[] | undefined
  const watched: Engine['watched'] = work => {
    const faults: Fault[] = []
    collected = faults
    try {
      return { value: work(), faults }
    } finally {
      collected = undefined
    }
  }
  const host = hostFor((at, error) => {
    const fault = { at, message: error instanceof Error ? error.message : String(error) }
    if (collected) collected.push(fault)
    else tell(fault)
  })
  const judged = (project: Config | undefined): Config | undefined => {
    if (project && project.problems.length > 0 && !seen.has(project.file)) {
      seen.add(project.file)
      sayProblems(project, displayName(project.file, io.cwd), io)
    }
    return project
  }
  const project = (file: string): Config | undefined => judged(host.project(file))
  const matchers = new Map<Config, (path: string) => boolean>()
  const excluded = (file: string): boolean => {
    const by = project(file)
    if (!by || by.exclude.length === 0) return false
    let matches = matchers.get(by)
    // a folder's name alone stands for all that is in it
    if (!matches)
      matchers.set(
        by,
        (matches = picomatch([...by.exclude, ...by.exclude.map(p => `${p.replace(/\/$/, '')}/**`)], { dot: true })),
      )
    return matches(relative(dirname(by.file), file).split(sep).join('/'))
  }
  const service = new Service({ ...host, project })
  return { service, faults: () => seen.size, watched, tell, host, project, excluded }
}

/** What is not in force of a project file. */
export function sayProblems(project: Config, name: string, io: Io): void {
  for (const { message, range } of project.problems)
    say(io, `${safe(name)}:${range.start.line + 1}:${range.start.character + 1}  ${safe(message)}`)
}
