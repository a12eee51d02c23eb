import * as m from '../mechanics/index.ts'
import { type Fix, setField } from '../model/index.ts'
import { DIMENSION, writeExact } from '../units/index.ts'
import { withPower } from './drive.ts'
import { imperial } from './lengths.ts'
import { type Door, rule } from './rule.ts'

const CENTERS = 'operator.centers'
const LINKS = 'installed.chain_links'

export default rule({
  id: 'chain_even',
  group: 'Operator',
  severity: 'warning',
  what: 'The roller chain that was counted on site is of a whole and even number of links. The number in the job is worked out and always even.',
  why: 'Inner and outer links take turns; an odd number needs an offset link, which is the weakest of the chain.',
  todo: 'Take an even number of links and set the centres to the distance at which it is tight.',
  source: 'ASME B29.1 practice: an odd number of pitches needs an offset link',
  about: 'installed',
  caution: 'power',
  bad: `installed { chain_links = 85 }
`,
  good: `installed { chain_links = 86 }
`,
  check(door, report) {
    const counted = door.number(LINKS)
    if (counted === undefined || (m.isWhole(counted) && Math.round(counted) % 2 === 0)) return
    const links = door.number('operator.chain_links')
    const wrong = m.isWhole(counted) ? 'an odd number, which needs an offset link' : 'which is no whole number'
    const even = links ?? m.nextEven(counted)
    const set = links === undefined ? '' : ` and set the centres to ${door.show('operator.centers_set')}`
    report({
      message: withPower(
        door,
        `The chain is written down with ${door.show(LINKS)} links, ${wrong}. Count again; then change it to ${even} links${set}.`,
      ),
      at: LINKS,
      limit: 'a whole and even number of links',
      related: links === undefined ? [] : [{ at: CENTERS, message: `the job asks for ${links} links` }],
      fixes: () => [
        write(door, LINKS, `${even}`, `once the chain has ${even} links`),
        links === undefined ? undefined : centers(door, links),
      ],
    })
  },
})

/**
 * The centres at which so many links are tight, to 1/1000 in or 0.1 mm. Rounded down: a hair more would ask for another
 * link, and the two after that.
 */
function centers(door: Door, links: number): Fix | undefined {
  const chain = door.word('operator.chain') as m.ChainName | undefined
  const drive = door.number('operator.sprocket_drive')
  const drum = door.number('operator.sprocket_drum')
  if (chain === undefined || drive === undefined || drum === undefined) return undefined
  const si = m.centerDistance(links, m.CHAINS[chain].pitch, drive, drum)
  if (si === undefined) return undefined
  const [unit, step] = imperial(door, CENTERS) ? (['in', 0.0254 / 1000] as const) : (['mm', 0.0001] as const)
  const text = writeExact(m.wholeDown(si / step) * step, DIMENSION.length, unit)
  return text === undefined ? undefined : write(door, CENTERS, text, `${links} links`)
}

function write(door: Door, path: string, text: string, gain: string): Fix | undefined {
  const edits = setField(door, path, text)
  return edits && { title: `Write \`${path.slice(path.indexOf('.') + 1)} = ${text}\`: ${gain}`, safe: false, edits }
}
