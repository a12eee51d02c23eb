import { test } from 'vitest'
import { example } from '../../support/opening.ts'
import { check } from '../../support/host.ts'
import { RULES } from '../../../server/rules/index.ts'
test('try', () => {
  for (const r of RULES.filter(r => ['Drum and springs','Adjuster and balance'].includes(r.group))) for (const k of ['bad','good'] as const) {
    const c = check(example(r[k]))
    const n = c.of(r.id)
    console.log((k === 'bad') === (n.length > 0) ? 'OK' : 'WRONG', r.id, k, n.map(f => `\n  ${f.severity} [${f.text}] ${f.message} {${f.limit?.text}|${f.limit?.source}} ${f.related.map(x=>`<${x.text}: ${x.message}>`)} ${f.fixes.map(x => `\n    ${x.safe} ${x.title} -> ${(() => {const a = c.apply(x); return a.of(r.id).length + ' / ' + a.findings.filter(y=>!c.findings.some(z=>z.rule===y.rule)).map(y=>y.rule)})()}`)}`).join(''), '\n  others:', c.findings.filter(f=>f.rule!==r.id).map(f=>f.severity[0]+' '+f.rule).join(', '))
  }
})
