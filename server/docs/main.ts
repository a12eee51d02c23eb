/** Writes the reference into the folder that it is given. */
import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { version } from '../../package.json'
import { documents } from './index.ts'

const folder = process.argv[2] ?? 'docs'
for (const [path, text] of documents(version)) {
  mkdirSync(dirname(join(folder, path)), { recursive: true })
  writeFileSync(join(folder, path), text)
}
