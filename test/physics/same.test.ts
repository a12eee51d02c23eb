/** The same door said in other ways: other orders, copies, stock, other files, other units, lets. One door, one set of values and findings. */
import { describe, expect, it } from 'vitest'
import { job } from '../server/second_opinion/jobs.ts'
import { derivedOf, scaleOf } from './derived.ts'
import { block, type Door, Draw, draws, type Entry, full, type Hand, HOURS, head, inside, isQuantity, jobText, LANGUAGE, near, openingText, plainHand, q, type Read, read, runs, SEED, said, served, without } from './door.ts' // biome-ignore format: one import

type Files = Readonly<Record<string, string>>
interface Way {
  readonly name: string
  readonly write: (door: Door, d: Draw) => Files
}
const hand = (more: Partial<Hand>): Hand => ({ ...plainHand('imperial'), ...more })
const sub = (door: Door, at: string): Door =>
  Object.fromEntries(
    Object.entries(door)
      .filter(([p]) => p.startsWith(`${at}.`))
      .map(([p, e]) => [p.slice(at.length + 1), e]),
  )
const minus = (door: Door, at: string): Door => without(door, ...Object.keys(door).filter(p => p.startsWith(`${at}.`)))
const job_ = (text: string, use = ''): string => `${use}${head('imperial')}${text}`
const springs = (door: Door): string[] => [
  ...new Set(Object.keys(door).flatMap(p => p.match(/^spring\[\d+\]/)?.[0] ?? [])),
]

/** Slat, pipe, springs and operator as stock, all or some of the lines of each; the opening that uses them. */
function inStock(door: Door, d: Draw): { stock: string; opening: string } {
  let rest = inside(door)
  const named: Record<string, string> = {}
  let stock = ''
  const move = (at: string, kind: string, name: string, like: boolean): void => {
    const all = sub(rest, at)
    if (Object.keys(all).length === 0 || d.often(20)) return
    rest = minus(rest, at)
    named[at] = like ? `${kind} like ${name}` : `${kind} = ${name}`
    // some lines stay written over those of the stock
    const own = like ? Object.keys(all).filter(() => d.often(30)) : []
    for (const p of own) rest = { ...rest, [`${at}.${p}`]: all[p]! }
    const kept: Record<string, Entry> = { ...all }
    for (const p of own) {
      const e = all[p]!
      if (isQuantity(e) && d.often(50)) kept[p] = { ...e, x: /count|sprocket|coils/.test(p) ? e.x : e.x * 0.9 }
      else delete kept[p]
    }
    stock += `${kind} ${name} {\n${block(kept, '', '  ', plainHand('imperial'))}}\n`
  }
  move('curtain.slat', 'slat', 'flat_a', d.often(50))
  move('drum.pipe', 'pipe', 'tube_b', false)
  for (const [i, s] of springs(rest).entries()) move(s, 'spring', `coil_${i}`, true)
  move('operator', 'operator', 'unit_c', true)
  return { stock, opening: `opening "A" {\n${block(rest, '', '  ', plainHand('imperial'), named)}}\n` }
}

const WAYS: readonly Way[] = [
  {
    name: 'lines and blocks in another order',
    write: (door, d) => ({ 'job.door': job_(openingText(door, '"A"', hand({ order: all => d.shuffle(all) }))) }),
  },
  {
    name: 'blocks on one line',
    write: (door, d) => ({ 'job.door': job_(openingText(door, '"A"', hand({ flat: () => d.often(60) }))) }),
  },
  {
    name: 'each quantity in a unit of its own',
    write: (door, d) => ({
      'job.door': job_(openingText(door, '"A"', hand({ say: e => said(e, d.pick(['imperial', 'metric'])) }))),
    }),
  },
  {
    name: 'quantities by arithmetic',
    write: (door, d) => ({
      'job.door': job_(
        openingText(
          door,
          '"A"',
          hand({
            say: e => {
              const one = said(e, 'imperial')
              if (!isQuantity(e) || d.often(50)) return one
              return d.pick([
                `(${one})`,
                `max(${one}, ${one})`,
                `${one} * 2 / 2`,
                `abs(-${one})`,
                `${one} + ${one} - ${one}`,
                `sqrt(${one} * ${one})`,
                `4 * ${one} / (1 + 3)`,
              ])
            },
          }),
        ),
      ),
    }),
  },
  {
    name: 'quantities by `let`, before and after, in the opening and in the file',
    write: (door, d) => {
      const inner: string[] = []
      const outer: string[] = []
      const say = (e: Entry, path: string): string => {
        if (!isQuantity(e) || d.often(60)) return said(e, 'imperial')
        const to = d.often(50) ? inner : outer
        const name = `v_${path.replace(/[^a-z0-9]+/g, '_')}${inner.length + outer.length}`
        to.push(`let ${name} = ${said(e, 'imperial')}\n`)
        return d.often(30) ? `(${name})` : name
      }
      const text = openingText(door, '"A"', hand({ say }))
      const own = inner.join('')
      return {
        'job.door': job_(
          outer.join('') + (d.often(50) ? text.replace('{\n', `{\n${own}`) : text.replace(/}\n$/, `${own}}\n`)),
        ),
      }
    },
  },
  {
    name: '`like` another door',
    write: (door, d) => {
      // of the first door some lines are other ones, which the second writes over
      const over: Record<string, Entry> = {}
      const base: Record<string, Entry> = {}
      for (const [path, e] of Object.entries(door)) {
        base[path] = e
        if (/^spring/.test(path) || d.often(70)) continue
        over[path] = e
        if (isQuantity(e) && d.often(70))
          base[path] = q(
            e.kind,
            /count|holes|every|sprocket|supports|slings$|efficiency|sling_angle|wall$/.test(path)
              ? e.x
              : e.x * d.over(1, 2),
          )
        else if (d.often(40)) delete base[path]
      }
      if (!Object.keys(over).some(p => p.startsWith('drum.pipe.'))) base['drum.pipe.od'] = door['drum.pipe.od']!
      const first = openingText(base, '"B"', plainHand('imperial'))
      const second = openingText(over, '"A" like "B"', plainHand('imperial'))
      return d.often(60)
        ? { 'job.door': job_(d.often(50) ? first + second : second + first) }
        : { 'other.door': first, 'job.door': job_(second, 'use "other.door"\n') }
    },
  },
  {
    name: 'parts from the stock',
    write: (door, d) => {
      const { stock, opening } = inStock(door, d)
      return { 'job.door': job_(d.often(50) ? stock + opening : opening + stock) }
    },
  },
  {
    name: 'parts and limits from used files',
    write: (door, d) => {
      const limits = sub(door, 'limits')
      const apart = d.often(70)
      const { stock, opening } = inStock(apart ? minus(door, 'limits') : door, d)
      const parts = stock.split(/(?<=^}\n)/m)
      const text = apart
        ? `limits {\n${block(Object.fromEntries(Object.entries(limits).map(([n, e]) => [`limits.${n}`, e])), 'limits.', '  ', plainHand('imperial'))}}\n`
        : ''
      const half = parts.filter(() => d.often(50))
      return {
        'one.door': `use "two.door"\n${half.join('')}`,
        'two.door': `${parts.filter(p => !half.includes(p)).join('')}${text}`,
        'job.door': job_(opening, 'use "one.door"\n'),
      }
    },
  },
]

describe('the same door said in another way', () => {
  for (const way of WAYS)
    it(
      `${way.name}: ${runs(8)} doors`,
      () => {
        let compared = 0
        draws(8, g => {
          const d = new Draw(g)
          const all = full(d)
          const door = without(
            all,
            ...['drum.rise', 'drum.span', 'rails.length', 'adjuster.preload', 'rigging.slings', 'operator.side'].filter(
              () => d.often(30),
            ),
          )
          const plain = { 'job.door': jobText({ A: door }) }
          const other = way.write(door, d)
          const sides = [plain, other].map(files => {
            const service = served(files)
            return { read: read(files, service).get('A')!, found: service.findings('job.door') }
          })
          const [a, b] = [sides[0]!, sides[1]!]
          const fault = (what: string): Error =>
            new Error(
              `${what}\n${plain['job.door']}\n${Object.entries(other)
                .map(([n, t]) => `--- ${n}\n${t}`)
                .join('')}`,
            )
          const wrong = b.found.filter(f => LANGUAGE.has(f.rule))
          if (wrong.length > 0) throw fault(wrong.map(f => f.message).join('\n'))
          const paths = (of: ReadonlyMap<string, unknown>): string => [...of.keys()].join()
          if (paths(a.read.si) !== paths(b.read.si)) throw fault(`${paths(a.read.si)}\n${paths(b.read.si)}`)
          for (const [path, x] of a.read.si) {
            const y = b.read.si.get(path)!
            const derived = derivedOf(a.read).has(path)
            if (!near(x, y, path === 'balance.worst_at' ? 1e-6 : 1e-9, derived ? 1e-3 * scaleOf(path, a.read) : 0))
              throw fault(`${path}: ${x} and ${y}`)
            if (a.read.bounds.get(path) !== b.read.bounds.get(path)) throw fault(`${path}: bounds`)
            compared++
          }
          const words = (r: typeof a): string =>
            [...r.read.words].filter(([p]) => !/^(curtain\.slat|drum\.pipe)$/.test(p)).join()
          if (words(a) !== words(b)) throw fault(`${words(a)}\n${words(b)}`)
          // what is found in a slat or pipe of the stock stands where its name is written
          const at = (path: string | undefined): string =>
            `${path}`.replace(/^(curtain\.slat|drum\.pipe)$/, m => m.slice(0, m.indexOf('.')))
          const rules = (s: typeof a): string =>
            s.found
              .filter(f => f.opening === 'A')
              .map(f => `${f.rule} ${f.severity} ${at(f.block)}`)
              .sort()
              .join('\n')
          if (rules(a) !== rules(b)) throw fault(`${rules(a)}\nand\n${rules(b)}`)
        })
        console.log(`physics, same: seed ${SEED}, ${compared} values`)
      },
      HOURS,
    )

  it(
    `springs in another order balance the same: ${runs(8)} doors`,
    () => {
      draws(8, g => {
        const d = new Draw(g)
        const door = full(d)
        const order = d.shuffle(springs(door))
        const other = Object.fromEntries(
          Object.entries(door).map(([p, e]) => {
            const at = order.indexOf(p.match(/^spring\[\d+\]/)?.[0] ?? '')
            return [at < 0 ? p : p.replace(/^spring\[\d+\]/, `spring[${at}]`), e]
          }),
        )
        const sorted = Object.fromEntries(Object.entries(other).sort(([x], [y]) => (x < y ? -1 : 1)))
        const [a, b] = [door, sorted].map(x => read({ 'job.door': jobText({ A: x }) }).get('A')!) as [Read, Read]
        for (const [path, x] of derivedOf(a)) {
          const at = path.match(/^spring\[\d+\]/)?.[0]
          const there = at ? path.replace(at, `spring[${order.indexOf(at)}]`) : path
          if (!near(x, b.si.get(there)!, path === 'balance.worst_at' ? 1e-6 : 1e-9, 1e-3 * scaleOf(path, a)))
            throw new Error(`${path}: ${x} and ${b.si.get(there)}\n${jobText({ a: door, b: sorted })}`)
        }
      })
    },
    HOURS,
  )

  it(
    `rings are a larger drum for the coil, and springs of one kind may be counted or repeated: ${runs(8)} doors`,
    () => {
      draws(8, g => {
        const d = new Draw(g)
        const all = full(d)
        const door: Door = {
          ...without(all, ...Object.keys(all).filter(p => /^spring\[[12]\]/.test(p))),
          'spring[0].count': q('count', 2),
          'drum.rise': all['drum.rise']!,
        }
        const one = Object.fromEntries(
          Object.entries(sub(door, 'spring[0]')).map(([n, e]) => [n, n === 'count' ? q('count', 1) : e]),
        )
        const twice: Door = {
          ...minus(door, 'spring[0]'),
          ...Object.fromEntries([0, 1].flatMap(i => Object.entries(one).map(([n, e]) => [`spring[${i}].${n}`, e]))),
        }
        const values = read({ 'job.door': jobText({ a: door, b: twice }) })
        const [a, b] = [values.get('a')!, values.get('b')!]
        for (const path of derivedOf(a).keys()) {
          if (/^spring\[0\]\.(rate|weight)$/.test(path)) expect(b.si.get(path)! * 2).toBeCloseTo(a.si.get(path)!, 9)
          else if (
            !near(a.si.get(path)!, b.si.get(path)!, path === 'balance.worst_at' ? 1e-6 : 1e-9, 1e-3 * scaleOf(path, a))
          )
            throw new Error(`${path}: ${a.si.get(path)} and ${b.si.get(path)}\n${jobText({ a: door, b: twice })}`)
        }
        const ring = d.over(0.1, 10)
        const large: Door = {
          ...door,
          'drum.ring': q('length', 0),
          'drum.pipe.od': q('length', (door['drum.pipe.od'] as { x: number }).x + 2 * ring),
        }
        const ringed: Door = { ...door, 'drum.ring': q('length', ring) }
        const both = read({ 'job.door': jobText({ a: large, b: ringed }) })
        const [x, y] = [both.get('a')!, both.get('b')!]
        for (const path of derivedOf(x).keys())
          if (
            !/^drum\.(weight|sag|inside)$/.test(path) &&
            !near(x.si.get(path)!, y.si.get(path)!, path === 'balance.worst_at' ? 1e-6 : 1e-9, 1e-3 * scaleOf(path, x))
          )
            throw new Error(`${path}: ${x.si.get(path)} and ${y.si.get(path)}\n${jobText({ a: large, b: ringed })}`)
      })
    },
    HOURS,
  )

  it(
    `${runs(8)} jobs of the second opinion, opened by edits or at once, in any order of files`,
    () => {
      draws(8, g => {
        const j = job(g)
        const text = j.files['job.door']!
        const at = served(j.files)
        const typed = served({ ...j.files, 'job.door': '' })
        const d = new Draw(g)
        // typed in pieces, as an editor does
        const cuts = [0, ...Array.from({ length: 5 }, () => d.int(0, text.length)), text.length].sort((x, y) => x - y)
        for (let i = 1; i < cuts.length; i++) {
          const end = typed.position('job.door', typed.text('job.door')!.length)
          typed.edit('job.door', [{ range: { start: end, end }, text: text.slice(cuts[i - 1], cuts[i]) }])
        }
        expect(typed.text('job.door')).toBe(text)
        expect(typed.values('job.door')).toEqual(at.values('job.door'))
        expect(typed.findings('job.door').map(f => f.message)).toEqual(at.findings('job.door').map(f => f.message))
      })
    },
    HOURS,
  )
})
