/** The servers that are measured, and how each is started. Peers are installed by the first run that needs them. */
import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, statSync, writeFileSync } from 'node:fs'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'esbuild'
import { SCHEMA } from '../jobs.mjs'

const here = path => fileURLToPath(new URL(path, import.meta.url))
const cache = here('../../../.cache/bench')
const floor = `${cache}/floor.cjs`
const schema = `${cache}/job.schema.json`
/** What is measured is a copy, so that a build meanwhile changes nothing. */
export const built = `${cache}/dist`
const json = here('node_modules/vscode-langservers-extracted/bin/vscode-json-language-server')
const yaml = here('node_modules/yaml-language-server/bin/yaml-language-server')
const withoutDelay = ms => ({ node: ['-r', here('no_delay.cjs')], env: { NO_DELAY_MS: String(ms) } })

const forJson = {
  notation: 'json',
  script: json,
  settings: {
    json: { schemas: [{ fileMatch: ['*.json'], url: 'bench://job.json', schema: SCHEMA }], validate: { enable: true } },
  },
}
const forYaml = {
  notation: 'yaml',
  script: yaml,
  settings: {
    yaml: {
      schemas: { [pathToFileURL(schema).href]: '*.yaml' },
      validate: true,
      completion: true,
      hover: true,
      schemaStore: { enable: false },
    },
  },
}

/**
 * `asked`: what can be measured of it beside findings. `peer`: has to be installed, and takes its time over long files.
 * `blind`: does not look at the text. `delayed`: as it is shipped, with its wait before it validates.
 */
export const SERVERS = [
  {
    id: 'doorwright',
    notation: 'door',
    script: `${built}/server.cjs`,
    asked: ['completion', 'hover', 'hints', 'keystroke'],
  },
  { id: 'floor', notation: 'door', script: floor, blind: true },
  { id: 'json', peer: true, ...forJson, ...withoutDelay(500), asked: ['completion', 'hover'] },
  { id: 'langium', peer: true, notation: 'door', script: here('langium.mjs'), asked: ['completion'] },
  { id: 'yaml', peer: true, ...forYaml, ...withoutDelay(200), asked: ['completion', 'hover'] },
  { id: 'json+500ms', peer: true, ...forJson, delayed: true },
  { id: 'yaml+200ms', peer: true, ...forYaml, delayed: true },
]

/** npm notes what it has installed in a file of its own; a lock file that is newer asks for something else. */
const installed = () => {
  const time = file => statSync(here(file), { throwIfNoEntry: false })?.mtimeMs ?? 0
  return time('node_modules/.package-lock.json') > time('package-lock.json')
}

/** Ours is one file without unused parts; so that the floor is a fair one, it is made the same way. */
export async function prepare(servers) {
  if (servers.some(s => s.peer) && !installed()) {
    console.error('installing what is compared with ...')
    const npm = ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error']
    const { status } = spawnSync('npm', npm, { cwd: here('.'), stdio: ['ignore', 'ignore', 'inherit'] })
    if (status !== 0) throw new Error('it could not be installed; --only doorwright,floor does without')
  }
  mkdirSync(cache, { recursive: true })
  cpSync(here('../../../dist'), built, { recursive: true })
  writeFileSync(schema, JSON.stringify(SCHEMA))
  if (servers.some(s => s.script === floor))
    await build({
      entryPoints: [here('floor.mjs')],
      outfile: floor,
      bundle: true,
      minify: true,
      platform: 'node',
      format: 'cjs',
      target: 'node20',
    })
}
