import type { SheetMaterial } from './materials.ts'

const INCH = 0.0254

/**
 * Thickness of sheet by gauge number, inches.
 * Steel: Manufacturers' Standard Gauge; steel, stainless and aluminum (Brown & Sharpe): Machinery's Handbook, 31st ed.,
 * table 20, p. 1453 (seen; two misprints there corrected: 10 gauge steel, 21 gauge stainless); steel 24 to 26 from
 * memory, steel 3 seen in a roofing table. Galvanized: 8 to 12, 14, 16, 18, 20, 21 and 24 seen, the others from memory.
 */
// biome-ignore format: a table
const GAUGES: Readonly<Record<SheetMaterial, Readonly<Record<number, number>>>> = {
  steel: {
    3: 0.2391, 7: 0.1793, 8: 0.1644, 9: 0.1495, 10: 0.1345, 11: 0.1196, 12: 0.1046, 13: 0.0897, 14: 0.0747, 15: 0.0673, 16: 0.0598,
    17: 0.0538, 18: 0.0478, 19: 0.0418, 20: 0.0359, 21: 0.0329, 22: 0.0299, 23: 0.0269, 24: 0.0239, 25: 0.0209, 26: 0.0179,
  },
  galvanized: {
    8: 0.1681, 9: 0.1532, 10: 0.1382, 11: 0.1233, 12: 0.1084, 13: 0.0934, 14: 0.0785, 15: 0.071, 16: 0.0635, 17: 0.0575,
    18: 0.0516, 19: 0.0456, 20: 0.0396, 21: 0.0366, 22: 0.0336, 23: 0.0306, 24: 0.0276, 25: 0.0247, 26: 0.0217,
  },
  stainless: {
    8: 0.1719, 9: 0.1562, 10: 0.1406, 11: 0.125, 12: 0.1094, 13: 0.0937, 14: 0.0781, 15: 0.0703,
    16: 0.0625, 17: 0.0562, 18: 0.05, 19: 0.0437, 20: 0.0375, 21: 0.0344, 22: 0.0312, 23: 0.0281,
  },
  aluminum: {
    8: 0.1285, 9: 0.1144, 10: 0.1019, 11: 0.0907, 12: 0.0808, 13: 0.072, 14: 0.0641, 15: 0.0571,
    16: 0.0508, 17: 0.0453, 18: 0.0403, 19: 0.0359, 20: 0.032, 21: 0.0285, 22: 0.0253,
  },
}

/**
 * Thickness of a sheet gauge, m; undefined where the material's table has no such gauge.
 * Source: see the table.
 */
export function sheetThickness(material: SheetMaterial, gauge: number): number | undefined {
  const inches = GAUGES[material][gauge]
  return inches === undefined ? undefined : inches * INCH
}
