/** The language's names, what they take and their defaults (SI), as a table. `*`: needed for an opening to be complete. */
type Takes = readonly [takes: string, byDefault?: number | string | boolean]
export type Row = readonly [fields: Readonly<Record<string, Takes>>, derived: readonly string[]]

const IN = 0.0254
const LBF = 4.4482216152605
const TURN = 2 * Math.PI
const DERIVED = 'given or derived'
const WORKED_OUT = 'worked out'
const all = (takes: string, names: string): Record<string, Takes> => Object.fromEntries(names.split(' ').map(n => [n, [takes]])) // biome-ignore format: one line
const are = (dimension: string, names: string): string[] => names.split(' ').map(n => `${n}: ${dimension}`)
const DIRECTION = 'clockwise counterclockwise'

export const BLOCKS: Readonly<Record<string, Row>> = {
  job: [
    {
      ...all('text', 'site customer drawn_by revision'),
      date: ['date'],
      units: ['one of imperial metric', 'imperial'],
    },
    [],
  ],
  opening: [
    {
      ...all('length', 'width* height* headroom side_room_left side_room_right height_above_ground'),
      wall: ['one of masonry concrete steel wood', 'masonry'],
      mount: ['one of face between', 'face'],
      coil_side: ['one of inside outside', 'inside'],
      wind: ['pressure or speed'],
      exposure: ['one of B C D'],
      cycles: ['count per time'],
    },
    // the pressure in use is the tool's own addition: a given one, or what the wind speed comes to
    ['area: area', 'wind_pressure: pressure'],
  ],
  curtain: [
    {
      'slat*': ['stock slat'],
      'engagement*': ['length'],
      bottom_bar: ['mass per length', 0],
      endlock: ['mass', 0],
      endlock_every: ['count', 2],
      windlocks: ['truth', false],
    },
    [
      ...are('length', 'slat_length bow draw_in engagement_left'),
      ...are('count', 'slat_count'),
      ...are('mass per length', 'weight_per_height'),
      ...are('mass', 'bottom_bar_weight weight weight_total'),
      ...are('pressure', 'slat_stress'),
    ],
  ],
  slat: [
    {
      ...all('length', 'pitch* thickness* developed'),
      'weight*': ['mass per area', DERIVED],
      gauge: ['count'],
      skins: ['count', 1],
      core: ['mass per area', 0],
      material: ['one of steel galvanized stainless aluminum', 'steel'],
      inertia: ['length^4'],
      section: ['length^3'],
      yield: ['pressure'],
    },
    [],
  ],
  rails: [
    {
      ...all('length', 'between* depth* fastener_spacing'),
      length: ['length', WORKED_OUT],
      fastener_edge: ['length', 6 * IN],
      fastener_capacity: ['force'],
    },
    [...are('length', 'mark clearance'), ...are('count', 'fasteners'), ...are('force', 'fastener_load')],
  ],
  drum: [
    {
      'pipe*': ['stock pipe'],
      span: ['length', WORKED_OUT],
      attach: ['one of direct rings', 'direct'],
      ring: ['length', 0],
      drop_guard: ['truth'],
      dead_wraps: ['angle', TURN / 2],
      rise: ['length', WORKED_OUT],
      shaft: ['length'],
      leaves: ['one of wall_side room_side', 'wall_side'],
      modulus: ['pressure', (29e6 * LBF) / IN ** 2],
    },
    [...are('angle', 'turns'), ...are('length', 'coil_diameter sag sag_limit inside'), ...are('mass', 'weight')],
  ],
  pipe: [all('length', 'od* wall*'), []],
  spring: [
    {
      'wire*': ['length'],
      'diameter*': ['length'],
      'coils*': ['count'],
      dead_coils: ['count', 0],
      count: ['count', 1],
      material: ['one of music_wire oil_tempered hard_drawn chrome_vanadium chrome_silicon', 'oil_tempered'],
      hand: ['one of left right'],
      shaft_end: ['one of adjuster drive', 'adjuster'],
      coil_friction: ['truth', false],
      rate: ['torque per angle', DERIVED],
      strength: ['pressure', DERIVED],
      range_strength: ['pressure', DERIVED],
    },
    [
      ...are('count', 'index stress_ratio fatigue_factor life'),
      ...are('pressure', 'stress_open stress_closed'),
      ...are('length', 'length_free length_wound inside_wound outside_free'),
      'weight: mass',
      'hand_needed: left right',
      'lost_force: force',
    ],
  ],
  adjuster: [
    {
      side: ['one of left right'],
      'holes*': ['count'],
      preload: ['angle', DERIVED],
      winding: [`one of ${DIRECTION}`, DERIVED],
    },
    ['increment: angle', 'increments: count'],
  ],
  balance: [
    {},
    [
      ...are('torque', 'torque_closed torque_open worst ideal_worst'),
      ...are('torque per angle', 'rate ideal_rate'),
      ...are('angle', 'preload ideal_preload'),
      ...are('force', 'raise_force lower_force'),
      'worst_at: length',
    ],
  ],
  operator: [
    {
      drive: ['one of push_up hand_chain crank motor'],
      side: ['one of left right', WORKED_OUT],
      torque: ['torque'],
      speed: ['speed of rotation'],
      power: ['power'],
      efficiency: ['count', 0.9],
      friction: ['count', 0.05],
      ...all('count', 'ratio sprocket_drive sprocket_drum'),
      ...all('length', 'hand_wheel centers'),
      chain: ['one of ansi_25 ansi_35 ansi_40 ansi_41 ansi_50 ansi_60 ansi_80'],
      limit_turns: ['angle'],
      holds: ['truth'],
    },
    [
      ...are('torque', 'torque_needed torque_available'),
      ...are('force', 'hand_pull chain_pull'),
      ...are('count', 'chain_pitches chain_links'),
      'power_needed: power',
      'door_speed: speed',
      'centers_set: length',
      'limit_turns_used: angle',
    ],
  ],
  hood: [all('count', 'supports'), ['supports_needed: count']],
  rigging: [
    { slings: ['count', WORKED_OUT], sling_capacity: ['force'], sling_angle: ['angle', TURN / 4] },
    ['slings_needed: count', 'spacing: length', 'load_each: force'],
  ],
  survey: [{ ...all('length', 'level headroom side_room_left side_room_right'), by: ['text'], date: ['date'] }, []],
  'survey.width': [all('length', 'bottom middle top'), []],
  'survey.height': [all('length', 'left right'), []],
  'survey.diagonal': [all('length', 'rising falling'), []],
  'survey.plumb': [all('length', 'left right'), []],
  installed: [
    {
      drum_level: ['length'],
      ...all('count', 'increments chain_links'),
      wound: [`one of ${DIRECTION}`],
      by: ['text'],
      date: ['date'],
    },
    [],
  ],
  'installed.between': [all('length', 'bottom middle top'), []],
  'installed.plumb': [all('length', 'left right'), []],
  delivery: [{ ...all('tick', 'rails brackets drum curtain operator hood hardware documents'), damage: ['text'] }, []],
  handover: [
    {
      ...all('truth', 'balanced limits_set entrapment_tested guards_fitted manual_given'),
      cycles_counted: ['count'],
      ...all('date', 'date next_due'),
    },
    [],
  ],
}

const YEAR = 365 * 86_400
type Limit = readonly [
  takes: string,
  sense: 'most' | 'least' | 'within',
  byDefault: number | string | number[] | undefined,
]
/** Limits: undefined where there is none until it is set, `worked out` where it comes in steps. */
export const LIMIT_TABLE: Readonly<Record<string, Limit>> = {
  opening_size: ['length', 'most', undefined],
  opening_square: ['length', 'most', WORKED_OUT],
  jamb_plumb: ['length', 'most', WORKED_OUT],
  floor_level: ['length', 'most', IN / 2],
  headroom_clearance: ['length', 'least', IN],
  slat_clearance: ['length', 'least', IN / 4],
  side_room_adjuster: ['length', 'least', undefined],
  side_room_drive: ['length', 'least', undefined],
  rail_depth: ['length', 'least', WORKED_OUT],
  fastener_spacing: ['length', 'most', 0.75],
  engagement_left: ['length', 'least', IN / 2],
  spring_clearance: ['length', 'least', IN / 8],
  sling_spacing: ['length', 'most', 120 * IN],
  hood_span: ['length', 'most', 144 * IN],
  rail_spread: ['length', 'most', IN / 8],
  rail_parallel: ['length', 'most', IN / 8],
  rail_plumb: ['length', 'most', IN / 8],
  drum_level: ['length', 'most', IN / 8],
  drum_sag: ['count', 'most', 0.03 / 12],
  bending_safety: ['count', 'least', 1.67],
  slat_bow: ['count', 'most', 1 / 120],
  shaft_ratio: ['count', 'most', 0.9],
  rate_difference: ['count', 'most', 0.1],
  rate_difference_ideal: ['count', 'most', 0.25],
  spring_cycles: ['count', 'least', 10_000],
  operator_margin: ['count', 'least', 1],
  chain_safety: ['count', 'least', 5],
  sprocket_teeth: ['count', 'least', 17],
  service_years: ['time', 'least', 10 * YEAR],
  inspection_interval: ['time', 'most', YEAR],
  push_force: ['force', 'most', 25 * LBF],
  hand_chain_pull: ['force', 'most', 35 * LBF],
  crank_force: ['force', 'most', 20 * LBF],
  lost_spring_force: ['force', 'most', 200],
  shaft_stress: ['pressure', 'most', (18_000 * LBF) / IN ** 2],
  dead_wraps: ['angle', 'least', TURN / 2],
  sling_angle: ['angle', 'least', TURN / 8],
  preload_difference: ['angle', 'most', WORKED_OUT],
  spring_index: ['two of count', 'within', [4, 16]],
  door_speed: ['two of speed', 'within', [0.2, 0.3]],
}

type Exponents = readonly [length: number, mass: number, time: number, angle: number]
const LENGTH: Exponents = [1, 0, 0, 0]
const MASS: Exponents = [0, 1, 0, 0]
const FORCE: Exponents = [1, 1, -2, 0]
const TIME: Exponents = [0, 0, 1, 0]
const ANGLE: Exponents = [0, 0, 0, 1]
const PRESSURE: Exponents = [-1, 1, -2, 0]
const POWER: Exponents = [2, 1, -3, 0]
/** NIST SP 811, appendix B.8, all exact; the horsepower is 550 ft*lbf/s. */
export const UNIT_TABLE: Readonly<Record<string, readonly [factor: number, dimension: Exponents]>> = {
  in: [IN, LENGTH],
  ft: [0.3048, LENGTH],
  yd: [0.9144, LENGTH],
  mi: [1609.344, LENGTH],
  mm: [0.001, LENGTH],
  cm: [0.01, LENGTH],
  m: [1, LENGTH],
  km: [1000, LENGTH],
  lb: [0.45359237, MASS],
  oz: [0.45359237 / 16, MASS],
  kg: [1, MASS],
  g: [0.001, MASS],
  lbf: [LBF, FORCE],
  kip: [1000 * LBF, FORCE],
  N: [1, FORCE],
  kN: [1000, FORCE],
  kgf: [9.80665, FORCE],
  s: [1, TIME],
  min: [60, TIME],
  h: [3600, TIME],
  day: [86_400, TIME],
  week: [7 * 86_400, TIME],
  month: [YEAR / 12, TIME],
  year: [YEAR, TIME],
  mph: [0.44704, [1, 0, -1, 0]],
  turn: [TURN, ANGLE],
  turns: [TURN, ANGLE],
  deg: [TURN / 360, ANGLE],
  rad: [1, ANGLE],
  psf: [LBF / 0.3048 ** 2, PRESSURE],
  psi: [LBF / IN ** 2, PRESSURE],
  ksi: [(1000 * LBF) / IN ** 2, PRESSURE],
  Pa: [1, PRESSURE],
  kPa: [1000, PRESSURE],
  MPa: [1e6, PRESSURE],
  hp: [550 * 0.3048 * LBF, POWER],
  W: [1, POWER],
  kW: [1000, POWER],
  rpm: [TURN / 60, [0, 0, -1, 1]],
  '%': [0.01, [0, 0, 0, 0]],
}
