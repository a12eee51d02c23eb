/** Who may enter which room: imports go one way, and what is absent stays absent. */
import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, normalize, relative } from 'node:path'
import { describe, expect, it } from 'vitest'

const ROOT = join(import.meta.dirname, '..')
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  grammar: [],
  'server/units': [],
  'server/mechanics': [],
  'server/model': ['grammar', 'server/units', 'server/mechanics'],
  'server/rules': ['grammar', 'server/units', 'server/mechanics', 'server/model'],
  'server/features': ['grammar', 'server/units', 'server/mechanics', 'server/model'],
  'server/report': ['grammar', 'server/units', 'server/mechanics', 'server/model'],
  'server/service': ['grammar', 'server/model', 'server/rules', 'server/features', 'server/report'],
  'server/service.ts': [
    'server/service',
    'grammar',
    'server/model',
    'server/rules',
    'server/features',
    'server/report',
  ],
  'server/config': ['server/service.ts'],
  'server/host.ts': ['server/service.ts', 'server/config'],
  'server/lsp': ['server/service.ts', 'server/host.ts', 'server/config'],
  // the one command `lsp` starts the language server
  'server/cli': ['server/service.ts', 'server/host.ts', 'server/config', 'server/lsp'],
  // the reference is made of all that there is
  'server/docs': [
    'server/units',
    'server/mechanics',
    'server/model',
    'server/features',
    'server/report',
    'server/service.ts',
    'server/config',
    'server/cli',
  ],
  client: [],
}

/** Packages a room may use; the others it may not. Node's own modules are packages here. */
const PACKAGES: Readonly<Record<string, RegExp>> = {
  grammar: /^chevrotain$/,
  'server/units': /^fastest-levenshtein$/,
  'server/mechanics': /^$/,
  'server/model': /^(zod|fastest-levenshtein)$/,
  'server/rules': /^$/,
  'server/features': /^$/,
  'server/report': /^(d3-.*|zod)$/,
  'server/service': /^$/,
  'server/service.ts': /^$/,
  'server/config': /^(zod|jsonc-parser)$/,
  'server/host.ts': /^node:(fs|path|url)$/,
  'server/docs': /^(zod|node:(fs|path))$/,
  'server/lsp': /^(vscode-languageserver.*|node:(fs|path|url|process|net|v8))$/,
  // sarif: the types of what is written, nothing that runs
  'server/cli': /^(commander|picocolors|get-east-asian-width|picomatch|sarif|zod|node:.*)$/,
  client: /^(vscode|vscode-languageclient.*|node:(path|child_process))$/,
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder).flatMap(name => {
    const path = join(folder, name)
    return statSync(path).isDirectory() ? filesBelow(path) : /\.ts$/.test(name) ? [path] : []
  })
}

const roomOf = (path: string): string | undefined =>
  Object.keys(ROOMS).find(r => path === r || path.startsWith(`${r}/`))

const imports = (file: string): string[] =>
  [
    ...readFileSync(file, 'utf8').matchAll(
      /(?:^|\n)\s*(?:import|export)\b[^'"\n;]*?(?:\{[^}]*\}[^'"]*?)?from\s*['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)|(?:^|\n)import\s+['"]([^'"]+)['"]/g,
    ),
  ].map(m => (m[1] ?? m[2] ?? m[3])!)

const sources = ['grammar', 'server', 'client'].flatMap(r => filesBelow(join(ROOT, r)))

describe('imports go one way', () => {
  it('finds the sources', () => {
    expect(sources.length).toBeGreaterThan(50)
    expect(imports(join(ROOT, 'server/service.ts'))).toContain('../grammar/index.ts')
  })

  for (const file of sources) {
    const path = relative(ROOT, file)
    it(path, () => {
      const room = roomOf(path)
      expect(room, `${path} stands in no room`).toBeDefined()
      for (const target of imports(file)) {
        if (target.startsWith('.')) {
          const to = normalize(join(dirname(path), target))
          if (to === 'package.json') continue // the version
          const other = roomOf(to)
          expect(other === room || ROOMS[room!]!.includes(other!), `${path} may not import ${to}`).toBe(true)
        } else expect(PACKAGES[room!]!.test(target), `${path} may not use ${target}`).toBe(true)
      }
    })
  }
})

describe('what is absent', () => {
  const code = (file: string): string => readFileSync(file, 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '')
  const inRoom = (room: string): string[] => sources.filter(f => roomOf(relative(ROOT, f)) === room)

  it('the model and the rules have no clock and no chance', () => {
    for (const f of [...inRoom('server/model'), ...inRoom('server/rules'), ...inRoom('server/mechanics')])
      expect(code(f), relative(ROOT, f)).not.toMatch(
        /Date\.now|new Date\(\s*\)|Math\.random|performance\.now|setTimeout/,
      )
  })

  it('only the entry of the command line sets an exit status', () => {
    for (const f of sources.filter(f => !/server\/(cli|lsp)\/(main|start)\.ts$/.test(f)))
      expect(code(f), relative(ROOT, f)).not.toMatch(/process\.exit(?:Code\s*=|\()/)
  })

  it('rules are synchronous', () => {
    for (const f of inRoom('server/rules'))
      expect(code(f), relative(ROOT, f)).not.toMatch(/\basync\b|\bawait\b|Promise/)
  })
})
