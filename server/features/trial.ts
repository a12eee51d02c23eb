/** Edits made on trial: whether values stay, names keep their meaning, and nothing new is found. */
import { type Chunk, editSource, type Source } from '../../grammar/index.ts'
import type { Door, Edit, Unit } from '../model/index.ts'
import { mentionsOf, type World } from './everywhere.ts'
import { noNewFindings, sameValues, snapshot } from './keeps.ts'
import { type Mention, mentionAt, mentions } from './mentions.ts'

/** What a trial is made on. */
export interface Bench extends World {
  set(file: string, source: Source): void
  /** The rules that find something in a file, each as often as it does. */
  rules(file: string): readonly string[]
  /** The files that use a file. */
  users(file: string): readonly string[]
}

interface Spot {
  readonly file: string
  readonly offset: number
}

/** Looks at files as they would be with some edits made, and puts them back. */
export function supposing<T>(edits: readonly Edit[], bench: Bench, look: () => T): T {
  const before = new Map<string, Source>()
  for (const file of new Set(edits.map(e => e.place.file))) {
    const source = bench.files.get(file)?.source
    if (source) before.set(file, source)
  }
  try {
    for (const [file, source] of before) {
      const startOf = startsOf(source)
      const own = edits
        .filter(e => e.place.file === file)
        .map(({ place: p, text }) => ({ start: startOf(p.chunk) + p.start, end: startOf(p.chunk) + p.end, text }))
      const inOrder = own.sort((a, b) => a.start - b.start)
      bench.set(file, editSource(source, inOrder))
    }
    return look()
  } finally {
    for (const [file, source] of before) bench.set(file, source)
  }
}

/** Whether every value stays as it is, but for those in `apart`, and nothing new is found. */
export function keepsValues(edits: readonly Edit[], bench: Bench, apart: readonly string[] = []): boolean {
  const files = touched(edits, bench)
  const rules = (): string[] => files.flatMap(f => bench.rules(f))
  const units = (): Unit[] => files.flatMap(f => [...bench.units(f)])
  const doors = (of: readonly Unit[]): Door[] => of.flatMap(u => u.doors)
  const [old, before] = [new Set(units()), rules()]
  const after = supposing(edits, bench, () => {
    const fresh = new Set(units())
    // a unit that reads nothing of the change is the same object
    const changed = [...fresh].filter(u => !old.has(u))
    return noNewFindings(before, rules())
      ? { values: doors(changed).map(snapshot), gone: [...old].filter(u => !fresh.has(u)) }
      : undefined
  })
  if (!after) return false
  const was = doors(after.gone)
  return was.length === after.values.length && after.values.every((v, i) => sameValues(snapshot(was[i]!), v, apart))
}

/** Whether a name given by edits is read just where it was put, and nothing new is found. */
export function renamesCleanly(
  edits: readonly Edit[],
  mention: Mention,
  name: string,
  where: readonly string[],
  bench: Bench,
): boolean {
  const files = touched(edits, bench)
  const rules = (): string[] => files.flatMap(f => bench.rules(f))
  const before = rules()
  const wanted = shifted(edits, bench)
  return supposing(edits, bench, () => {
    const again = mentionHere(wanted[0]!, bench)
    if (!noNewFindings(before, rules()) || !again?.meaning || again.kind !== mention.kind) return false
    const starts = new Map(where.map(f => [f, startsOf(bench.files.get(f)!.source)]))
    const found = new Set(
      mentionsOf(again.meaning, name, where, bench).map(({ unit, mention: m }) =>
        key({ file: unit.file, offset: starts.get(unit.file)!(unit.chunk) + m.span.start }),
      ),
    )
    return found.size === wanted.length && wanted.every(w => found.has(key(w)))
  })
}

const key = (s: Spot): string => `${s.offset} ${s.file}`

/** The files that edits change, and those that use them. */
function touched(edits: readonly Edit[], bench: Bench): string[] {
  const files = [...new Set(edits.map(e => e.place.file))]
  return [...new Set([...files, ...files.flatMap(f => bench.users(f))])]
}

function startsOf(source: Source): (chunk: Chunk) => number {
  const starts = new Map(source.chunks.map((c, i) => [c, source.starts[i]!]))
  return chunk => starts.get(chunk)!
}

function mentionHere({ file, offset }: Spot, bench: Bench): Mention | undefined {
  const source = bench.files.get(file)!.source
  const i = source.starts.findLastIndex(s => s <= offset)
  const unit = bench.units(file)[i]
  return (
    unit &&
    mentionAt(
      mentions(unit, bench.files, () => bench.any(file)),
      offset - source.starts[i]!,
    )
  )
}

/** Where edits come to stand once all of them are made. */
function shifted(edits: readonly Edit[], bench: Bench): Spot[] {
  const starts = new Map(edits.map(e => e.place.file).map(f => [f, startsOf(bench.files.get(f)!.source)]))
  const all = edits
    .map(e => ({ ...e, at: starts.get(e.place.file)!(e.place.chunk) + e.place.start }))
    .sort((a, b) => a.at - b.at)
  const off = new Map<string, number>()
  return all.map(({ place, text, at }) => {
    const by = off.get(place.file) ?? 0
    off.set(place.file, by + text.length - (place.end - place.start))
    return { file: place.file, offset: at + by }
  })
}
