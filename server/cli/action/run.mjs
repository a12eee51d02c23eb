/**
 * The step of the GitHub Action (`action.yml`): builds the command line where it is not there yet, runs the check, and hands
 * on what later steps need. What was asked for comes in the environment.
 */
import { spawnSync } from 'node:child_process'
import { appendFileSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const OLDEST_NODE = 20
const root = fileURLToPath(new URL('../../..', import.meta.url))
const program = join(root, 'dist', 'cli.cjs')
const asked = name => (process.env[`DOORWRIGHT_${name}`] ?? '').trim()

/** A failure of the step in words, as an annotation. */
function fail(message) {
  console.log(`::error title=Doorwright::${message.replace(/%/g, '%25').replace(/\r/g, '%0D').replace(/\n/g, '%0A')}`)
  process.exit(2)
}

if (Number(process.versions.node.split('.')[0]) < OLDEST_NODE)
  fail(
    `Doorwright needs Node ${OLDEST_NODE} or newer; this runner has ${process.versions.node}. Put actions/setup-node before it.`,
  )

if (!existsSync(program)) {
  console.log('::group::Building Doorwright')
  // on a Windows runner npm is a script, which only a shell starts
  const built = spawnSync('npm run build', { cwd: root, shell: true, stdio: ['ignore', 'inherit', 'inherit'] })
  console.log('::endgroup::')
  if (built.status !== 0 || !existsSync(program)) fail('Doorwright could not be built. The log above says why.')
}

const args = ['check', '--format', 'github']
if (asked('SARIF')) args.push('--format', `sarif=${asked('SARIF')}`)
if (asked('JUNIT')) args.push('--format', `junit=${asked('JUNIT')}`)
if (asked('CONFIG')) args.push(`--config=${asked('CONFIG')}`)
if (asked('MAX_WARNINGS')) args.push(`--max-warnings=${asked('MAX_WARNINGS')}`)
if (asked('BASELINE')) args.push(`--baseline=${asked('BASELINE')}`)
if (asked('SHARD')) args.push(`--shard=${asked('SHARD')}`)
if (asked('CACHE')) args.push(`--cache=${asked('CACHE')}`)
// after `--` nothing is an option, however a folder is called
args.push(
  '--',
  ...asked('PATHS')
    .split(/\r?\n/)
    .map(p => p.trim())
    .filter(Boolean),
)

const run = spawnSync(process.execPath, [program, ...args], { stdio: ['ignore', 'inherit', 'inherit'] })
if (run.error) fail(`Doorwright could not be started: ${run.error.message}`)
const status = run.status ?? 2

if (process.env.GITHUB_OUTPUT) {
  const sarif = asked('SARIF') && existsSync(asked('SARIF')) ? asked('SARIF') : ''
  const lines = { status, program, sarif }
  // a line end in a value would start another one
  appendFileSync(
    process.env.GITHUB_OUTPUT,
    Object.entries(lines)
      .map(([name, value]) => `${name}=${String(value).replace(/[\r\n]/g, '')}\n`)
      .join(''),
  )
}
process.exitCode = status
