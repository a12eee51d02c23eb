import { describe, expect, it } from 'vitest'
import { deriveSchema, explainSchema } from '../../../server/cli/formats/json.ts'
import { call, columns, folderOf, GATE, ONE_ERROR } from './call.ts'

const TWO = `${GATE.replace('spring {', 'spring main {')}\nopening "Gate 2" like "Gate" { width = 11ft; rails { between = 11ft 1in } }\n`

describe('the table', () => {
  it('has every block with names, values and origins in columns', async () => {
    const { status, out, err } = await call(folderOf({ 'gate.door': GATE.replace('spring {', 'spring main {') }), [
      'derive',
    ])
    expect([status, err]).toEqual([0, ''])
    expect(out).toMatch(/^gate\.door {2}job HS-2250\n\nGate {2}line 5\n/)
    expect(out).toContain('\n  spring[0] main\n')
    expect(out).toMatch(/\n {4}width +10 ft +written\n/)
    expect(out).toMatch(/\n {4}wall +masonry +default\n/)
    expect(out).toMatch(/\n {4}od +5\.563 in +from stock\n/)
    expect(out).toMatch(/\n {4}turns +[\d.]+ turns +derived\n/)
    const rows = out.split('\n').filter(l => /^ {4}\S.* {2}(written|derived|default|from stock)$/.test(l))
    expect(rows.length).toBeGreaterThan(60)
    expect(new Set(rows.map(l => columns(l.replace(/(written|derived|default|from stock)$/, '')))).size).toBe(1)
  })

  it('ends with the cautions that go with what it shows', async () => {
    const all = (await call(folderOf({ 'gate.door': GATE }), ['derive'])).out.replaceAll(/\s+/g, ' ')
    expect(all).toContain('two of them, and stand out of line with them')
    expect(all).toContain('Keep out from under a slung curtain.')
    expect(all).toMatch(/do not replace a qualified engineer, .*Fire doors, .*follow their listing and documents\. $/)
  })

  it('lists what is missing, and says where there are errors', async () => {
    const r = await call(folderOf({ 'gate.door': ONE_ERROR.replace(/ {2}spring \{[^}]*\}\n/, '') }), ['derive'])
    expect(r.status).toBe(0)
    expect(r.out).toMatch(/\nGate {2}line 5, not complete\n/)
    expect(r.out).toMatch(/\n {2}Missing: .*spring/)
    expect(r.err).toBe('doorwright: gate.door has 1 error, so do not build from these numbers; check shows it.\n')
  })

  it('--units and --opening', async () => {
    const folder = folderOf({ 'gate.door': TWO })
    const { out } = await call(folder, ['derive', '--opening', 'Gate 2', '--units', 'metric'])
    expect(out).toMatch(/\n {4}width +(3353 mm|3\.3528 m) +written\n/)
    expect(out).not.toMatch(/\nGate {2}line/)
    expect(await call(folder, ['derive', '--opening', 'Gat 2'])).toEqual({
      status: 2,
      out: '',
      err: 'doorwright: There is no opening "Gat 2". Did you mean "Gate 2"?\n',
    })
    expect((await call(folder, ['derive', '--opening', 'North'])).err).toBe(
      'doorwright: There is no opening "North". There are: Gate, Gate 2.\n',
    )
  })

  it('of a file without openings says so', async () => {
    const r = await call(folderOf({ 'a.door': 'pipe p { od = 5in; wall = 1/4in }\n' }), ['derive'])
    expect(r).toEqual({
      status: 0,
      out: '',
      err: 'doorwright: There is no opening in what was read, so nothing to derive.\n',
    })
  })
})

describe('--explain', () => {
  it('gives formula, the numbers put in, and the source, for every opening', async () => {
    const { status, out } = await call(folderOf({ 'gate.door': TWO }), ['derive', '--explain', 'rails.mark'])
    expect(status).toBe(0)
    // own numbers: half of (10 ft 1 in - 10 ft) is half an inch
    expect(out).toMatch(/^Gate: rails\.mark = 1\/2 in {2}\(derived\)\n {2}what .*\n {2}formula .*between.*width/)
    expect(out).toMatch(/\n {2}from {5}.*rails\.between +10 ft 1 in\n/)
    expect(out).toMatch(/\n {11}opening\.width +10 ft\n/)
    expect(out).toMatch(/\n {2}source {3}\S/)
    expect(out).toContain('Gate 2: rails.mark = 1/2 in')
    expect(out.replaceAll(/\s+/g, ' ')).toContain('do not replace a qualified engineer')
  })

  it('carries the caution of what can hurt someone', async () => {
    const { out } = await call(folderOf({ 'gate.door': GATE }), ['derive', '--explain', 'balance.preload'])
    expect(out).toMatch(/\n {2}caution {2}Trained door technicians only/)
  })

  it('knows a spring by its name, a value by its own where only one block has it, and offers the near ones', async () => {
    const folder = folderOf({ 'gate.door': TWO })
    const explain = (name: string) => call(folder, ['derive', '--opening', 'Gate', '--explain', name])
    expect((await explain('main.rate')).out).toMatch(/^Gate: spring\[0\]\.rate = /)
    expect((await explain('spring.rate')).out).toMatch(/^Gate: spring\[0\]\.rate = /)
    expect((await explain('sag_limit')).out).toMatch(/^Gate: drum\.sag_limit = /)
    expect(await explain('rate')).toMatchObject({
      status: 2,
      out: '',
      err: expect.stringContaining('"spring.rate" or "balance.rate"'),
    })
    expect((await explain('drum.trns')).err).toContain('Did you mean "drum.turns"?')
    expect((await explain('zzzzzz')).err).toContain('There is no value "zzzzzz".')
  })

  it('of what is not known names what is missing', async () => {
    const { out } = await call(folderOf({ 'gate.door': GATE.replace('    depth   = 3 1/4in\n', '') }), [
      'derive',
      '--explain',
      'rails.clearance',
    ])
    expect(out).toMatch(/^Gate: rails\.clearance = not known\n/)
    expect(out).toMatch(/\n {2}missing {2}rails\.depth\n/)
  })
})

describe('--format json', () => {
  it('is what check gives, without findings', async () => {
    const folder = folderOf({ 'gate.door': TWO })
    const derived = deriveSchema.parse(JSON.parse((await call(folder, ['derive', '--format', 'json'])).out))
    const checked = JSON.parse((await call(folder, ['check', '--format', 'json'])).out)
    expect(derived.files[0]!.openings).toEqual(checked.files[0].openings)
    const one = deriveSchema.parse(
      JSON.parse((await call(folder, ['derive', '--format', 'json', '--opening', 'Gate 2'])).out),
    )
    expect(one.files[0]!.openings.map(o => o.mark)).toEqual(['Gate 2'])
  })

  it('of an explanation', async () => {
    const { out } = await call(folderOf({ 'gate.door': GATE }), [
      'derive',
      '--format',
      'json',
      '--explain',
      'rails.mark',
    ])
    const [e] = explainSchema.parse(JSON.parse(out)).explanations
    expect(e).toMatchObject({
      path: 'gate.door',
      opening: 'Gate',
      name: 'rails.mark',
      text: '1/2 in',
      origin: 'derived',
    })
    expect(e!.inputs).toContainEqual({ name: 'rails.between', text: '10 ft 1 in' })
  })
})
