/** Version 1 of the JSON that other programs read. It is written through these schemas, so it cannot differ from them. */
import * as z from 'zod'
import type { LocatedFinding, OpeningValues, Range, ShownValue } from '../../service.ts'
import type { Io } from '../io.ts'
import type { FileReport, Format } from './report.ts'

export const JSON_VERSION = 1

const count = z.int().gte(0)
const position = z.int().gte(1)
/** Lines and columns from 1, columns in UTF-16 units; the end is the place after the last character. */
const place = { line: position, column: position, end_line: position, end_column: position }

export const valueSchema = z.strictObject({
  si: z
    .number()
    .optional()
    .meta({ description: 'In SI base units (m, kg, s, rad, N, Pa, W); words, texts and yes/no have none.' }),
  unit: z.string().optional(),
  value: z.union([z.number(), z.string(), z.boolean(), z.array(z.number())]),
  text: z.string(),
  origin: z.enum(['written', 'derived', 'default', 'stock']),
  bound: z
    .enum(['more', 'less'])
    .optional()
    .meta({ description: 'The value is more or less than `si`, which is only a bound.' }),
})

export const openingSchema = z.strictObject({
  mark: z.string(),
  line: position,
  complete: z.boolean(),
  values: z.record(z.string(), valueSchema),
  missing: z.array(z.string()),
})

const editSchema = z.strictObject({
  ...place,
  text: z.string(),
  path: z.string().optional().meta({ description: 'Given where the edit is in another file than the finding.' }),
})

export const findingSchema = z.strictObject({
  rule: z.string(),
  severity: z.enum(['error', 'warning', 'note']),
  message: z.string(),
  ...place,
  opening: z.string().nullable(),
  accepted: z.string().nullable(),
  limit: z.strictObject({ text: z.string(), source: z.string() }).nullable(),
  fixes: z.array(
    z.strictObject({
      title: z.string(),
      safe: z.boolean().optional().meta({ description: 'Whether check --fix applies it by itself.' }),
      edits: z.array(editSchema),
    }),
  ),
  related: z
    .array(
      z.strictObject({
        message: z.string(),
        ...place,
        path: z.string().optional().meta({ description: 'Given where it is another file than that of the finding.' }),
      }),
    )
    .optional()
    .meta({
      description: 'Other places that have to do with it: what it is compared with, where a copied line stands.',
    }),
})

const fileSchema = z.strictObject({ path: z.string(), job: z.string().nullable(), openings: z.array(openingSchema) })

const checkedFileSchema = fileSchema.extend({ findings: z.array(findingSchema) })
const summarySchema = z.strictObject({
  files: count,
  errors: count,
  warnings: count,
  notes: count,
  accepted: count,
  known: count.optional().meta({ description: 'With --baseline: findings that it knows; they are not listed.' }),
  gone: count.optional().meta({ description: 'With --baseline: findings of it that are not there any more.' }),
})
export const checkSchema = z.strictObject({
  version: z.literal(JSON_VERSION),
  files: z.array(checkedFileSchema),
  summary: summarySchema,
})

export const deriveSchema = z.strictObject({ version: z.literal(JSON_VERSION), files: z.array(fileSchema) })

export const sizeSchema = z.strictObject({
  version: z.literal(JSON_VERSION),
  openings: z.array(
    z.strictObject({
      path: z.string(),
      opening: z.string(),
      reason: z.string().nullable().meta({ description: 'Why there is no proposal.' }),
      proposals: z.array(
        z.strictObject({
          title: z.string(),
          numbers: z.record(z.string(), z.number()).meta({ description: 'In SI base units; angles in radians.' }),
          rows: z.record(z.string(), z.string()),
          against: z
            .array(z.string())
            .meta({ description: 'Rules that would still have something against it; none for one that holds.' }),
          edits: z.array(editSchema),
        }),
      ),
    }),
  ),
})

export const explainSchema = z.strictObject({
  version: z.literal(JSON_VERSION),
  explanations: z.array(
    z.strictObject({
      path: z.string(),
      opening: z.string(),
      name: z.string(),
      what: z.string(),
      text: z.string().nullable(),
      origin: z.enum(['written', 'derived', 'default', 'stock']).nullable(),
      formula: z.string().nullable(),
      inputs: z.array(z.strictObject({ name: z.string(), text: z.string() })),
      source: z.string().nullable(),
      missing: z.array(z.string()),
      because: z.string().nullable(),
      caution: z.string().nullable(),
    }),
  ),
})

export const rulesSchema = z.array(
  z.strictObject({
    id: z.string(),
    severity: z.enum(['error', 'warning', 'note']),
    never: z.boolean(),
    what: z.string(),
    limit: z.string().nullable(),
    source: z.string(),
  }),
)

export const writeJson = <T>(io: Io, schema: z.ZodType<T>, data: T): void =>
  io.out(`${JSON.stringify(schema.parse(data), null, 2)}\n`)

const placeOf = (r: Range) => ({
  line: r.start.line + 1,
  column: r.start.character + 1,
  end_line: r.end.line + 1,
  end_column: r.end.character + 1,
})

function jsonValue(v: ShownValue): z.infer<typeof valueSchema> {
  const rest = { value: v.value as z.infer<typeof valueSchema>['value'], text: v.text, origin: v.origin }
  if (v.si === undefined) return rest
  return { si: v.si, unit: v.unit, ...rest, ...(v.bound && { bound: v.bound }) }
}

const FIRST_SPRING = 'spring[0].'

export function openingOf(o: OpeningValues): z.infer<typeof openingSchema> {
  // Not a number at all is as good as not known, and JSON could not say it.
  const known = o.values.filter(v => v.si === undefined || (Number.isFinite(v.si) && Number.isFinite(v.value)))
  const values: Record<string, z.infer<typeof valueSchema>> = Object.fromEntries(known.map(v => [v.path, jsonValue(v)]))
  for (const v of known)
    if (v.path.startsWith(FIRST_SPRING)) values[`spring.${v.path.slice(FIRST_SPRING.length)}`] = values[v.path]!
  return { mark: o.mark, line: o.line + 1, complete: o.complete, values, missing: [...o.missing] }
}

/** A file's name, where it is another one. */
const pathOf = (file: string, report: FileReport): { path?: string } =>
  file === report.file ? {} : { path: report.nameOf(file) }

const findingOf = (f: LocatedFinding, report: FileReport): z.infer<typeof findingSchema> => ({
  rule: f.rule,
  severity: f.severity,
  message: f.message,
  ...placeOf(f.range),
  opening: f.opening ?? null,
  accepted: f.accepted ?? null,
  limit: f.limit ? { text: f.limit.text, source: f.limit.source } : null,
  fixes: f.fixes().map(x => ({
    title: x.title,
    safe: x.safe,
    edits: x.edits.map(e => ({ ...placeOf(e.range), text: e.text, ...pathOf(e.file, report) })),
  })),
  related: f.related.map(r => ({ message: r.message, ...placeOf(r.range), ...pathOf(r.file, report) })),
})

const indented = (data: unknown, by: string): string => JSON.stringify(data, null, 2).replaceAll('\n', `\n${by}`)

/** Written file by file, so that neither memory nor the length of a string bounds their number. */
export function json(io: Io): Format {
  let files = 0
  const head = `{\n  "version": ${JSON_VERSION},\n  "files": [`
  return {
    file(r) {
      const data: z.infer<typeof checkedFileSchema> = {
        path: r.name,
        job: r.job ?? null,
        openings: r.openings().map(openingOf),
        findings: r.findings.map(f => findingOf(f, r)),
      }
      io.out(`${files++ === 0 ? head : ','}\n    ${indented(data, '    ')}`)
    },
    end: summary =>
      io.out(
        `${files === 0 ? `${head}]` : '\n  ]'},\n  "summary": ${indented(summarySchema.parse(summary), '  ')}\n}\n`,
      ),
  }
}
