/** The licences of what a bundle contains, which go along with it. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/**
 * @param inputs the paths of all sources that went into bundles, relative to `root`
 * @returns one text: every package once, sorted, each with its licence as it came
 */
export function notices(root, inputs) {
  const folders = new Set(inputs.map(i => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(i)?.[0]).filter(Boolean))
  const parts = [...folders].sort().map(folder => {
    const at = join(root, folder)
    const { name, version, license } = JSON.parse(readFileSync(join(at, 'package.json'), 'utf8'))
    const files = readdirSync(at)
      .filter(f => /^(licen[cs]e|notice|third)/i.test(f))
      .sort()
    const texts = files.map(f => readFileSync(join(at, f), 'utf8').trim())
    return [`${name} ${version} (${license})`, ...texts].join('\n\n')
  })
  return `Doorwright contains the following packages.\n\n${parts.join(`\n\n${'-'.repeat(80)}\n\n`)}\n`
}
