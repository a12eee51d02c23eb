/** The operator and its chain, for the second computation. */
import { type Fields, from, halve, known, type Maybe, type Put, up } from './parts.ts'

/** Chain pitch in eightieths of an inch, ASME B29.1: the number's leading digits are eighths (41: a light half inch). */
const CHAINS: Readonly<Record<string, number>> = { ansi_25: 20, ansi_35: 30, ansi_40: 40, ansi_41: 40, ansi_50: 50, ansi_60: 60, ansi_80: 80 } // biome-ignore format: a list

const evenUp = (x: number): number => 2 * up(x / 2)

export function operator(
  o: Fields,
  adjuster: Fields,
  { worst, closed, height, turns }: { worst: Maybe; closed: Maybe; height: Maybe; turns: Maybe },
  put: Put,
): void {
  // the operator
  const own = o.side as string | undefined
  const across = adjuster.side === undefined ? undefined : adjuster.side === 'right' ? 'left' : 'right'
  put('operator.side', '1', own ?? across, { origin: own === undefined ? 'default' : 'given' })
  const [n1, n2] = [from(o, 'sprocket_drive'), from(o, 'sprocket_drum')]
  // no sprockets: one to one; one alone says nothing
  const gear = n1 === undefined && n2 === undefined ? 1 : known((x, y) => y / x, n1, n2)
  const efficiency = from(o, 'efficiency') ?? 0.9
  const needed = known((x, c) => x + (from(o, 'friction') ?? 0.05) * c, worst, closed)
  put('operator.torque_needed', 'lbf*in', needed, { scale: closed })
  put(
    'operator.torque_available',
    'lbf*in',
    known((T, g) => T * g * efficiency, from(o, 'torque'), gear),
  )
  const turning = known((s, g) => s / g, from(o, 'speed'), gear)
  put(
    'operator.power_needed',
    'lbf*in/s',
    known((T, v) => (T * 2 * Math.PI * v) / efficiency, needed, turning),
    { scale: known((c, v) => c * v, closed, turning) },
  )
  put(
    'operator.door_speed',
    'in/s',
    known((h, n, v) => (h / n) * v, height, turns, turning),
  )
  put(
    'operator.hand_pull',
    'lbf',
    known((T, r, D) => T / ((r * efficiency * D) / 2), needed, from(o, 'ratio'), from(o, 'hand_wheel')),
  )
  const p = known(x => x / 80, o.chain === undefined ? undefined : CHAINS[o.chain as string])
  put(
    'operator.chain_pull',
    'lbf',
    known((T, p, n) => (2 * T * Math.sin(Math.PI / n)) / p, needed, p, n2),
  )
  const c = from(o, 'centers')
  const chain = [p, n1, n2, c].includes(undefined)
    ? undefined
    : (x: number): number => (2 * x) / p! + (n1! + n2!) / 2 + ((n2! - n1!) ** 2 * p!) / (4 * Math.PI ** 2 * x)
  const exact = chain?.(c!)
  put('operator.chain_pitches', '1', exact)
  const links = known(evenUp, exact)
  put('operator.chain_links', '1', links)
  put(
    'operator.centers_set',
    'in',
    known(l => halve(chain!, l, c! * (1 - 1e-6), c! * 2), links),
  )
  put(
    'operator.limit_turns_used',
    'turn',
    known((n, g) => n * g, turns, gear),
  )
}
