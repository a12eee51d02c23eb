import { readConfig } from '/work/main/server/config.ts'
import { test } from 'vitest'
test('x', () => {
const t = `{
  "limits": {
    "drum_sag": "0.02 in/ft",
    "push_force": { "value": "30 lbf", "because": "two \\"people\\"" },
    "sprocket_teeth": 19, "door_speed": ["0.1 m/s", "0.25 m/s"],
    "slat_bow": "1/100",
    "hood_span": "3 kg", "drum_sagg": 1, "dead_wraps": "1 turn } slat x {",
    "spring_index": [4, 3]
  },
  "severity": { "spring_yield": "warning", "trade_word": "off", "rate_far": "warnin", "rail_dept": "off", "syntax": "off" },
  "exclude": ["old/**", 3], "max_warnings": -1, "excldue": []
}
`
const c = readConfig(t, '/x/doorwright.json')
console.log(c.limits, JSON.stringify(c, (k, v) => k === 'limits' ? undefined : v, 1))
console.log(readConfig('{ "limits": { "drum_sag" "x" }', 'a').problems.map(p=>p.message+JSON.stringify(p.range)))
console.log(readConfig('['.repeat(100000), 'a').problems.map(p=>p.message))
})
