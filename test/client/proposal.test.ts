import { expect, test } from 'vitest'
import { rowOf } from '../../client/proposal.ts'
import { Service } from '../../server/service.ts'
import { FILE, JOB } from '../server/report/job.ts'

const service = new Service({ resolve: () => ({ ok: false, outside: false, message: 'none' }), read: () => undefined })
service.open(FILE, JOB)
const sized = service.size(FILE, 'Dock 7')
const best = sized.ok ? { ...sized.proposals[0]!, edit: undefined } : undefined

test('a row begins with what it is chosen by, short enough to be read', () => {
  const { label, detail } = rowOf({ ...best!, against: [] })
  expect(label).toMatch(/^\$\(pass\) \d+ increments · out of balance by [\d.]+ lbf\*in · stress \d\d\.\d%$/)
  expect(label.length).toBeLessThan(75)
  expect(detail).toMatch(
    /^\d of [\d./]+ in wire, .* coils · life (about|more than) [\d,]+ cycles · .*, of|^\d of .* · ideal springs [\d.]+ lbf\*in$/,
  )
  // nothing of it is left out
  for (const [name, text] of best!.rows)
    for (const part of text.split(/[(),] ?/).filter(p => p && !(name === 'preload' && p.includes('turn'))))
      expect(`${label} ${detail}`).toContain(part)
})

test('what would still stand against it comes before the rest', () => {
  const { label, detail } = rowOf({ ...best!, against: ['drum_sag', 'headroom'] })
  expect(label).toMatch(/^\$\(warning\) /)
  expect(detail).toMatch(/^would still break: drum_sag, headroom · \d of /)
})
