/**
 * `npm run editor`: the extension in a whole VS Code, in any browser on this machine, with the samples open; for somebody
 * who has none. Fetches the editor first where it is missing. Ctrl+C ends it with everything that it started.
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import '../../client/setup.mjs'
import { install, root } from './install.mjs'

const found = install({ browser: false })
if (found.missing) {
  console.error(`No editor: ${found.missing}.`)
  process.exit(1)
}
const { buildAll } = await import('../../client/build.mjs')
const { startServer, addressOf } = await import('./workbench.mjs')
await buildAll()

const home = mkdtempSync(join(tmpdir(), 'doorwright-editor-'))
mkdirSync(join(home, 'extensions'), { recursive: true })
const server = await startServer(found, home)
const at = addressOf(server.port, {
  folder: join(root, 'samples'),
  extension: root.replace(/\/$/, ''),
  file: join(root, 'samples', 'harbour', 'dock.door'),
})
console.log(
  `VS Code with Doorwright and its samples:\n\n  ${at}\n\nOpen it in a browser on this machine. Ctrl+C ends it.`,
)

let ending = false
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'])
  process.on(signal, async () => {
    if (ending) return
    ending = true
    await server.end()
    rmSync(home, { recursive: true, force: true, maxRetries: 3 })
    console.log('Ended.')
    process.exit(0)
  })
server.process.on('exit', code => {
  if (ending) return
  console.error(`The editor ended by itself (status ${code}).`)
  rmSync(home, { recursive: true, force: true })
  process.exit(1)
})
