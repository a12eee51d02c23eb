/** What GitHub and pre-commit read at the top of the repository, and the step of the action on a repository of 300 jobs. */
import { spawnSync } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import type { Log } from 'sarif'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { folderOf, GATE } from './call.ts'

const ROOT = join(import.meta.dirname, '../../..')
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8')
const action = parse(read('action.yml'))
const step = action.runs.steps[0]

describe('action.yml', () => {
  it('is a composite action whose inputs all reach the step, through the environment alone', () => {
    expect(action.runs.using).toBe('composite')
    expect([action.name, action.description].every((t: unknown) => typeof t === 'string' && t !== '')).toBe(true)
    expect(Object.keys(action.inputs)).toEqual([
      'paths',
      'config',
      'max-warnings',
      'baseline',
      'shard',
      'cache',
      'sarif',
      'junit',
    ])
    for (const s of action.runs.steps) {
      expect(s.shell).toBe('bash')
      expect(s.run).not.toContain('${{')
    }
    const given = Object.values(step.env as Record<string, string>).map(
      v => /^\$\{\{ inputs\.([\w-]+) \}\}$/.exec(v)![1],
    )
    expect(given).toEqual(Object.keys(action.inputs))
    for (const input of Object.values<{ description: string }>(action.inputs)) expect(input.description).not.toBe('')
  })

  it('starts a file that is there, and hands on what it writes', () => {
    const script = /"\$GITHUB_ACTION_PATH\/([^"]+)"/.exec(step.run)![1]!
    expect(existsSync(join(ROOT, script))).toBe(true)
    const text = read(script)
    for (const name of Object.keys(step.env)) expect(text).toContain(`'${name.replace('DOORWRIGHT_', '')}'`)
    for (const [name, output] of Object.entries<{ value: string }>(action.outputs))
      expect(output.value).toBe(`\${{ steps.${step.id}.outputs.${name} }}`)
  })
})

it('.pre-commit-hooks.yaml: each entry is a command that there is, and npm packs the program for it', () => {
  const hooks = parse(read('.pre-commit-hooks.yaml'))
  expect(hooks.map((h: { id: string }) => h.id)).toEqual(['doorwright-check', 'doorwright-fmt'])
  const { bin, files, scripts } = JSON.parse(read('package.json'))
  for (const h of hooks) {
    const [program, command] = h.entry.split(' ')
    expect(bin[program]).toBe('dist/cli.cjs')
    expect(existsSync(join(ROOT, `server/cli/commands/${command}.ts`))).toBe(true)
    expect(h.language).toBe('node')
    expect(new RegExp(h.files).test('jobs/dock.door')).toBe(true)
    expect(new RegExp(h.files).test('jobs/dock.door.txt')).toBe(false)
  }
  expect(files).toContain('dist/*.cjs')
  expect(scripts.prepare).toBe('node client/prepare.mjs')
})

interface Step {
  id?: string
  uses?: string
  run?: string
  with?: Record<string, string>
  if?: string
  env?: Record<string, string>
}

describe.each(['samples/ci/doorwright.yml', 'samples/ci/doorwright_parts.yml'])('%s', file => {
  const text = read(file)
  const jobs: Record<string, { steps: Step[] }> = parse(text).jobs
  const uses = jobs.check!.steps.find(s => s.id === 'doors')!

  it('only asks for inputs and outputs that the action has, those in comments too', () => {
    const commented = [...text.matchAll(/^ {10}# ([a-z-]+): /gm)].map(m => m[1]!)
    expect(commented).toContain('max-warnings')
    for (const name of [...Object.keys(uses.with!), ...commented]) expect(Object.keys(action.inputs)).toContain(name)
    const asked = [...text.matchAll(/steps\.doors\.outputs\.(\w+)/g)].map(m => m[1]!)
    expect(asked.length).toBeGreaterThan(1)
    for (const name of asked) expect(Object.keys(action.outputs)).toContain(name)
  })

  it('names nothing of ours that is not published: one line is to be filled in, and it says so', () => {
    expect(uses.uses).toBe('OWNER/doorwright@REVISION')
    const others = Object.values(jobs).flatMap(j => j.steps.flatMap(s => (s.uses && s !== uses ? [s.uses] : [])))
    for (const name of others) expect(name).toMatch(/^(actions|github)\//)
    expect(read('samples/ci/doorwright.yml')).toMatch(/Write here the repository that you keep it in[\s\S]*uses: OWNER/)
  })

  it('puts nothing of a pull request into a script', () => {
    for (const { steps } of Object.values(jobs)) for (const s of steps) expect(s.run ?? '').not.toContain('${{')
  })
})

describe('samples/ci/doorwright_parts.yml', () => {
  const { check, doors } = parse(read('samples/ci/doorwright_parts.yml')).jobs
  const steps: Step[] = check.steps
  const uses = steps.find(s => s.id === 'doors')!

  it('has as many parts as it divides the files into', () => {
    const { part } = check.strategy.matrix
    expect(uses.with!.shard).toBe(`\${{ matrix.part }}/${part.length}`)
    expect(part).toEqual(Array.from({ length: part.length }, (_, i) => i + 1))
  })

  it('keeps one cache a part, findings or not, and one result for all', () => {
    const kept = steps.filter(s => s.uses?.startsWith('actions/cache/'))
    expect(kept.map(s => s.uses)).toEqual(['actions/cache/restore@v4', 'actions/cache/save@v4'])
    for (const s of kept) {
      expect(s.with!.path).toBe(uses.with!.cache)
      expect(s.with!.key).toContain('matrix.part')
    }
    expect(kept[1]!.if).toContain('!cancelled()')
    expect(steps.find(s => s.uses?.startsWith('github/'))!.with!.category).toContain('matrix.part')
    expect([doors.needs, doors.env.RESULT]).toEqual(['check', `\${{ needs.check.result }}`])
  })
})

describe('samples/ci/doorwright.yml', () => {
  const flow = parse(read('samples/ci/doorwright.yml'))
  const steps: Step[] = flow.jobs.check.steps

  it('may do what its steps need and no more', () => {
    expect(flow.permissions).toEqual({ contents: 'read' })
    expect(flow.jobs.check.permissions).toEqual({
      contents: 'read',
      'security-events': 'write',
      'pull-requests': 'write',
    })
    // what shows the findings runs after a check that failed
    for (const s of steps.slice(2)) expect(s.if).toContain('!cancelled()')
  })

  it('its comparison is a call that there is', () => {
    const call = /node "\$PROGRAM" (.*) >/.exec(steps.find(s => s.run?.includes('compare'))!.run!)![1]!
    expect(call).toBe('compare "$BASE" --format markdown')
  })
})

describe('the step, on a repository of 300 jobs', () => {
  /** Every tenth job has an error nobody can accept, every fifteenth a warning. */
  const JOBS = 300
  const isWrong = (i: number): boolean => i % 10 === 0
  const isDoubtful = (i: number): boolean => i % 15 === 7
  const textOf = (i: number): string =>
    GATE.replace('HS-2250', `HS-${3000 + i}`).replace(
      '2 turns',
      isWrong(i) ? '1.7 turns' : isDoubtful(i) ? '2 turns\n    allow drum_sag because "agreed"' : '2 turns',
    )
  const count = (of: (i: number) => boolean): number => Array.from({ length: JOBS }, (_, i) => i).filter(of).length

  const place = mkdtempSync(join(tmpdir(), 'doorwright-action-'))
  const script = join(place, 'server/cli/action/run.mjs')
  beforeAll(async () => {
    // the action as it is checked out, with the program built
    mkdirSync(join(place, 'server/cli/action'), { recursive: true })
    cpSync(join(ROOT, 'server/cli/action/run.mjs'), script)
    const { common } = await import(String(new URL('../../../client/build.mjs', import.meta.url)))
    const js = "const bundleUrl=require('node:url').pathToFileURL(__filename).href;"
    await build({
      ...common,
      entryPoints: ['server/cli/main.ts'],
      outfile: join(place, 'dist/cli.cjs'),
      minify: true,
      banner: { js },
    })
  }, 60_000)
  afterAll(() => rmSync(place, { recursive: true }))

  function repository(): string {
    const files = Array.from({ length: JOBS }, (_, i) => [
      `jobs/${String(Math.floor(i / 50))}/job ${i}.door`,
      textOf(i),
    ])
    const folder = folderOf(Object.fromEntries(files))
    const git = spawnSync('git', ['init', '-q'], { cwd: folder })
    expect(git.status).toBe(0)
    return folder
  }

  function run(cwd: string, inputs: Record<string, string> = {}) {
    const at = (name: string): string => join(cwd, '.git', name)
    for (const name of ['summary', 'output']) writeFileSync(at(name), '')
    const env = Object.fromEntries(
      Object.keys(action.inputs).map((i: string) => [
        `DOORWRIGHT_${i.toUpperCase().replace('-', '_')}`,
        inputs[i] ?? action.inputs[i].default ?? '',
      ]),
    )
    const r = spawnSync(process.execPath, [script], {
      cwd,
      encoding: 'utf8',
      env: { ...process.env, ...env, GITHUB_STEP_SUMMARY: at('summary'), GITHUB_OUTPUT: at('output') },
    })
    const output = Object.fromEntries(readFileSync(at('output'), 'utf8').trim().split('\n').map(l => [l.slice(0, l.indexOf('=')), l.slice(l.indexOf('=') + 1)])) // biome-ignore format: one list
    return { ...r, output, summary: readFileSync(at('summary'), 'utf8') }
  }

  it('finds what was put in, and fails', () => {
    const folder = repository()
    const r = run(folder, { sarif: 'doors.sarif', junit: 'doors.xml' })
    expect(r.status).toBe(1)
    expect(r.output).toEqual({ status: '1', program: join(place, 'dist/cli.cjs'), sarif: 'doors.sarif' })
    const log = JSON.parse(readFileSync(join(folder, 'doors.sarif'), 'utf8')) as Log
    const results = log.runs[0]!.results!
    const errors = results.filter(x => x.ruleId === 'preload_increment')
    expect(
      errors
        .map(x => x.locations![0]!.physicalLocation!.artifactLocation!.uri!.replace(/^.*%20|\.door$/g, ''))
        .map(Number)
        .sort((a, b) => a - b),
    ).toEqual(Array.from({ length: JOBS }, (_, i) => i).filter(isWrong))
    expect(results.filter(x => x.ruleId === 'allow_unused')).toHaveLength(count(isDoubtful))
    expect(r.stdout.match(/^::error /gm)).toHaveLength(10)
    expect(r.stdout.match(/^::warning /gm)).toHaveLength(10)
    expect(r.summary).toContain(`300 files, ${count(isWrong)} errors`)
    expect(r.summary.match(/^\| error \|/gm)).toHaveLength(count(isWrong))
    expect(readFileSync(join(folder, 'doors.xml'), 'utf8')).toContain(`tests="300" failures="${count(isWrong)}"`)
  })

  it('takes folders with blanks, one a line, and nothing of them as an option', () => {
    const folder = repository()
    mkdirSync(join(folder, '--fix'))
    mkdirSync(join(folder, 'two words; touch ran'))
    for (const f of ['--fix', 'two words; touch ran']) writeFileSync(join(folder, f, 'a.door'), GATE)
    const r = run(folder, { paths: '--fix\n  two words; touch ran\r\n\n' })
    expect([r.status, r.output.sarif]).toEqual([0, ''])
    expect(r.stdout).toBe('2 files: 0 errors, 0 warnings, 0 notes.\n')
    expect(existsSync(join(folder, 'ran'))).toBe(false)
  })

  it('takes a baseline and a bound on warnings', () => {
    const folder = folderOf({ 'a.door': textOf(7) })
    spawnSync('git', ['init', '-q'], { cwd: folder })
    expect(run(folder, { 'max-warnings': '0' }).status).toBe(1)
    const made = spawnSync(process.execPath, [join(place, 'dist/cli.cjs'), 'baseline', '-o', 'known.json'], {
      cwd: folder,
    })
    expect(made.status).toBe(0)
    expect(run(folder, { 'max-warnings': '0', baseline: 'known.json' }).status).toBe(0)
  })

  it('takes a project file, and a part of the files with a cache', () => {
    const folder = folderOf({
      'a.door': textOf(7),
      'b.door': textOf(22),
      'house.json': '{ "severity": { "allow_unused": "off" } }',
    })
    spawnSync('git', ['init', '-q'], { cwd: folder })
    expect(run(folder, { config: 'house.json', 'max-warnings': '0' }).status).toBe(0)
    const parts = ['1/2', '2/2'].map(shard => run(folder, { shard, cache: '.doorwright-cache.jsonl' }).stdout)
    expect(parts.map(out => /file=(\w+)\.door/.exec(out)![1]).sort()).toEqual(['a', 'b'])
    expect(existsSync(join(folder, '.doorwright-cache.jsonl'))).toBe(true)
  })

  it('says in an annotation what is wrong with the call', () => {
    const folder = folderOf({ 'a.door': GATE })
    spawnSync('git', ['init', '-q'], { cwd: folder })
    const r = run(folder, { paths: 'gone' })
    expect([r.status, r.output.status]).toEqual([2, '2'])
    expect(r.stdout).toContain('::error title=doorwright::gone cannot be found. Check its spelling.')
  })
})
