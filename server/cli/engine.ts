/** The service with the disk behind it, as all commands use it. */
import { nodeHost } from '../host.ts'
import { Service } from '../service.ts'
import { say } from './files.ts'
import { CallError, type Io } from './io.ts'

export interface Engine {
  readonly service: Service
  /** Rules or verbs that broke down by a fault of ours: what they would have said is not known. */
  readonly faults: () => number
}

export function engine(io: Io, units?: string): Engine {
  if (units !== undefined && units !== 'imperial' && units !== 'metric')
    throw new CallError(`--units takes imperial or metric, not "${units}".`)
  const seen = new Set<string>()
  const fault = (at: string, error: unknown): void => {
    if (!seen.has(at)) say(io, `a fault of doorwright itself in ${at}: ${error instanceof Error ? error.message : String(error)}. Everything else was looked at; please report it.`)
    seen.add(at)
  }
  return { service: new Service(nodeHost({ units, fault })), faults: () => seen.size }
}
