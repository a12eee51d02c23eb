/** Completions taken at random, as an editor writes them: each leaves a text that is read no worse, with no wrong name in it. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ASKED, faultsOf, judged, PIECES, type Place, placeIn, placeOf } from './accepting.ts'
import { anySample, LONG, PATIENCE, runs, samples, serviceOf, withText } from './support.ts'

/** A place with the cursor shown, and what is wrong with the item that was taken there. */
function report({ text, cursor, how }: Place, label: string, bad: readonly string[]): string {
  const around = `${text.slice(Math.max(0, cursor - 60), cursor)}|${text.slice(cursor, cursor + 40)}`
  return `${how}, in ${JSON.stringify(around)} \`${label}\`:\n  ${bad.join('\n  ')}`
}

const step = fc.record({
  asked: fc.constantFrom(...Object.keys(ASKED)),
  where: fc.nat(10_000),
  what: fc.nat(2 ** 20),
  item: fc.nat(10_000),
})

test(
  'whatever is taken, and taken after it, leaves the text as readable as it was and brings no wrong name',
  () => {
    let taken = 0
    fc.assert(
      fc.property(
        anySample,
        fc.constantFrom(...Object.keys(PIECES)),
        fc.nat(10_000),
        fc.array(step, { minLength: 1, maxLength: 4 }),
        (file, piece, n, steps) => {
          let text = PIECES[piece]!(samples[file]!, n)
          const s = serviceOf(withText(file, text), [file])
          for (const { asked, where, what, item } of steps) {
            const place = placeIn(text, asked, where, what)
            if (!place) continue
            s.edit(file, [{ text: place.text }])
            const items = s.completion(file, s.position(file, place.cursor))
            if (items.length === 0) continue
            const chosen = s.resolveCompletion(items[item % items.length]!)
            const bad = judged(place, s, file, chosen, faultsOf(s, file))
            if (bad.length > 0) throw new Error(report(place, chosen.label, bad))
            text = s.text(file)!
            taken++
          }
        },
      ),
      { numRuns: runs(30) },
    )
    expect(taken).toBeGreaterThan(20)
    if (LONG) console.log(`${taken} completions taken`)
  },
  PATIENCE,
)

const SMALL = `job "HS-1" {
  units = imperial
}
slat flat {
  pitch = 2in
}
slat slat_1 {
  pitch = 3in
}
let name = 1in
opening "Gate" {
  width = 10ft 2in because "measured"
  mount = face
  curtain {
    slat = flat
  }
  rails {
    between = width + name
    depth   = max(3in, name * 2)
  }
  spring long {
    hand = right
  }
  allow headroom because "x"
  require rails.between > width
}
opening "Opening 1" {
}
`
/** Where somebody asks in it: what is written there, and what they have there instead. */
const PLACES: readonly (readonly [written: string, marked: string])[] = [
  ['job "HS', '|\njob "HS'],
  ['job "HS', 'use |\njob "HS'],
  ['job "HS', 'use "|\njob "HS'],
  ['slat flat', 'sl|at flat'],
  ['slat flat {', 'slat flat li| {'],
  ['slat flat {', 'slat flat like | {'],
  ['  units = imperial', '  |'],
  ['imperial', '|'],
  ['  pitch =', '  |\n  pitch ='],
  ['pitch =', 'pi|tch ='],
  ['pitch = 2in', 'pitch = 2|'],
  ['pitch = 2in', 'pitch = 2|in'],
  ['name = 1in', 'name = |'],
  ['opening "Gate" ', 'op|ening "Gate" '],
  ['opening "Gate" ', 'opening "Gate" | '],
  ['opening "Gate" ', 'opening "Gate" like | '],
  ['opening "Gate" ', 'opening "Gate" like "O|" '],
  ['opening "Opening 1" ', 'opening "Opening 1" like "Ga|'],
  ['  width = 10ft', '  |\n  width = 10ft'],
  ['  width = 10ft', '  h|\n  width = 10ft'],
  ['  width = 10ft', '  wi|dth = 10ft'],
  ['10ft 2in', '10ft 2|'],
  ['10ft 2in', '10f|t 2in'],
  ['10ft 2in because "measured"', '10ft |'],
  ['  mount = face', '  cycles = 1/2|\n  mount = face'],
  ['mount = face', 'mount = |'],
  ['mount = face', 'mount = fa|'],
  ['  curtain {', '  cur|tain {'],
  ['slat = flat\n', 'slat = |\n'],
  ['    slat = flat\n', '    |\n'],
  ['width + name', '|'],
  ['width + name', 'wi|dth + name'],
  ['width + name', 'rails.|'],
  ['max(3in', 'ma|x(3in'],
  ['  spring long {', '  |\n  spring long {'],
  ['  spring long {', '  spri|ng long {'],
  ['hand = right', 'hand = |'],
  ['headroom because "x"', '|'],
  ['headroom because "x"', 'headroom |'],
  ['rails.between >', 'ra|ils.between >'],
  ['rails.between >', 'rails.be|tween >'],
]

test(
  'every item at chosen places of a small job can be taken',
  () => {
    const file = 'harbour/small.door'
    let taken = 0
    const failed: string[] = []
    const s = serviceOf(withText(file, SMALL), [file])
    for (const [written, marked] of PLACES) {
      expect(SMALL.split(written).length, written).toBeGreaterThan(1)
      const place = placeOf(
        SMALL,
        SMALL.replace(written, () => marked),
        marked,
      )
      s.edit(file, [{ text: place.text }])
      const items = s.completion(file, s.position(file, place.cursor)).map(i => s.resolveCompletion(i))
      expect(items.length, marked).toBeGreaterThan(0)
      const had = faultsOf(s, file)
      for (const item of items) {
        const bad = judged(place, s, file, item, had)
        if (bad.length > 0) failed.push(report(place, item.label, bad))
        s.edit(file, [{ text: place.text }])
        taken++
      }
    }
    expect(failed).toEqual([])
    expect(taken).toBeGreaterThan(500)
  },
  PATIENCE,
)
