export type SheetMaterial = 'steel' | 'galvanized' | 'stainless' | 'aluminum'

const KSI = 6894757.293168361

/**
 * Densities, kg/m3. Steel 490 lb/ft3 = 7850 and aluminum (6061) 170 lb/ft3 = 2700: Gere, Mechanics of Materials, table
 * H-1 (seen). Stainless (304) 0.29 lb/in3 = 8000: seen on the web. Galvanized is taken as steel.
 */
export const DENSITY: Readonly<Record<SheetMaterial, number>> = {
  steel: 7850,
  galvanized: 7850,
  stainless: 8000,
  aluminum: 2700,
}

/**
 * Modulus of elasticity, Pa: steel 29,000 ksi, stainless 28,000 ksi, aluminum 10,000 ksi: the usual design values
 * (from memory: AISC, Gere table H-2).
 */
export const MODULUS: Readonly<Record<SheetMaterial, number>> = {
  steel: 29000 * KSI,
  galvanized: 29000 * KSI,
  stainless: 28000 * KSI,
  aluminum: 10000 * KSI,
}
