/** What the schema has against a project file, in words and at its place. */
import { findNodeAtLocation, type Node } from 'jsonc-parser'
import type * as z from 'zod'
import { LIMITS, nearestNames, RULES } from '../service.ts'
import { entries, type Say } from './json.ts'
import { configSchema, firm } from './schema.ts'

/** What the schema has against it, in words, at the place; the node is not in force. */
export function judge(issue: z.core.$ZodIssue, root: Node, say: Say, bad: Set<Node>): void {
  const path = issue.path as (string | number)[]
  const node = findNodeAtLocation(root, path) ?? root
  if (issue.code === 'unrecognized_keys') {
    for (const name of issue.keys) {
      const entry = entries(node).find(e => e.key.value === name)
      if (entry) bad.add(entry.node)
      say(entry?.key ?? node, unknownKey(name, path))
    }
    return
  }
  // one end of a list, or the reason, spoils the setting it is part of
  const of = path[0] === 'limits' && path.length > 2 ? findNodeAtLocation(root, path.slice(0, 2)) : node
  bad.add(of ?? node)
  say(node, wrongValue(path, node))
}

function unknownKey(name: string, path: readonly (string | number)[]): string {
  const [what, known] =
    path[0] === 'limits' && path.length === 1
      ? ['limit', [...LIMITS.keys()]]
      : path[0] === 'severity'
        ? ['rule', RULES.map(r => r.id)]
        : path.length === 0
          ? ['setting', Object.keys(configSchema.shape)]
          : ['setting', ['value', 'because']]
  const near = nearestNames(name, known)
  const offer =
    near.length > 0
      ? `Did you mean ${near.map(n => `"${n}"`).join(' or ')}?`
      : what === 'setting'
        ? `There are: ${known.filter(k => k !== '$schema').join(', ')}.`
        : what === 'limit'
          ? 'They are named as in the `limits` of a job.'
          : '`doorwright rules` lists them all.'
  return `There is no ${what} "${name}" here. ${offer}`
}

export function wrongValue(path: readonly (string | number)[], node: Node): string {
  const [part, name] = path
  if (part === 'severity' && name !== undefined) {
    const rule = RULES.find(r => r.id === name)
    if (rule && firm.has(rule.id) && ['warning', 'note', 'off'].includes(node.value))
      return `"${name}" stays an error: ${rule.never ? 'it keeps people safe' : 'what is wrong there has to be put right'}. Remove this line.`
    return `How severe a rule is: ${rule && firm.has(rule.id) ? '"error"' : '"error", "warning", "note" or "off"'}.`
  }
  if (part === 'limits' && name !== undefined) {
    const example = LIMITS.get(String(name))?.field.example ?? ''
    const text = JSON.stringify(example.startsWith('[') ? example.slice(1, -1).split(', ') : example).replace(',', ', ')
    return `A limit is written as in the language, in quotes: "${name}": ${text}; or { "value": ${text}, "because": "..." }.`
  }
  if (part === 'max_warnings') return 'Expected a whole number, 0 or more.'
  if (part === 'stock' || part === 'exclude')
    return path.length > 1
      ? 'Expected a path in quotes.'
      : `Expected a list of paths: ["${part === 'stock' ? 'stock' : 'old/**'}"].`
  return part === '$schema' ? 'Expected an address in quotes.' : `Expected an object: { }.`
}
