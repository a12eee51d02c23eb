const INCH = 0.0254
const LBF = 4.4482216152605

export type ChainName = 'ansi_25' | 'ansi_35' | 'ansi_40' | 'ansi_41' | 'ansi_50' | 'ansi_60' | 'ansi_80'

export interface Chain {
  /** m */
  readonly pitch: number
  /** Minimum ultimate tensile strength of a single strand, N. */
  readonly tensile: number
}

const chain = (inches: number, lbf: number): Chain => ({ pitch: inches * INCH, tensile: lbf * LBF })

/** Roller chains, single strand. ASME B29.1 data as tabulated at amesweb.info (seen). */
export const CHAINS: Readonly<Record<ChainName, Chain>> = {
  ansi_25: chain(0.25, 780),
  ansi_35: chain(0.375, 1760),
  ansi_40: chain(0.5, 3125),
  ansi_41: chain(0.5, 1500),
  ansi_50: chain(0.625, 4880),
  ansi_60: chain(0.75, 7030),
  ansi_80: chain(1, 12500),
}
