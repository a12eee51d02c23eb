/** JUnit XML, read back with an XML parser. Which elements and attributes there are: the common form of it, from memory. */
import { join } from 'node:path'
import { XMLParser, XMLValidator } from 'fast-xml-parser'
import { describe, expect, it } from 'vitest'
import { call, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'

interface Case {
  readonly name: string
  readonly classname: string
  readonly failure?: { readonly type: string; readonly message: string; readonly '#text': string }
  readonly error?: { readonly type: string; readonly message: string }
  readonly 'system-out'?: string
}
interface Suite {
  readonly name: string
  readonly tests: string
  readonly failures: string
  readonly errors: string
  readonly testcase: Case[]
}
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseAttributeValue: false,
  parseTagValue: false,
  trimValues: false,
  htmlEntities: true,
  isArray: name => name === 'testsuite' || name === 'testcase',
})

async function junitOf(cwd: string, args: readonly string[] = []) {
  const r = await call(cwd, ['check', '--format', 'junit', ...args])
  expect(XMLValidator.validate(r.out)).toBe(true)
  // XML 1.0, 2.2: what may stand in a document at all
  expect(r.out).not.toMatch(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/u)
  const root = parser.parse(r.out).testsuites as {
    tests: string
    failures: string
    errors: string
    testsuite?: Suite[]
  }
  const suites = root.testsuite ?? []
  const cases = suites.flatMap(s => s.testcase)
  for (const [of, list] of [[root, cases], ...suites.map(s => [s, s.testcase] as const)] as const) {
    expect(Number(of.tests)).toBe(list.length)
    expect(Number(of.failures)).toBe(list.filter(c => c.failure).length)
    expect(Number(of.errors)).toBe(list.filter(c => c.error).length)
  }
  return { suites, cases, status: r.status, root }
}

it('a suite a file, a case an opening', async () => {
  const two = `${GATE}\n${ONE_ERROR.slice(ONE_ERROR.indexOf('opening')).replace('"Gate"', '"Gate 2"')}`
  const { suites } = await junitOf(folderOf({ 'a.door': GATE, 'b.door': two }))
  expect(suites.map(s => [s.name, s.testcase.map(c => c.name)])).toEqual([
    ['a.door', ['Gate']],
    ['b.door', ['Gate', 'Gate 2']],
  ])
  expect(suites[1]!.testcase[0]!.failure).toBeUndefined()
  expect(suites[1]!.testcase[1]!.failure).toMatchObject({ type: 'unknown_field' })
  expect(suites[1]!.testcase[1]!.classname).toBe('b.door')
})

it('all errors of an opening are in one failure; warnings and what is accepted fail nothing', async () => {
  const text = ONE_ERROR.replace('  cycles', '  shade    = 4\n  allow drum_sag because "agreed"\n  cycles').replace(
    'nps5_std',
    'nps2_std',
  )
  const { cases } = await junitOf(folderOf({ 'gate.door': text }))
  expect(cases[0]!.failure!.message).toContain('(and 3 more errors)')
  expect(cases[0]!.failure!['#text'].match(/unknown_field/g)).toHaveLength(2)
  expect(cases[0]!['system-out']).toMatch(/accepted warning {2}drum_sag.*Accepted because agreed\./)
  const warning = await junitOf(folderOf({ 'gate.door': ONE_WARNING }))
  expect([warning.status, warning.root.failures]).toEqual([0, '0'])
  expect(warning.cases[0]!['system-out']).toContain('allow_unused')
})

it('the samples: as many failing cases as openings and files with errors', async () => {
  const root = join(import.meta.dirname, '../../..')
  const { root: top } = await junitOf(root, ['samples'])
  const json = JSON.parse((await call(root, ['check', '--format', 'json', 'samples'])).out)
  const bad = json.files.flatMap(
    (f: {
      path: string
      openings: { mark: string }[]
      findings: { severity: string; accepted: unknown; opening: string | null }[]
    }) => {
      const marks = new Set(f.openings.map(o => o.mark))
      const errors = f.findings.filter(x => x.severity === 'error' && x.accepted === null)
      return [...new Set(errors.map(x => (x.opening !== null && marks.has(x.opening) ? x.opening : '')))].map(
        m => `${f.path} ${m}`,
      )
    },
  )
  expect(Number(top.failures)).toBe(bad.length)
})

it('what stands in no opening has a case of its own; a file without any has one', async () => {
  const { suites } = await junitOf(folderOf({ 'a.door': `colour = 3\n${GATE}`, 'stock.door': 'job "1" {}\n' }))
  expect(suites[0]!.testcase.map(c => [c.name, c.failure?.type])).toContainEqual([
    '(the file itself)',
    expect.any(String),
  ])
  expect(suites[1]!.testcase.map(c => c.name)).toEqual(['(the file itself)'])
})

it.each([
  ['markup', 'A <b> & "x" \'y\' ]]> <!--'],
  ['a control character', 'A \u0001\u001b[31m\u007f\u0085'],
  ['half a pair, and no character', 'A \ud800 \udc00 \ufffe \uffff'],
  ['what turns the writing around', 'A \u202e B'],
  ['beyond the first plane', 'A \u{1f6aa}'],
])('%s in a mark or a reason', async (_, text) => {
  const quoted = `"${text.replace(/"/g, '\\"')}"`
  const { cases } = await junitOf(
    folderOf({
      'gate.door': Buffer.from(
        ONE_ERROR.replace('"Gate"', quoted).replace(
          '2 turns',
          `2 turns\n    require preload > 3 turns because ${quoted}`,
        ),
      ),
    }),
  )
  // a file is UTF-8, so half a pair arrives as the sign for it
  const arrived = Buffer.from(text)
    .toString()
    .replace(/[\p{Cc}\u202e\ufffe\uffff]/gu, c => `\\u{${c.codePointAt(0)!.toString(16)}}`)
  expect(cases.map(c => c.name)).toEqual([arrived])
  expect(cases[0]!.failure!['#text']).toContain(arrived)
})

describe('a failed run is never all green', () => {
  it('too many warnings', async () => {
    const { status, cases } = await junitOf(folderOf({ 'gate.door': ONE_WARNING }), ['--max-warnings', '0'])
    expect(status).toBe(1)
    expect(cases.at(-1)).toMatchObject({
      failure: { type: 'max_warnings', message: '1 warning; --max-warnings allows 0.' },
    })
  })

  it('a file that cannot be read', async () => {
    const { status, cases } = await junitOf(folderOf({ 'gate.door': GATE, 'bad.door': new Uint8Array([0]) }))
    expect(status).toBe(2)
    expect(cases.at(-1)).toMatchObject({ error: { type: 'unusable', message: 'bad.door is not a text file.' } })
  })
})
