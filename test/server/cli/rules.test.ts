import { expect, it } from 'vitest'
import { rulesSchema } from '../../../server/cli/formats/json.ts'
import { call, folderOf } from './call.ts'

const rules = (...args: string[]) => call(folderOf({}), ['rules', ...args])

it('lists every rule with severity, never, limit and source', async () => {
  const table = (await rules()).out
  const all = rulesSchema.parse(JSON.parse((await rules('--format', 'json')).out))
  expect(all.length).toBeGreaterThan(70)
  for (const r of all) expect(table).toMatch(new RegExp(`^${r.id} +${r.severity} +${r.never ? 'never' : ''}`, 'm'))
  const sag = all.find(r => r.id === 'drum_sag')
  expect(sag).toMatchObject({
    severity: 'warning',
    never: false,
    limit: 'drum_sag',
    source: expect.stringContaining('UFGS 08 33 23'),
  })
  expect(all.find(r => r.id === 'spring_yield')).toMatchObject({ severity: 'error', never: true, limit: null })
  expect(table).toMatch(/^drum_sag +warning +drum_sag +UFGS 08 33 23/m)
})

it('explains one: what, why, what to do, the limit with its default, the source, an example of each', async () => {
  const { status, out } = await rules('drum_sag')
  expect(status).toBe(0)
  expect(out).toMatch(/^drum_sag {2}warning {2}Drum and springs\n/)
  for (const part of ['What', 'Why', 'What to do', 'Limit', 'Source', 'Not so', 'But so'])
    expect(out).toContain(`\n${part}\n  `)
  expect(out).toContain('drum_sag = 0.03 in/ft')
  expect(out.replaceAll(/\s+/g, ' ')).toContain('To set it to a larger value takes a reason')
})

it('carries the whole caution where a spring is concerned', async () => {
  const { out } = await rules('preload_increment')
  expect(out.replaceAll(/\s+/g, ' ')).toContain('Use only proper winding bars, two of them')
})

it('offers the nearest of one that does not exist', async () => {
  expect(await rules('drum_sga')).toEqual({
    status: 2,
    out: '',
    err: 'doorwright: There is no rule "drum_sga". Did you mean drum_sag? rules without a name lists them all.\n',
  })
  expect((await rules('xyz')).status).toBe(2)
})
