/**
 * Counterbalances that fit an opening. The search is exhaustive over pipe, wire, number of springs and whole coils; each
 * candidate is worked out by the same mechanics as everything else. SI; turns where a name says so.
 */

import type { Pipe } from '../../mechanics/index.ts'
import * as m from '../../mechanics/index.ts'

/** What the springs have to do, and what room there is for them. */
export interface Task {
  /** Weight of the curtain per height, kg/m, and of the bottom bar, kg. */
  readonly per: number
  readonly bar: number
  readonly height: number
  readonly thickness: number
  readonly ring: number
  readonly turnsDead: number
  /** Where it is written; else half the coil. */
  readonly rise: number | undefined
  readonly span: number
  readonly modulus: number
  readonly pipes: readonly (readonly [name: string | undefined, pipe: Pipe])[]
  readonly wires: readonly WireChoice[]
  readonly holes: number
  readonly shaft: number | undefined
  /** Cycles to last. */
  readonly cycles: number
  readonly headroom: number | undefined
  /** With one spring gone no more than `limits.lostForce` may be left, because there is no drop guard. */
  readonly mustHoldOneLost: boolean
  readonly limits: {
    readonly headroomClearance: number
    readonly springClearance: number
    readonly index: readonly [number, number]
    readonly sag: number
    readonly shaftRatio: number
    readonly shaftStress: number
    readonly lostForce: number
    readonly rateDifference: number
  }
  /** Mean diameters are whole multiples of this, rounded down, m. */
  readonly step: number
}

export interface WireChoice {
  readonly wire: number
  readonly material: m.WireMaterial
  /** The stock spring it comes from. */
  readonly stock: string | undefined
  /** Given for a finished spring of the stock, which is taken as it is. */
  readonly diameter: number | undefined
  readonly coils: number | undefined
  readonly strength: number | undefined
}

export interface Candidate {
  readonly pipeName: string | undefined
  readonly pipe: Pipe
  readonly choice: WireChoice
  readonly diameter: number
  readonly coils: number
  readonly count: number
  /** All springs together, N*m/rad. */
  readonly rate: number
  readonly turnsPreload: number
  readonly increments: number
  /** N*m, and what even ideal springs would leave. */
  readonly worst: number
  readonly idealWorst: number
  readonly stressClosed: number
  readonly stressRatio: number
  readonly life: m.SpringLife
  /** All springs end to end with the door closed, m. */
  readonly length: number
  /** Wire of all springs, kg; pipe, kg. */
  readonly wireWeight: number
  readonly pipeWeight: number
  readonly sag: number
  /**
   * Lower is better: kilograms of steel, made worse in proportion to what is out of balance beyond the ideal, and by a
   * tenth for every spring after the first: each is one more thing to make, fit and break. Our own weighing.
   */
  readonly score: number
}

const MOST_SPRINGS = 6
const PER_SPRING = 0.1
/** What is out of balance counts as no better than this share of the closed door's torque. */
const LEAST_WORST = 0.001
/** Pipes that give something are looked at in order of weight; heavier ones than these would only be dearer. */
const MOST_PIPES = 5

/** All candidates that hold, best first. */
export function candidates(task: Task): Candidate[] {
  const out: Candidate[] = []
  let pipes = 0
  for (const [name, pipe] of task.pipes) {
    const found = inPipe(task, name, pipe)
    out.push(...found)
    if (found.length > 0 && ++pipes >= MOST_PIPES) break
  }
  return out.sort((a, b) => a.score - b.score)
}

function inPipe(task: Task, pipeName: string | undefined, pipe: Pipe): Candidate[] {
  const { thickness, ring, turnsDead } = task
  const turns = m.coilTurns(m.coilStart(pipe.od, ring, thickness, turnsDead), thickness, task.height)
  const coil = m.coilDiameter(pipe.od, ring, thickness, turnsDead, turns)
  const rise = task.rise ?? coil / 2
  if (task.headroom !== undefined && task.headroom * (1 + 1e-9) < rise + coil / 2 + task.limits.headroomClearance)
    return []
  const inside = m.pipeInside(pipe.od, pipe.wall)
  const door = m.doorOf({
    od: pipe.od,
    ring,
    thickness,
    dead: turnsDead,
    per: task.per,
    bar: task.bar,
    height: task.height,
    rise,
    turns,
  })
  const ideal = m.idealLine(door)
  if (inside === undefined || !ideal) return []
  const dead = m.deadWrapLength(pipe.od, ring, thickness, turnsDead)
  const carried = m.totalWeight(m.hangingWeight(task.per, task.height + rise, task.bar), task.per, dead)
  const out: Candidate[] = []
  for (const choice of task.wires) {
    const room = inside - task.limits.springClearance - choice.wire
    const most = Math.min(room, task.limits.index[1] * choice.wire)
    const diameter = choice.diameter ?? Math.floor(most / task.step + 1e-9) * task.step
    if (diameter > room * (1 + 1e-9) || !(diameter > choice.wire)) continue
    const index = diameter / choice.wire
    if (index < task.limits.index[0] || index > task.limits.index[1]) continue
    const found = bestOfWire(task, { pipeName, pipe, choice, diameter, door, ideal, carried })
    if (found) out.push(...found)
  }
  return out
}

interface Fixed {
  readonly pipeName: string | undefined
  readonly pipe: Pipe
  readonly choice: WireChoice
  readonly diameter: number
  readonly door: m.Door
  readonly ideal: m.IdealLine
  readonly carried: number
}

/** For each number of springs the whole number of coils that balances best. */
function bestOfWire(task: Task, f: Fixed): Candidate[] {
  const { choice, diameter, ideal } = f
  const strength = choice.strength ?? m.tensileStrength(choice.material, choice.wire)
  if (strength === undefined) return []
  const out: Candidate[] = []
  for (let count = 1; count <= MOST_SPRINGS; count++) {
    const oneCoil = m.springRate(choice.wire, diameter, 1, choice.material, false) * m.TURN
    const exact = (count * oneCoil) / ideal.rate
    const spread = task.limits.rateDifference * 0.9
    const from = choice.coils ?? Math.max(3, Math.ceil(exact / (1 + spread)))
    const to = choice.coils ?? Math.floor(exact / (1 - spread))
    let best: Candidate | undefined
    for (let coils = from; coils <= to; coils++) {
      const c = evaluate(task, f, count, coils, (count * oneCoil) / coils, strength)
      if (c && (!best || c.score < best.score)) best = c
    }
    if (best) out.push(best)
  }
  return out
}

/** Works a candidate out; undefined as soon as something does not hold. */
function evaluate(
  task: Task,
  f: Fixed,
  count: number,
  coils: number,
  ratePerTurn: number,
  strength: number,
): Candidate | undefined {
  const { choice, diameter, door, ideal, pipe } = f
  if (Math.abs(ratePerTurn / ideal.rate - 1) > task.limits.rateDifference) return undefined
  const best = m.bestPreload(door, ratePerTurn)
  if (best === undefined || best <= 0) return undefined
  const turnsPreload = m.roundedUp(best, task.holes)!
  const twist = (turnsPreload + door.turns) * m.TURN
  const one = ratePerTurn / count / m.TURN
  const length = count * m.lengthWound(choice.wire, coils, 0, twist)
  if (length > task.span) return undefined
  const closed = m.springStress(choice.wire, diameter, one * twist)
  const open = m.springStress(choice.wire, diameter, one * turnsPreload * m.TURN)
  if (closed === undefined || open === undefined || closed > m.springYield(choice.material, strength)) return undefined
  const life = m.springLife(open, closed, strength, choice.material)
  if (!life || life.bound === 'less' || life.cycles < task.cycles) return undefined
  if (task.shaft !== undefined) {
    const inside = m.insideWound(choice.wire, diameter, coils, twist)
    if (inside === undefined || task.shaft > task.limits.shaftRatio * inside) return undefined
    const stress = m.shaftStress(ratePerTurn * (turnsPreload + door.turns), task.shaft)
    if (stress === undefined || stress > task.limits.shaftStress) return undefined
  }
  if (task.mustHoldOneLost && m.lostForce(door, ratePerTurn, ratePerTurn / count, turnsPreload) > task.limits.lostForce)
    return undefined
  const wireWeight = count * m.springWeight(choice.wire, diameter, coils)
  const pipeWeight = m.pipeWeight(pipe.od, pipe.wall, task.span) ?? 0
  const sag = m.drumSag(f.carried + pipeWeight + wireWeight, task.span, pipe.od, pipe.wall, task.modulus)
  if (sag === undefined || sag > task.limits.sag * task.span) return undefined
  const worst = m.worstTorque(door, ratePerTurn, turnsPreload).torque
  // where slats add nothing to the coil the ideal leaves nothing, and all that is left would be infinitely worse
  const beyond = Math.max(0, worst / Math.max(ideal.worst, LEAST_WORST * m.doorTorque(door, 0)) - 1)
  return {
    pipeName: f.pipeName,
    pipe,
    choice,
    diameter,
    coils,
    count,
    rate: ratePerTurn / m.TURN,
    turnsPreload,
    increments: Math.round(turnsPreload * task.holes),
    worst,
    idealWorst: ideal.worst,
    stressClosed: closed,
    stressRatio: closed / strength,
    life,
    length,
    wireWeight,
    pipeWeight,
    sag,
    score: (wireWeight + pipeWeight) * (1 + beyond) * (1 + PER_SPRING * (count - 1)),
  }
}
