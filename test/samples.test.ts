/** The samples say what they are for: doors that pass, and one file per kind of mistake. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { nodeHost } from '../server/host.ts'
import { Service } from '../server/service.ts'

const SAMPLES = join(import.meta.dirname, '../samples')

function rules(file: string): string[] {
  const service = new Service(nodeHost({ workspaceRoot: SAMPLES }))
  const path = join(SAMPLES, file)
  service.open(path, readFileSync(path, 'utf8'))
  return service
    .findings(path)
    .filter(f => f.severity !== 'note')
    .map(f => f.rule)
}

/** What each file under `mistakes` shows, in the order of its text, notes left out. */
const MISTAKES: Readonly<Record<string, readonly string[]>> = {
  'loosened_limit.door': ['limit_loosened'],
  'low_headroom.door': ['requirement', 'headroom'],
  'narrow_rails.door': ['rails_between'],
  'overstressed_spring.door': ['spring_yield'],
  'preload_between_holes.door': ['preload_increment'],
  'sagging_drum.door': ['drum_sag'],
  'spring_too_large.door': ['spring_in_drum'],
  'unclosed_block.door': ['syntax', 'value_range'],
  'units_and_words.door': ['wrong_dimension', 'unknown_field', 'unknown_unit', 'unknown_name', 'circle'],
  'unused_allow.door': ['allow_unused'],
  'wound_backwards.door': ['winding_direction'],
  'wrong_hand.door': ['spring_hand'],
}

describe('samples', () => {
  for (const file of readdirSync(join(SAMPLES, 'harbour')).filter(f => f.endsWith('.door') && f !== 'stages.door'))
    it(`harbour/${file} breaks no rule`, () => {
      expect(rules(`harbour/${file}`)).toEqual([])
    })

  it('the stock file breaks no rule', () => {
    expect(rules('harbour/stock/house.door')).toEqual([])
  })

  it('the door through all its stages has a misfit in the survey and one wrong count', () => {
    expect(rules('harbour/stages.door')).toEqual(['survey_between', 'survey_width', 'installed_increments'])
  })

  it('every mistake has a line here', () => {
    expect(readdirSync(join(SAMPLES, 'mistakes')).toSorted()).toEqual(Object.keys(MISTAKES).toSorted())
  })

  for (const [file, expected] of Object.entries(MISTAKES))
    it(`mistakes/${file} shows ${expected.join(', ')}`, () => {
      const found = rules(`mistakes/${file}`)
      for (const r of expected) expect(found).toContain(r)
    })
})
