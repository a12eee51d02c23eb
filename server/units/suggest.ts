import { distance } from 'fastest-levenshtein'
import { type Dimension, sameDimension } from './dimension.ts'
import { UNITS, unitOf } from './units.ts'

/** What people write for a unit (in small letters unless it is written otherwise), by what the language calls it. */
const SPELLINGS: readonly (readonly [words: string, ...units: string[]])[] = [
  ['inch inches ″ ” "', 'in'],
  ["foot feet ′ ’ '", 'ft'],
  ['yard yards', 'yd'],
  ['mile miles', 'mi'],
  ['millimeter millimeters millimetre millimetres', 'mm'],
  ['centimeter centimeters centimetre centimetres', 'cm'],
  ['meter meters metre metres', 'm'],
  ['kilometer kilometers kilometre kilometres', 'km'],
  // A pound is a mass on a scale and a force in a torque; the place where it stands has to say which.
  ['pound pounds lbs', 'lb', 'lbf'],
  ['lbm', 'lb'],
  ['ounce ounces', 'oz'],
  ['kilogram kilograms kilo kilos kgs', 'kg', 'kgf'],
  ['gram grams', 'g'],
  ['kips', 'kip'],
  ['newton newtons', 'N'],
  ['kilonewton kilonewtons', 'kN'],
  ['kp', 'kgf'],
  ['sec secs second seconds', 's'],
  ['minute minutes mins', 'min'],
  ['hr hrs hour hours', 'h'],
  ['days', 'day'],
  ['weeks wk wks', 'week'],
  ['months', 'month'],
  ['years yr yrs', 'year'],
  ['rev revs revolution revolutions', 'turns'],
  ['degree degrees degs °', 'deg'],
  ['radian radians rads', 'rad'],
  ['pascal pascals', 'Pa'],
  ['megapascal megapascals', 'MPa'],
  ['horsepower', 'hp'],
  ['watt watts', 'W'],
  ['kilowatt kilowatts', 'kW'],
  ['percent pct', '%'],
  ['ft-lb ft-lbs ft-lbf lb-ft lbf-ft ftlb ftlbs ftlbf lbft', 'lbf*ft'],
  ['in-lb in-lbs in-lbf lb-in lbf-in inlb inlbs inlbf lbin', 'lbf*in'],
  ['Nm N-m', 'N*m'],
  ['plf', 'lb/ft', 'lbf/ft'],
  ['pcf', 'lb/ft^3'],
  ['fpm', 'ft/min'],
  ['fps', 'ft/s'],
  ['sqft', 'ft^2'],
  ['sqin', 'in^2'],
]

/** Units of the world outside: they mean something else than what they resemble, so none is ever guessed for them. */
const OTHER_UNITS = new Set(
  'mil mils thou ton tons tonne tonnes slug slugs bar mbar ksf tsf msi dm nm um Gg mg nmi knot knots kt lux gal'.split(
    ' ',
  ),
)

const BY_WORD = new Map<string, readonly string[]>()
for (const [words, ...units] of SPELLINGS) for (const word of words.split(' ')) BY_WORD.set(word, units)

/** Every word that can be mistyped, with what it stands for. */
const TYPED = new Map<string, readonly string[]>([
  ...BY_WORD,
  ...[...UNITS.keys()].map(name => [name, [name]] as const),
])

/**
 * The units that were surely meant by a name that is none: a slip of case (`KG`), a plural or a word (`lbs`, `inches`,
 * `ft-lb`), or one slip of the finger (`degres`). With a dimension only units of that dimension are named. Several are
 * named where a word has several meanings (`pounds`); none where nothing is sure, or where `name` is a unit.
 */
export function suggestUnits(name: string, dimension?: Dimension): readonly string[] {
  const fits = (unit: string) => {
    const found = unitOf(unit)
    return found !== undefined && (dimension === undefined || sameDimension(found.dimension, dimension))
  }
  const bare = name.replace(/\.+$/, '')
  if (UNITS.has(name) || bare === '' || OTHER_UNITS.has(bare)) return []
  if (UNITS.has(bare)) return [bare].filter(fits)
  const word = BY_WORD.get(bare) ?? BY_WORD.get(bare.toLowerCase())
  if (word !== undefined) return word.filter(fits)
  const caseSlips = [...UNITS.keys()].filter(unit => unit.toLowerCase() === bare.toLowerCase())
  if (caseSlips.length > 0) return caseSlips.filter(fits)
  if (OTHER_UNITS.has(bare.toLowerCase())) return []
  const meant = new Set<string>()
  for (const [typed, units] of TYPED) {
    if (oneSlip(bare, typed) || oneSlip(bare.toLowerCase(), typed))
      for (const unit of units.filter(fits)) meant.add(unit)
  }
  // `turn` and `turns` are one unit.
  if (meant.has('turn') && meant.has('turns')) meant.delete('turn')
  return meant.size === 1 ? [...meant] : []
}

/** One letter too many, missing or wrong, or two neighbours exchanged. Short names resemble too many others. */
function oneSlip(written: string, meant: string): boolean {
  if (written.length < 3 || Math.abs(written.length - meant.length) > 1) return false
  if (distance(written, meant) === 1) return true
  const at = [...written].findIndex((letter, index) => letter !== meant[index])
  return written.slice(0, at) + written[at + 1] + written[at] + written.slice(at + 2) === meant
}

/**
 * The unit that was meant where a unit of the wrong dimension stands: pounds for pounds-force and back, `psf` for a mass
 * per area, a torque where a torque per turn belongs. Undefined where nothing is sure. `unit` is a whole unit expression.
 */
export function unitMeant(unit: string, wanted: Dimension): string | undefined {
  const found = unitOf(unit)
  if (found === undefined || sameDimension(found.dimension, wanted)) return undefined
  const swap = (pairs: Readonly<Record<string, string>>) =>
    unit.replace(/[A-Za-z]+/g, name => (Object.hasOwn(pairs, name) ? pairs[name]! : name))
  const candidates = [
    ...(unit === 'psf' ? ['lb/ft^2'] : []),
    ...(unit === 'lb/ft^2' ? ['psf'] : []),
    ...(unit === 'lb/in^2' ? ['psi'] : []),
    ...(unit === '/min' ? ['rpm'] : []),
    swap({ lb: 'lbf', kg: 'kgf' }),
    swap({ lbf: 'lb', kgf: 'kg' }),
    `${unit}/turn`,
    `${swap({ lb: 'lbf' })}/turn`,
  ]
  return candidates.find(text => {
    const candidate = unitOf(text)
    return candidate !== undefined && sameDimension(candidate.dimension, wanted)
  })
}
