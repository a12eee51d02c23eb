/** What the README promises is held by tests that exist, and what it tells people to type works as it stands there. */
import { execFileSync } from 'node:child_process'
import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'
import { RULES } from '../server/rules/index.ts'
import { call, folderOf } from './server/cli/call.ts'
import { check } from './support/host.ts'
import { example, HOUSE } from './support/opening.ts'

const ROOT = join(import.meta.dirname, '..')
const README = readFileSync(join(ROOT, 'README.md'), 'utf8')

/** The text below a heading, up to the next. */
function section(heading: string): string {
  const at = README.split(/^## /m).find(s => s.startsWith(`${heading}\n`))
  if (at === undefined) throw new Error(`README has no section ${heading}`)
  return at
}

interface Title {
  readonly text: string
  /** Whether a test of that name is run whatever the machine. */
  readonly runs: boolean
}

/** A title as it stands in the code; what is filled in is `…`. */
function titleOf(node: ts.Expression | undefined): string | undefined {
  if (!node) return undefined
  if (ts.isStringLiteralLike(node)) return node.text
  if (ts.isTemplateExpression(node)) return [node.head.text, ...node.templateSpans.map(s => s.literal.text)].join('…')
  return undefined
}

/** What a call is of: `test`, of `test(...)`, `test.each(...)(...)` and the like, with what stands behind its points. */
function calledOf(e: ts.Expression): { name: string; how: readonly string[] } {
  if (ts.isIdentifier(e)) return { name: e.text, how: [] }
  if (ts.isCallExpression(e)) return calledOf(e.expression)
  if (ts.isTaggedTemplateExpression(e)) return calledOf(e.tag)
  if (ts.isPropertyAccessExpression(e)) {
    const { name, how } = calledOf(e.expression)
    return { name, how: [...how, e.name.text] }
  }
  return { name: '', how: [] }
}

/** The titles of all tests of a file, and of the groups that have any. */
function titlesOf(code: string): Title[] {
  const out: Title[] = []
  /** @returns whether there is a test that runs in `node` */
  const visit = (node: ts.Node): boolean => {
    const inner = (): boolean => {
      let any = false
      ts.forEachChild(node, c => void (any = visit(c) || any))
      return any
    }
    if (!ts.isCallExpression(node)) return inner()
    const { name, how } = calledOf(node.expression)
    const text = titleOf(node.arguments[0])
    const always = !how.some(h => /^(skip|skipIf|runIf|todo|fails)$/.test(h))
    if ((name === 'it' || name === 'test') && text !== undefined) {
      out.push({ text, runs: always })
      return always
    }
    if (name !== 'describe') return inner()
    const from = out.length
    const runs = inner() && always
    if (!always) for (let i = from; i < out.length; i++) out[i] = { ...out[i]!, runs: false }
    if (text !== undefined) out.push({ text, runs })
    return runs
  }
  visit(ts.createSourceFile('a.ts', code, ts.ScriptTarget.Latest))
  return out
}

it('the titles of a file: nested, from a table, of filled-in text, and not of what is left out', () => {
  const code = `
describe('outer', () => {
  it('one', () => {})
  test.each([1, 2])('of %s', () => {})
  for (const a of [1]) test(\`\${a} doors of \${b}\`, { timeout: 1 }, () => {})
  it.skipIf(true)('perhaps', () => {})
})
describe.skip('not now', () => { it('either', () => {}) })
describe('empty', () => {})
regex.test('no title')
// it('a comment', () => {})
`
  expect(titlesOf(code)).toEqual([
    { text: 'one', runs: true },
    { text: 'of %s', runs: true },
    { text: '… doors of …', runs: true },
    { text: 'perhaps', runs: false },
    { text: 'outer', runs: true },
    { text: 'either', runs: false },
    { text: 'not now', runs: false },
    { text: 'empty', runs: false },
  ])
})

describe('what we promise', () => {
  const lines = section('What we promise')
    .split('\n')
    .filter(l => l.startsWith('|'))
  const rows = lines.slice(2).map(l => {
    const [, promise, file, title] = /^\| (\S.*?) \| `(\S+)`: (.*\S) \|$/.exec(l) ?? []
    return { line: l, promise, file: file ?? '', title: title ?? '' }
  })

  it('is a row a promise, each with its test', () => {
    expect(rows.filter(r => !r.promise).map(r => r.line)).toEqual([])
    expect(rows.length).toBeGreaterThan(12)
    for (const of of ['promise', 'line'] as const) expect(new Set(rows.map(r => r[of])).size).toBe(rows.length)
  })

  it.each(rows)('$promise', ({ file, title }) => {
    // the pattern of vitest.config.ts: a file of another name is not run
    expect(file).toMatch(/^test\/.*\.test\.ts$/)
    expect(existsSync(join(ROOT, file)), `${file} is gone`).toBe(true)
    const titles = titlesOf(readFileSync(join(ROOT, file), 'utf8'))
    expect(titles.filter(t => t.runs).map(t => t.text)).toContain(title)
  })
})

/** Rules that are known to keep people safe; there may be more. */
const SAFETY = [
  'balance_preload_negative',
  'installed_direction',
  'limit_loosened',
  'preload_increment',
  'preload_positive',
  'sling_angle_low',
  'spring_hand',
  'spring_yield',
  'use_outside',
  'winding_direction',
]

describe('allow', () => {
  /** The bad example of a rule, with an `allow` in every opening of it. */
  const allowed = (id: string) =>
    check(
      example(RULES.find(r => r.id === id)!.bad).replace(
        /^(opening\s+"[^"]*".*?\{)/gm,
        `$1\n  allow ${id} because "we know"\n`,
      ),
      { 'stock/house.door': HOUSE },
    )

  it('every rule that keeps people safe stands, whatever is allowed', () => {
    const never = RULES.filter(r => r.never)
    expect(never.map(r => r.id)).toEqual(expect.arrayContaining(SAFETY))
    for (const { id } of never) {
      const c = allowed(id)
      expect(c.of('allow_refused').length, id).toBeGreaterThan(0)
      expect(c.of(id).length, id).toBeGreaterThan(0)
      expect(
        c.of(id).map(f => f.accepted),
        id,
      ).toEqual(c.of(id).map(() => undefined))
    }
  })

  it('others are accepted by it, so it was said in the right place', () => {
    const others = RULES.filter(r => !r.never && r.group !== 'Language')
    const accepted = others.filter(r =>
      allowed(r.id)
        .of(r.id)
        .every(f => f.accepted === 'we know'),
    )
    expect(accepted.length).toBeGreaterThan(0.8 * others.length)
  })
})

/** The commands of a README section's code: what follows `doorwright`, without the remark. */
const commandsOf = (text: string): string[] =>
  [...text.matchAll(/^npx doorwright (.*?)\s*(?:#.*)?$/gm)].map(m => m[1]!.trim())

/** What each command of the README is to give: its status, and what one can see of it. */
const GIVES: Readonly<Record<string, readonly [status: number, seen: RegExp]>> = {
  'check samples': [1, /limit .*[\s\S]*files: \d+ errors/],
  'check --fix job.door': [0, /1 fix applied\n\s+Write 1 3\/4 turns/],
  'check --format json samples': [1, /^\{\n {2}"version": 1,/],
  // one of the samples cannot be read, and is left as it is
  'fmt samples': [1, /unclosed_block\.door:11:3 cannot be read/],
  'derive samples/harbour/gate.door': [0, /^Gate {2}line[\s\S]*\n {2}drum\n/m],
  'derive --explain drum.turns samples/harbour/gate.door': [0, /drum\.turns = [\d.]+ turns[\s\S]*formula/],
  'size job.door': [0, /wire[\s\S]*coils/],
  'sheet samples/harbour/dock.door': [0, /HS-2207-B\.html/],
  'compare main samples': [0, /Nothing changed in \d+ openings/],
  'rules preload_increment': [0, /What\n[\s\S]*Why\n[\s\S]*What to do\n/],
}

describe('the commands of the README', () => {
  const use = section('Use it')

  it('work as they are written, one after the other, in a folder with the samples and a job', async () => {
    const folder = folderOf({})
    cpSync(join(ROOT, 'samples'), join(folder, 'samples'), { recursive: true })
    const job = readFileSync(join(folder, 'samples/mistakes/preload_between_holes.door'), 'utf8')
    writeFileSync(join(folder, 'job.door'), job.replace('"../', '"samples/'))
    const git = (...args: string[]) => execFileSync('git', args, { cwd: folder, stdio: 'pipe' })
    git('init', '-q', '-b', 'main')
    git('add', '.')
    git('-c', 'user.name=A', '-c', 'user.email=a@example.org', 'commit', '-q', '-m', 'jobs')

    const commands = commandsOf(use)
    expect(commands).toEqual(Object.keys(GIVES))
    for (const command of commands) {
      // the remark says of `--pdf` what it needs, so it is not called
      const said = await call(folder, command.split(' '))
      const [status, seen] = GIVES[command]!
      expect(said.out + said.err, command).toMatch(seen)
      expect(said.status, command).toBe(status)
    }
    expect(readFileSync(join(folder, 'job.door'), 'utf8')).toContain('preload = 1 3/4 turns')
    expect(readdirSync(folder)).toContain('HS-2207-B.html')
  })

  it('have the options that are named beside them', async () => {
    const folder = folderOf({})
    const helps = new Map<string, string>()
    for (const c of ['check', 'baseline', 'compare', 'sheet', 'derive', 'size', 'fmt', 'rules'])
      helps.set(c, (await call(folder, [c, '--help'])).out)
    const options = new Set([...use.matchAll(/(?<![\w-])--[a-z]+/g)].map(m => m[0]))
    expect(options.size).toBeGreaterThan(8)
    for (const o of options) expect(RegExp(`${o}\\b`).exec([...helps.values()].join('\n'))?.[0], o).toBe(o)
    for (const format of ['sarif', 'github', 'junit', 'pretty', 'json']) {
      expect(use).toContain(format)
      expect(helps.get('check')).toContain(format)
    }
  })

  it('of npm are scripts that there are', () => {
    const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'))
    const named = [...README.matchAll(/\bnpm (?:run )?([a-z:]+)/g)].map(m => m[1]!).filter(n => n !== 'in')
    expect(named).toEqual(expect.arrayContaining(['start', 'test', 'package', 'editor', 'docs']))
    for (const n of named) expect(scripts, n).toHaveProperty([n])
  })

  it('and the files that it names are there', () => {
    const named = [...README.matchAll(/`((?:samples|test|client|server)\/[\w./-]*|[\w.-]+\.(?:md|ya?ml))`/g)].map(
      m => m[1]!,
    )
    expect(named.length).toBeGreaterThan(15)
    expect(named.filter(n => !existsSync(join(ROOT, n)))).toEqual([])
  })
})
