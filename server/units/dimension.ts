/**
 * Dimensions as exponents of length, mass, time and angle. Angle is a dimension of its own in the language, so that a
 * torque per angle times an angle is a torque; force is mass times length per time squared.
 */
export type Dimension = readonly [length: number, mass: number, time: number, angle: number]

/** The dimensions that have a name. Where two names share one dimension the first is the one shown. */
export const DIMENSION = {
  count: [0, 0, 0, 0],
  length: [1, 0, 0, 0],
  area: [2, 0, 0, 0],
  'length^3': [3, 0, 0, 0],
  'length^4': [4, 0, 0, 0],
  mass: [0, 1, 0, 0],
  time: [0, 0, 1, 0],
  angle: [0, 0, 0, 1],
  speed: [1, 0, -1, 0],
  acceleration: [1, 0, -2, 0],
  force: [1, 1, -2, 0],
  torque: [2, 1, -2, 0],
  'torque per angle': [2, 1, -2, -1],
  pressure: [-1, 1, -2, 0],
  power: [2, 1, -3, 0],
  'speed of rotation': [0, 0, -1, 1],
  'count per time': [0, 0, -1, 0],
  'mass per length': [-1, 1, 0, 0],
  'mass per area': [-2, 1, 0, 0],
  'mass per volume': [-3, 1, 0, 0],
  'force per length': [0, 1, -2, 0],
} as const satisfies Record<string, Dimension>

export type DimensionName = keyof typeof DIMENSION

const NAMES = Object.keys(DIMENSION) as DimensionName[]

/** Whether two quantities can be added or compared. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a[0] === b[0] && a[1] === b[1] && a[2] === b[2] && a[3] === b[3]
}

/** The dimension of a product. */
export function multiply(a: Dimension, b: Dimension): Dimension {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]]
}

/** The dimension of a quotient. */
export function divide(a: Dimension, b: Dimension): Dimension {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]]
}

/** The dimension of the n-th power; `n` is a whole number, negative and zero included. */
export function power(d: Dimension, n: number): Dimension {
  // Adding zero turns the -0 of 0 * -1 into 0.
  return [d[0] * n + 0, d[1] * n + 0, d[2] * n + 0, d[3] * n + 0]
}

/** The dimension of a square root; undefined where an exponent is odd, as for the root of a length. */
export function squareRoot(d: Dimension): Dimension | undefined {
  return d.every(exponent => exponent % 2 === 0) ? [d[0] / 2, d[1] / 2, d[2] / 2, d[3] / 2] : undefined
}

/** The name of a dimension, where it has one. */
export function dimensionName(d: Dimension): DimensionName | undefined {
  return NAMES.find(name => sameDimension(DIMENSION[name], d))
}

/**
 * A dimension in words for a message: `length`, `torque`, `a plain number`, `1 / length`, `force x length^2`,
 * `mass / (length x time)`.
 */
export function describeDimension(d: Dimension): string {
  const name = dimensionName(d)
  if (name === 'count') return 'a plain number'
  if (name !== undefined) return name
  // An engineer reads a bending stiffness as force x length^2 and not as length^3 x mass / time^2.
  const forceful = d[1] === 1 && d[2] === -2
  const parts: [string, number][] = forceful
    ? [
        ['force', 1],
        ['length', d[0] - 1],
        ['angle', d[3]],
      ]
    : [
        ['length', d[0]],
        ['mass', d[1]],
        ['time', d[2]],
        ['angle', d[3]],
      ]
  const product = (sign: 1 | -1) =>
    parts.filter(([, n]) => n * sign > 0).map(([word, n]) => (n * sign === 1 ? word : `${word}^${n * sign}`))
  const over = product(1)
  const under = product(-1)
  const top = over.length === 0 ? '1' : over.join(' x ')
  if (under.length === 0) return top
  return `${top} / ${under.length === 1 ? under[0] : `(${under.join(' x ')})`}`
}
