/** A comparison as JSON, version 1, written through the schema that is published. */
import * as z from 'zod'
import type {
  Comparison,
  FindingChange,
  FindingChanges,
  MarginChange,
  OpeningChange,
  ValueChange,
} from '../../service.ts'
import { JSON_VERSION } from './json.ts'

const severity = z.enum(['error', 'warning', 'note'])
const count = z.int().gte(0)

const finding = z.strictObject({
  rule: z.string(),
  severity,
  never: z.boolean().meta({ description: 'It cannot be accepted: it keeps people safe.' }),
  message: z.string(),
  block: z.string().nullable(),
  accepted: z.string().nullable().meta({ description: 'The reason why it is accepted.' }),
  was: z
    .enum(['error', 'warning', 'note', 'accepted'])
    .nullable()
    .meta({ description: 'How severe it was before, where that differs.' }),
})
const findings = z.strictObject({
  new: z.array(finding).meta({ description: 'Not there before, or milder, or accepted.' }),
  known: z.array(finding).optional().meta({ description: 'As `new`, but the file of --baseline has them.' }),
  fixed: z.array(finding),
  still: z.array(finding),
  accepted: z.array(finding).meta({ description: 'Accepted now, and not before or for another reason.' }),
})
const value = z.strictObject({
  text: z.string(),
  si: z
    .number()
    .nullable()
    .meta({ description: 'In SI base units (m, kg, s, rad, N, Pa, W); words, texts and yes/no have none.' }),
  origin: z.enum(['written', 'derived', 'default', 'stock']),
  bound: z.enum(['more', 'less']).nullable(),
})
const margin = z.strictObject({
  room: z.number().meta({ description: 'What is left to the limit in SI base units, negative beyond it.' }),
  share: z.number().nullable().meta({ description: 'The same as a part of the limit.' }),
  text: z.string(),
  over: z.boolean(),
})

export const compareSchema = z.strictObject({
  version: z.literal(JSON_VERSION),
  before: z.string(),
  after: z.string(),
  openings: z
    .array(
      z.strictObject({
        kind: z.enum(['changed', 'renamed', 'added', 'removed']),
        mark: z.string(),
        was: z.string().nullable().meta({ description: 'The mark before, where it is another.' }),
        path: z.string(),
        job: z.string().nullable(),
        complete: z.strictObject({ before: z.boolean().nullable(), after: z.boolean().nullable() }),
        values: z.array(
          z.strictObject({
            name: z.string(),
            kind: z.enum(['written', 'derived']),
            before: value.nullable(),
            after: value.nullable(),
            difference: z
              .strictObject({
                si: z.number(),
                text: z.string(),
                part: z.number().nullable().meta({ description: 'Of the value before: 0.1 is 10 % more.' }),
              })
              .nullable(),
            direction: z.enum(['up', 'down']).nullable(),
            because: z.string().nullable(),
          }),
        ),
        margins: z.array(
          z.strictObject({ name: z.string(), rule: z.string(), before: margin.nullable(), after: margin.nullable() }),
        ),
        findings,
      }),
    )
    .meta({ description: 'Those in which something changed, what matters most first.' }),
  others: z
    .array(z.strictObject({ path: z.string(), findings }))
    .meta({ description: 'Findings that belong to no opening.' }),
  unchanged: count,
  summary: z.strictObject({
    new: count,
    new_errors: count,
    known: count.optional().meta({ description: 'Findings that came, and that the file of --baseline has.' }),
    fixed: count,
    still: count,
    values: count,
  }),
})

type Out = z.infer<typeof compareSchema>

const finite = (n: number | undefined): number | null => (n !== undefined && Number.isFinite(n) ? n : null)

const findingOf = (f: FindingChanges['fixed'][number] & { was?: FindingChange['was'] }): z.infer<typeof finding> => ({
  rule: f.rule,
  severity: f.severity,
  never: f.never,
  message: f.message,
  block: f.block ?? null,
  accepted: f.accepted ?? null,
  was: f.was ?? null,
})
const findingsOf = (f: FindingChanges): z.infer<typeof findings> => ({
  new: f.fresh.map(findingOf),
  known: f.known.map(findingOf),
  fixed: f.fixed.map(findingOf),
  still: f.still.map(findingOf),
  accepted: f.accepted.map(findingOf),
})
const shownValue = (v: ValueChange['before']): z.infer<typeof value> | null =>
  v ? { text: v.text, si: finite(v.si), origin: v.origin, bound: v.bound ?? null } : null
const marginOf = (m: MarginChange['before']): z.infer<typeof margin> | null =>
  m && Number.isFinite(m.room) ? { room: m.room, share: finite(m.share), text: m.text, over: m.over } : null

function openingOf(o: OpeningChange): Out['openings'][number] {
  return {
    kind: o.kind,
    mark: o.mark,
    was: o.was ?? null,
    path: o.file,
    job: o.job ?? null,
    complete: { before: o.complete[0] ?? null, after: o.complete[1] ?? null },
    values: o.values.map(v => ({
      name: v.path,
      kind: v.kind,
      before: shownValue(v.before),
      after: shownValue(v.after),
      difference: v.difference
        ? { si: v.difference.si, text: v.difference.text, part: finite(v.difference.part) }
        : null,
      direction: v.direction ?? null,
      because: v.because ?? null,
    })),
    margins: o.margins.map(m => ({ name: m.path, rule: m.rule, before: marginOf(m.before), after: marginOf(m.after) })),
    findings: findingsOf(o.findings),
  }
}

export const comparisonAsJson = (before: string, after: string, c: Comparison): Out => ({
  version: JSON_VERSION,
  before,
  after,
  openings: c.openings.map(openingOf),
  others: c.others.map(o => ({ path: o.file, findings: findingsOf(o.findings) })),
  unchanged: c.unchanged,
  summary: {
    new: c.summary.fresh,
    new_errors: c.summary.freshErrors,
    known: c.summary.known,
    fixed: c.summary.fixed,
    still: c.summary.still,
    values: c.summary.values,
  },
})
