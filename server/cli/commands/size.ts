/** `size`: springs (and a pipe) that balance an opening, best first. */
import { applyEdits, type Sized } from '../../service.ts'
import { engine } from '../engine.ts'
import { checkStdin, findFiles, readFiles, say } from '../files.ts'
import { JSON_VERSION, sizeSchema, writeJson } from '../formats/json.ts'
import { pick, plural } from '../formats/report.ts'
import { cautionsFooter, type Danger } from '../formats/values.ts'
import { CallError, type Io } from '../io.ts'
import { padEnd, safe, wrap } from '../width.ts'
import { writeChanged } from '../write_file.ts'

export interface SizeOptions {
  readonly format: string
  readonly opening?: string
  readonly most: string
  readonly write?: string
  readonly stdinPath?: string
  readonly config?: string
}

export async function size(args: readonly string[], options: SizeOptions, io: Io): Promise<number> {
  const asJson = pick(options.format, { pretty: false, json: true })
  const most = whole('--most', options.most)
  const chosen = options.write === undefined ? undefined : whole('--write', options.write)
  if (chosen !== undefined && options.opening === undefined)
    throw new CallError('--write needs --opening: the opening that the springs are written into.')
  checkStdin(args, options.stdinPath)
  const run = engine(io, undefined, options.config)
  const { service } = run
  const out: { path: string; opening: string; sized: Sized }[] = []
  const marks: string[] = []
  let unusable = 0
  for await (const input of readFiles(findFiles(args, io.cwd, run.excluded), io, options.stdinPath)) {
    if (!input) {
      unusable++
      continue
    }
    service.open(input.file, input.text)
    for (const { mark } of service.doors(input.file)) {
      marks.push(mark)
      if (options.opening !== undefined && options.opening !== mark) continue
      const sized = service.size(input.file, mark, Math.max(most, chosen ?? 0))
      out.push({ path: input.name, opening: mark, sized })
      if (chosen === undefined || !sized.ok) continue
      const edits = sized.proposals[chosen - 1]?.edits
      if (!edits)
        throw new CallError(
          `There ${sized.proposals.length === 1 ? 'is 1 proposal' : `are ${sized.proposals.length} proposals`} for "${mark}"; --write ${chosen} is not one of them.`,
        )
      const text = applyEdits(input.text, edits.map(e => ({ start: service.offset(input.file, e.range.start), end: service.offset(input.file, e.range.end), text: e.text }))) // biome-ignore format: one call
      if (input.standardInput) {
        io.out(text)
        return 0
      }
      writeChanged(input, text)
    }
  }
  if (options.opening !== undefined && unusable === 0 && !marks.includes(options.opening))
    throw new CallError(
      `There is no opening "${options.opening}" in what was read${marks.length > 0 ? `. There ${marks.length === 1 ? 'is' : 'are'}: ${marks.slice(0, 20).join(', ')}` : ''}.`,
    )
  if (asJson) json(out, most, io)
  else if (out.length > 0) table(out, most, chosen, io)
  else if (unusable === 0) say(io, 'There is no opening in what was read, so nothing to size.')
  if (unusable > 0 || run.faults() > 0) return 2
  return out.some(o => !o.sized.ok || o.sized.proposals.every(p => p.against.length > 0)) ? 1 : 0
}

function whole(option: string, text: string): number {
  const n = Number(text)
  if (!/^\d+$/.test(text) || n < 1 || n > 60)
    throw new CallError(`${option} takes a whole number from 1 to 60; found "${safe(text)}".`)
  return n
}

function table(
  out: readonly { path: string; opening: string; sized: Sized }[],
  most: number,
  chosen: number | undefined,
  io: Io,
): void {
  const c = io.colour
  for (const { path, opening, sized } of out) {
    io.out(`${c.underline(safe(path))}  ${c.bold(safe(opening))}\n\n`)
    if (!sized.ok) {
      io.out(
        `${wrap(sized.reason, io.width - 2)
          .map(l => `  ${l}`)
          .join('\n')}\n\n`,
      )
      continue
    }
    for (const [i, p] of sized.proposals.slice(0, most).entries()) {
      io.out(`  ${c.bold(`${i + 1}`)}${chosen === i + 1 ? '  written' : ''}\n`)
      for (const [name, text] of p.rows) io.out(`     ${padEnd(name, 22)}${safe(text)}\n`)
      if (p.against.length > 0) io.out(`     ${padEnd('still broken', 22)}${p.against.join(', ')}\n`)
      io.out('\n')
    }
    io.out(
      `  ${plural(Math.min(most, sized.proposals.length), 'proposal')}, ranked by weight of steel, balance and number of springs.\n\n`,
    )
  }
  io.out(`${cautionsFooter(new Set<Danger>(['spring']), c, io.width).join('\n')}\n`)
}

function json(out: readonly { path: string; opening: string; sized: Sized }[], most: number, io: Io): void {
  writeJson(io, sizeSchema, {
    version: JSON_VERSION,
    openings: out.map(({ path, opening, sized }) => ({
      path,
      opening,
      reason: sized.ok ? null : sized.reason,
      proposals: sized.ok
        ? sized.proposals.slice(0, most).map(p => ({
            title: p.title,
            numbers: { ...p.numbers },
            rows: Object.fromEntries(p.rows),
            against: [...p.against],
            edits: p.edits.map(e => ({
              line: e.range.start.line + 1,
              column: e.range.start.character + 1,
              end_line: e.range.end.line + 1,
              end_column: e.range.end.character + 1,
              text: e.text,
            })),
          }))
        : [],
    })),
  })
}
