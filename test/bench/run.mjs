/**
 * How fast the language server and the command line are, seen from outside, beside others on the same jobs in the same
 * run: a client over stdio against the built programs. Every timed edit adds or removes a finding, so a stale answer
 * cannot count as a fast one. The servers take turns, pass by pass, so that what disturbs the machine disturbs them all;
 * what can be relied on are the ratios. Linux only: memory and processor time are read from /proc.
 *
 * `npm run bench -- --only doorwright,floor --sizes 100,10000 --passes 1 --parts sessions,cold,check --out bench.md`
 */
import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { checkSpeed, makeFolder } from './check.mjs'
import { job, NOTATIONS } from './jobs.mjs'
import { prepare, SERVERS } from './peers/peers.mjs'
import { coldStart, session } from './session.mjs'
import { report } from './table.mjs'

const BUDGET = { warm: 40, least: 3, most: 120, ms: 3000 }
const COLD_STARTS = 3
const COLD_LINES = 100
/** Beyond this the others are asked for nothing but findings: they would take minutes. */
const LONG = 10_000
const CHECK = { files: 2000, lines: 100 }

const { values } = parseArgs({
  options: {
    only: { type: 'string', default: SERVERS.map(s => s.id).join() },
    sizes: { type: 'string', default: '100,1000,10000,50000' },
    passes: { type: 'string', default: '3' },
    parts: { type: 'string', default: 'sessions,cold,check' },
    out: { type: 'string' },
  },
})
const list = text => text.split(',')
const servers = list(values.only).map(id => {
  const server = SERVERS.find(s => s.id === id)
  if (!server) throw new Error(`--only takes ${SERVERS.map(s => s.id).join(', ')}, not "${id}"`)
  return server
})
const sizes = list(values.sizes).map(Number)
const passes = Number(values.passes)
const parts = list(values.parts)

/** Each kind of measure as what every pass brought; a server that fails is left out, and why is said. */
const results = { sessions: {}, cold: {}, check: [] }
const failures = new Set()
const attempt = async (what, work, keep) => {
  const start = performance.now()
  try {
    keep(await work())
  } catch (error) {
    failures.add(`${what}: ${error.message}`)
    console.error(error.message)
  }
  console.error(`${what}: ${((performance.now() - start) / 1000).toFixed(1)} s`)
}

await prepare(servers)
const folder = parts.includes('check') ? makeFolder(CHECK.files, CHECK.lines) : undefined
for (let pass = 1; pass <= passes; pass++) {
  if (parts.includes('cold'))
    for (let i = 0; i < COLD_STARTS; i++)
      for (const s of servers)
        await attempt(
          `${pass}/${passes} start of ${s.id}`,
          () => coldStart(s, NOTATIONS[s.notation](job(COLD_LINES))),
          r => (results.cold[s.id] ??= []).push(r),
        )
  if (parts.includes('sessions'))
    for (const lines of sizes)
      for (const s of servers) {
        const brief = s.delayed || (lines > LONG && s.peer)
        await attempt(
          `${pass}/${passes} ${s.id}, ${lines} lines`,
          () => session(s, NOTATIONS[s.notation](job(lines)), BUDGET, brief),
          r => ((results.sessions[lines] ??= {})[s.id] ??= []).push(r),
        )
      }
  if (folder)
    await attempt(
      `${pass}/${passes} check`,
      () => checkSpeed(folder),
      r => results.check.push(r),
    )
}
folder?.remove()

const text = report(results, { sizes, servers, failures, check: CHECK })
console.log(text)
if (values.out) writeFileSync(values.out, text)
