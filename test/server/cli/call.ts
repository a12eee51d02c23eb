/** Calls the command line as a person would, on a folder made for the purpose, and gives back what it said. */
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { onTestFinished } from 'vitest'
import { colours } from '../../../server/cli/colour.ts'
import { run } from '../../../server/cli/program.ts'

export interface Said {
  readonly status: number | undefined
  readonly out: string
  readonly err: string
}

/** A folder with these files, gone after the test. It is a workspace of its own. */
export function folderOf(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'doorwright-cli-')))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  for (const [name, content] of Object.entries({ 'doorwright.json': '{}', ...files })) {
    mkdirSync(dirname(join(folder, name)), { recursive: true })
    writeFileSync(join(folder, name), content)
  }
  return folder
}

export async function call(
  cwd: string,
  args: readonly string[],
  more: { stdin?: string | Uint8Array; width?: number; colour?: boolean } = {},
): Promise<Said> {
  let out = ''
  let err = ''
  const status = await run(args, {
    out: t => void (out += t),
    err: t => void (err += t),
    stdin: async () => Buffer.from(more.stdin ?? ''),
    cwd,
    width: more.width ?? 100,
    colour: colours(more.colour ?? false),
    errColour: colours(more.colour ?? false),
    closed: false,
    progress: () => {},
  })
  return { status, out, err }
}

/** A yard gate that nothing is found in. */
export const GATE = `job "HS-2250" {
  units = imperial
}

opening "Gate" {
  width    = 10ft
  height   = 10ft
  headroom = 20in
  cycles   = 6/day

  curtain {
    slat {
      pitch     = 2 1/2in
      thickness = 3/4in
      weight    = 2.4 lb/ft^2
    }
    engagement = 2 1/2in
    bottom_bar = 2.5 lb/ft
    endlock    = 0.2 lb
  }
  rails {
    between = 10ft 1in
    depth   = 3 1/4in
  }
  drum {
    pipe       = nps5_std
    span       = 10ft 9in
    drop_guard = true
  }
  adjuster {
    side    = right
    holes   = 8
    preload = 2 turns
  }
  spring {
    wire     = 3/8in
    diameter = 4 1/2in
    coils    = 120
    count    = 2
    hand     = right
  }
}
`

/** One safe fix: an \`allow\` that accepts nothing, which is one warning. */
export const ONE_WARNING = GATE.replace('  cycles', '  allow drum_sag because "agreed"\n  cycles')
/** One error that has no fix. */
export const ONE_ERROR = GATE.replace('  cycles', '  colour   = 3\n  cycles')

/** Columns that a text fills on a terminal: counted by hand from a short list, as a check on the program's own count. */
export function columns(text: string): number {
  let n = 0
  let joined = false
  for (const c of text) {
    const p = c.codePointAt(0)!
    const inRange = (...ranges: [number, number][]): boolean => ranges.some(([low, high]) => p >= low && p <= high)
    if (p === 0x200d) {
      joined = true
      continue
    }
    if (joined) {
      joined = false
      continue
    }
    if (inRange([0x300, 0x36f], [0x20d0, 0x20ff], [0x1f3fb, 0x1f3ff])) continue
    if (p === 0xfe0f) {
      n += 1
      continue
    }
    if (inRange([0x1f1e6, 0x1f1ff])) n += 1
    else if (inRange([0x1100, 0x115f], [0x2e80, 0xa4cf], [0xac00, 0xd7a3], [0xff01, 0xff60], [0x1f300, 0x1faff])) n += 2
    else n += 1
  }
  return n
}
