import { pipeArea } from '../beam.ts'

const INCH = 0.0254

export interface Pipe {
  /** Outside diameter, m. */
  readonly od: number
  /** Nominal wall, m. */
  readonly wall: number
}

/**
 * ASME B36.10M, inches: size, outside diameter, walls of schedule 10, STD, 40, XS, 80. Diameters and walls compared
 * with an independent open-source table (seen); XS of size 10 and above (1/2 in) from memory; XS equals schedule 80
 * up to size 8. Half sizes are written with an underscore: `nps2_5_std`.
 */
const ROWS: readonly (readonly [string, number, number, number, number, number, number])[] = [
  ['2', 2.375, 0.109, 0.154, 0.154, 0.218, 0.218],
  ['2_5', 2.875, 0.12, 0.203, 0.203, 0.276, 0.276],
  ['3', 3.5, 0.12, 0.216, 0.216, 0.3, 0.3],
  ['3_5', 4, 0.12, 0.226, 0.226, 0.318, 0.318],
  ['4', 4.5, 0.12, 0.237, 0.237, 0.337, 0.337],
  ['5', 5.563, 0.134, 0.258, 0.258, 0.375, 0.375],
  ['6', 6.625, 0.134, 0.28, 0.28, 0.432, 0.432],
  ['8', 8.625, 0.148, 0.322, 0.322, 0.5, 0.5],
  ['10', 10.75, 0.165, 0.365, 0.365, 0.5, 0.594],
  ['12', 12.75, 0.18, 0.375, 0.406, 0.5, 0.688],
  ['14', 14, 0.25, 0.375, 0.438, 0.5, 0.75],
  ['16', 16, 0.25, 0.375, 0.5, 0.5, 0.844],
]

/** Standard pipes by name: `nps6_std`, `nps6_sch10`, `nps6_sch40`, `nps6_xs`, `nps6_sch80`, `nps2_5_std`. */
export const PIPES: Readonly<Record<string, Pipe>> = Object.fromEntries(
  ROWS.flatMap(([size, od, sch10, std, sch40, xs, sch80]) => {
    const walls = { std, sch10, sch40, xs, sch80 }
    return Object.entries(walls).map(([schedule, wall]) => [
      `nps${size}_${schedule}`,
      { od: od * INCH, wall: wall * INCH },
    ])
  }),
)

/** The standard pipes, lightest first; of two names for the same pipe only the first (`std` before `sch40`, `xs` before `sch80`). */
export const PIPES_BY_WEIGHT: readonly (readonly [name: string, pipe: Pipe])[] = Object.entries(PIPES)
  .filter(([, p], i, all) => all.findIndex(([, q]) => q.od === p.od && q.wall === p.wall) === i)
  .sort(([, p], [, q]) => (pipeArea(p.od, p.wall) ?? 0) - (pipeArea(q.od, q.wall) ?? 0))
