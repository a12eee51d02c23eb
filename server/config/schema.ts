/** What may stand in a project file. The check, the words of completion in the editor and the reference come from it. */
import * as z from 'zod'
import { LIMITS, RULES } from '../service.ts'

const quantity = z.union([z.string(), z.number()])
const value = z.union([quantity, z.tuple([quantity, quantity])])
const limit = z.union([value, z.strictObject({ value, because: z.string().optional() })])

/** Rules that nobody can accept away: a house cannot make them milder either. */
export const firm = new Set(
  RULES.filter(r => r.severity === 'error' && (r.never || r.group === 'Language')).map(r => r.id),
)

export const configSchema = z
  .strictObject({
    $schema: z.string().optional(),
    stock: z.array(z.string()).optional().meta({
      description:
        'Folders or files that stock lives in, relative to this file: offered first where a `use` is written.',
    }),
    limits: z
      .strictObject(
        Object.fromEntries(
          [...LIMITS].map(([name, l]) => [
            name,
            limit.optional().meta({
              description: `${l.field.doc} Usual: ${usual(l.field.byDefault)} (${l.source}).`,
              examples: [l.field.example],
            }),
          ]),
        ),
      )
      .optional()
      .meta({
        description:
          'Limits of the house, written as in the language: "0.02 in/ft". One that is looser than usual needs { "value": "0.05 in/ft", "because": "..." }. What a job or a file it uses says is nearer.',
      }),
    exclude: z.array(z.string().min(1)).optional().meta({
      description:
        'Patterns, relative to this file, of files that a folder on the command line does not stand for: "old/**".',
    }),
    severity: z
      .strictObject(
        Object.fromEntries(
          RULES.map(r => [
            r.id,
            (firm.has(r.id) ? z.literal('error') : z.enum(['error', 'warning', 'note', 'off']))
              .optional()
              .meta({ description: r.what }),
          ]),
        ),
      )
      .optional()
      .meta({ description: 'How severe a rule is here: error, warning, note or off.' }),
    max_warnings: z
      .int()
      .gte(0)
      .optional()
      .meta({ description: 'More warnings than this are exit status 1 of `doorwright check`.' }),
  })
  .meta({ title: 'Doorwright project file' })

function usual(
  byDefault: (typeof LIMITS extends ReadonlyMap<string, infer L> ? L : never)['field']['byDefault'],
): string {
  return byDefault === undefined ? 'none until set' : 'text' in byDefault ? byDefault.text : byDefault.formula
}
