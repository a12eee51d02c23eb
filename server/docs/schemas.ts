/** The JSON Schemas of what the command line writes and of the project file, from the schemas that it is checked with. */
import * as z from 'zod'
import { baselineSchema } from '../cli/baseline.ts'
import { compareSchema } from '../cli/formats/compare_json.ts'
import { checkSchema, deriveSchema, explainSchema, rulesSchema, sizeSchema } from '../cli/formats/json.ts'
import { configSchema } from '../config/index.ts'

const SCHEMAS = {
  check: [checkSchema, 'doorwright check --format json, version 1'],
  derive: [deriveSchema, 'doorwright derive --format json, version 1'],
  explain: [explainSchema, 'doorwright derive --explain NAME --format json, version 1'],
  size: [sizeSchema, 'doorwright size --format json, version 1'],
  rules: [rulesSchema, 'doorwright rules --format json'],
  compare: [compareSchema, 'doorwright compare --format json, version 1'],
  baseline: [baselineSchema, 'What doorwright baseline writes'],
  config: [configSchema, 'The project file doorwright.json'],
} as const

/** By name, as text. */
export const schemas = (): ReadonlyMap<string, string> =>
  new Map(
    Object.entries(SCHEMAS).map(([name, [schema, title]]) => [
      name,
      `${JSON.stringify({ ...z.toJSONSchema(schema as z.ZodType, { io: name === 'config' ? 'input' : 'output', target: 'draft-7' }), title }, null, 2)}\n`,
    ]),
  )
