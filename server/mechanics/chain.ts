/** Roller chain on two sprockets. */

/**
 * Pitch diameter of a sprocket: `p / sin(180 deg / teeth)`. ASME B29.1; Mott, example 7-3.
 * @param pitch p, m
 * @returns m; undefined below 3 teeth
 */
export function pitchDiameter(pitch: number, teeth: number): number | undefined {
  return teeth >= 3 ? pitch / Math.sin(Math.PI / teeth) : undefined
}

/**
 * Pull in the chain: torque over half the pitch diameter of the drum's sprocket. Statics.
 * @param torque at the drum, N*m
 * @param pitch m, > 0
 * @param teeth of the sprocket on the drum
 * @returns N; undefined below 3 teeth
 */
export function chainPull(torque: number, pitch: number, teeth: number): number | undefined {
  const diameter = pitchDiameter(pitch, teeth)
  return diameter === undefined || !(diameter > 0) ? undefined : torque / (diameter / 2)
}

/**
 * Length of the chain in pitches: `2 C/p + (N1 + N2)/2 + (N2 - N1)^2 / (4 pi^2 C/p)`. Shigley eq. 17-34.
 * @param centers C, m
 * @param pitch p, m
 * @param teeth1 N1
 * @param teeth2 N2
 * @returns pitches, exact, not rounded (see `nextEven`); undefined without a distance
 */
export function chainPitches(centers: number, pitch: number, teeth1: number, teeth2: number): number | undefined {
  if (!(centers > 0 && pitch > 0)) return undefined
  const c = centers / pitch
  return 2 * c + (teeth1 + teeth2) / 2 + ((teeth2 - teeth1) / (2 * Math.PI)) ** 2 / c
}

/**
 * The centre distance at which a chain is tight: `chainPitches` solved for C,
 * `p/4 (A + sqrt(A^2 - 8 ((N2 - N1) / 2 pi)^2))`, `A = links - (N1 + N2)/2`. Shigley eq. 17-35.
 * @param links whole pitches of the chain
 * @returns m; undefined where the chain is too short to reach round both sprockets
 */
export function centerDistance(links: number, pitch: number, teeth1: number, teeth2: number): number | undefined {
  const free = links - (teeth1 + teeth2) / 2
  const root = free * free - 8 * ((teeth2 - teeth1) / (2 * Math.PI)) ** 2
  if (!(free > 0 && root >= 0)) return undefined
  return (pitch / 4) * (free + Math.sqrt(root))
}
