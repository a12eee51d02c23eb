/** Dimensions, units, and how a quantity is read and written. This file is the only way in. */

export { type Combined, combineParts, type Part } from './combine.ts'
export { defaultUnit, unitsFor } from './common.ts'
export { showCycles } from './cycles.ts'
export { plainDecimal, type Rounding } from './decimal.ts'
export {
  DIMENSION,
  type Dimension,
  type DimensionName,
  describeDimension,
  dimensionName,
  divide,
  multiply,
  power,
  sameDimension,
  squareRoot,
} from './dimension.ts'
export { type Shown, type ShowOptions, showQuantity } from './show.ts'
export { suggestUnits, unitMeant } from './suggest.ts'
export {
  parseUnit,
  type ResolvedUnit,
  resolveUnit,
  type System,
  systemOf,
  UNITS,
  type Unit,
  type UnitFactor,
  unitOf,
} from './units.ts'
export { type ConvertOptions, convert, type FractionOptions, writeExact, writeFraction } from './write.ts'
