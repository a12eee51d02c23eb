export type WireMaterial = 'music_wire' | 'oil_tempered' | 'hard_drawn' | 'chrome_vanadium' | 'chrome_silicon'

const INCH = 0.0254
const MM = 0.001
const PSI = 6894.757293168361

export interface Wire {
  /** A in `Sut = A / d^m`, kpsi with d in inches. */
  readonly kpsi: number
  /** m in `Sut = A / d^m`. */
  readonly exponent: number
  /** Diameters the constants are published for, inches, both ends included. */
  readonly inches: readonly [number, number]
  /** Modulus of elasticity, Pa. */
  readonly modulus: number
  /** Yield in bending over tensile strength. */
  readonly yield: number
  /** Range strength over tensile strength at 1e3, 1e5 and 1e6 cycles, unpeened. */
  readonly fatigue: readonly [number, number, number]
  /** The wire whose published column at 1e5 and 1e6 cycles stands in, where this one has none. */
  readonly standIn?: WireMaterial
}

const MUSIC = [0.53, 0.5] as const
const VANADIUM = [0.55, 0.53] as const

/**
 * Spring wires.
 * A and m: Shigley, 8th to 11th ed., table 10-4, the kpsi, inch ones (music wire seen, the others seen quoted; the
 * diameter ranges from memory). Modulus: 28.5e6 psi, chrome wires 29.5e6 psi, one value a material: Shigley, 9th ed.,
 * table 10-5 (seen; banded there for music wire 28.0 to 29.5e6 and hard-drawn 28.5 to 28.8e6).
 * Yield: Shigley eq. 10-57: 0.78 seen quoted, 0.87 seen. Fatigue at 1e3: Jiang, Analysis and Design of Machine Elements,
 * table 14.3 (seen), a static value; at 1e5 and 1e6: Shigley table 10-10, unpeened, music wire and chrome-vanadium
 * (seen quoted). Oil-tempered and hard-drawn wire have no column there: music wire stands in; chrome-silicon takes
 * chrome-vanadium's.
 */
export const WIRES: Readonly<Record<WireMaterial, Wire>> = {
  music_wire: {
    kpsi: 201,
    exponent: 0.145,
    inches: [0.004, 0.256],
    modulus: 28.5e6 * PSI,
    yield: 0.78,
    fatigue: [0.78, ...MUSIC],
  },
  oil_tempered: {
    kpsi: 147,
    exponent: 0.187,
    inches: [0.02, 0.5],
    modulus: 28.5e6 * PSI,
    yield: 0.87,
    fatigue: [0.8, ...MUSIC],
    standIn: 'music_wire',
  },
  hard_drawn: {
    kpsi: 140,
    exponent: 0.19,
    inches: [0.028, 0.5],
    modulus: 28.5e6 * PSI,
    yield: 0.78,
    fatigue: [0.78, ...MUSIC],
    standIn: 'music_wire',
  },
  chrome_vanadium: {
    kpsi: 169,
    exponent: 0.168,
    inches: [0.032, 0.437],
    modulus: 29.5e6 * PSI,
    yield: 0.87,
    fatigue: [0.78, ...VANADIUM],
  },
  chrome_silicon: {
    kpsi: 202,
    exponent: 0.108,
    inches: [0.063, 0.375],
    modulus: 29.5e6 * PSI,
    yield: 0.87,
    fatigue: [0.78, ...VANADIUM],
    standIn: 'chrome_vanadium',
  },
}

/** Steel Wire Gauge (Washburn & Moen) by number, m, thinnest first. Machinery's Handbook, from memory. */
// biome-ignore format: a table
export const STEEL_WIRE_GAUGE: ReadonlyMap<string, number> = new Map(
  ([
    ['5', 0.207], ['4', 0.2253], ['3', 0.2437], ['2', 0.2625], ['1', 0.283], ['1/0', 0.3065],
    ['2/0', 0.331], ['3/0', 0.3625], ['4/0', 0.3938], ['5/0', 0.4305], ['6/0', 0.4615], ['7/0', 0.49],
  ] as const).map(([name, inches]) => [name, inches * INCH]),
)

/** Wire to choose from in inches, m, thinnest first: the gauge sizes above and the 32nds of an inch from 7/32 to 1/2. */
export const WIRE_SIZES_INCH: readonly number[] = [
  ...STEEL_WIRE_GAUGE.values(),
  ...Array.from({ length: 10 }, (_, i) => ((7 + i) / 32) * INCH),
].sort((a, b) => a - b)

/** Wire to choose from in millimetres, m, thinnest first: whole and half millimetres from 5 to 12.5. */
export const WIRE_SIZES_METRIC: readonly number[] = Array.from({ length: 16 }, (_, i) => (5 + i / 2) * MM)

/** Diameters the strength formula is published for, m, both ends included. Source: see `WIRES`. */
export function publishedRange(material: WireMaterial): readonly [number, number] {
  const [from, to] = WIRES[material].inches
  return [from * INCH, to * INCH]
}
