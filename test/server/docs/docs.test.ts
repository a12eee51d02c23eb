/** The reference has all that there is, each under an anchor of its own, and comes out the same every time. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { parseSource } from '../../../grammar/index.ts'
import { documents } from '../../../server/docs/index.ts'
import { allBlocks, LIMITS } from '../../../server/model/index.ts'
import { RULES } from '../../../server/rules/index.ts'
import { UNITS } from '../../../server/units/index.ts'

const docs = documents('1.2.3')
const page = (name: string): string => docs.get(name)!
const anchors = (markdown: string): string[] => [...markdown.matchAll(/<a id="([^"]+)">/g)].map(m => m[1]!)

describe('the reference', () => {
  it('comes out the same twice', () => {
    expect([...documents('1.2.3')]).toEqual([...docs])
  })

  it('has every rule under its id, with what it says', () => {
    const rules = anchors(page('rules.md'))
    for (const r of RULES) {
      expect(
        rules.filter(a => a === r.id),
        r.id,
      ).toHaveLength(1)
      expect(page('rules.md')).toContain(r.bad.trim())
      expect(page('reference.html')).toContain(`id="${r.id}"`)
    }
  })

  it('has every field, derived value, limit and unit of the vocabulary', () => {
    const text = page('language.md')
    for (const b of allBlocks) {
      const names = b.name === 'limits' ? [] : [...b.fields.keys(), ...b.derived.keys()]
      for (const name of names) expect(text, `${b.name}.${name}`).toContain(`\n| \`${name}\``)
      for (const d of b.derived.values()) expect(text.replace(/\\/g, ''), d.name).toContain(d.formula)
    }
    for (const limit of LIMITS.keys()) expect(text).toContain(`\n| \`${limit}\``)
    for (const unit of UNITS.keys()) expect(text).toContain(`\n| \`${unit}\``)
  })

  it('shows an example that can be read', () => {
    const example = page('language.md').match(/```door\n([\s\S]*?)```/)![1]!
    expect(parseSource(example).chunks.flatMap(c => c.findings)).toEqual([])
  })

  it('says what `like` leaves behind', () => {
    expect(page('language.md')).toMatch(
      /leaves the `survey`, `installed`, `delivery` and `handover` records behind, since they belong to one opening/,
    )
  })

  it('gives no anchor twice, and leads nowhere but to its own', () => {
    const ids = [...page('reference.html').matchAll(/ id="([^"]+)"/g)].map(m => m[1]!)
    expect(new Set(ids).size).toBe(ids.length)
    for (const [, target] of page('reference.html').matchAll(/href="([^"]+)"/g)) {
      expect(target).toMatch(/^#/)
      expect(ids).toContain(target!.slice(1))
    }
  })

  it('is one page that needs no network and runs nothing', () => {
    expect(page('reference.html')).not.toMatch(/<script|<link|<img|src=|url\(|@import/)
    expect(page('reference.html')).toContain("default-src 'none'")
  })

  it('warns wherever springs are wound', () => {
    for (const r of RULES.filter(r => r.caution === 'spring')) {
      const from = page('rules.md').indexOf(`<a id="${r.id}"></a>`)
      expect(page('rules.md').slice(from, page('rules.md').indexOf('<a id=', from + 10)), r.id).toContain(
        'trained door technicians only',
      )
    }
  })
})

describe('the schemas', () => {
  it.each(['check', 'derive', 'explain', 'size', 'rules', 'compare', 'config'])('%s is a JSON Schema', name => {
    expect(JSON.parse(page(`schema/${name}.json`))).toMatchObject({
      $schema: 'http://json-schema.org/draft-07/schema#',
      title: expect.stringMatching(/doorwright/i),
    })
  })

  it('offer every limit and rule in the project file, and nothing milder than an error for what keeps people safe', () => {
    const schema = JSON.parse(page('schema/config.json')) as {
      properties: Record<string, { properties: Record<string, object> }>
    }
    expect(Object.keys(schema.properties.limits!.properties)).toEqual([...LIMITS.keys()])
    expect(Object.keys(schema.properties.severity!.properties)).toEqual(RULES.map(r => r.id))
    const read = z.fromJSONSchema(schema as never)
    expect(
      read.safeParse({ severity: { rail_depth: 'off' }, limits: { drum_sag: { value: '1 in/ft', because: 'x' } } })
        .success,
    ).toBe(true)
    expect(read.safeParse({ severity: { spring_yield: 'off' } }).success).toBe(false)
    expect(read.safeParse({ limit: {} }).success).toBe(false)
  })

  it('is the one that the extension hands to the editor, and is shipped', () => {
    const manifest = JSON.parse(readFileSync(join(import.meta.dirname, '../../../package.json'), 'utf8'))
    expect(manifest.contributes.jsonValidation).toEqual([
      { fileMatch: 'doorwright.json', url: './dist/docs/schema/config.json' },
    ])
    expect(manifest.files).toContain('dist/docs/**')
  })
})
