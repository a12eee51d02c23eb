const MM = 0.001
const INCH = 0.0254
const FOOT = 0.3048

/** The published value of the first step that holds `size`; undefined beyond the last. A size on a step is in it. */
function step(size: number, steps: readonly (readonly [upTo: number, value: number])[]): number | undefined {
  return steps.find(([upTo]) => size <= upTo * (1 + 1e-9))?.[1]
}

/**
 * Limit deviation of an opening's size, m: DIN 18202 table 1, raw reveals: 10 mm up to 1 m, 12 mm to 3 m, 16 mm to 6 m.
 * @param nominal written width or height, m, >= 0
 * @returns m, either way; undefined beyond 6 m, where the table has no value for openings
 */
export function sizeLimit(nominal: number): number | undefined {
  return step(nominal, [
    [1, 10 * MM],
    [3, 12 * MM],
    [6, 16 * MM],
  ])
}

/**
 * Limit deviation of squareness, m: DIN 18202 table 2 (from memory): 3, 6, 8, 12, 16 mm up to 0.5, 1, 3, 6, 15 m.
 * @param longer the longer side of the opening, m, >= 0
 * @returns m; undefined beyond 15 m
 */
export function squareLimit(longer: number): number | undefined {
  return step(longer, [
    [0.5, 3 * MM],
    [1, 6 * MM],
    [3, 8 * MM],
    [6, 12 * MM],
    [15, 16 * MM],
  ])
}

export type Wall = 'masonry' | 'concrete' | 'steel' | 'wood'

/**
 * How far a jamb may be out of plumb over its height, m. Masonry: 1/4 in in 10 ft, 3/8 in in 20 ft, never over 1/2 in
 * (TMS 602). Concrete: 1 in (ACI 117). Steel: height/500 (AISC 303). Wood: no published value.
 * @param height of the jamb, m, >= 0
 * @returns m; undefined for wood
 */
export function plumbLimit(wall: Wall, height: number): number | undefined {
  switch (wall) {
    case 'masonry':
      return (
        step(height, [
          [10 * FOOT, INCH / 4],
          [20 * FOOT, (3 * INCH) / 8],
        ]) ?? INCH / 2
      )
    case 'concrete':
      return INCH
    case 'steel':
      return height / 500
    case 'wood':
      return undefined
  }
}

/** How far the floor may be out of level over the width, m: 1/2 in, ACI 117 (sills). */
export const FLOOR_LEVEL_LIMIT = INCH / 2

/**
 * Least depth of a rail, m: 60 mm up to 3.5 m clear width, 75 mm above: IS 6248 family (seen quoted; a second quotation
 * has 65 mm, from memory: to be checked).
 * @param width clear width of the opening, m, >= 0
 */
export function railDepthLimit(width: number): number {
  return step(width, [[3.5, 60 * MM]]) ?? 75 * MM
}
