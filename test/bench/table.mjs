/** The results as Markdown that reads well in a terminal too: what was aimed at, and all that was measured. */
import { cpus, loadavg } from 'node:os'

const median = list => list.toSorted((a, b) => a - b)[list.length >> 1]
const format = n =>
  n === undefined || Number.isNaN(n) ? '' : n >= 100 ? String(Math.round(n)) : n.toFixed(n >= 10 ? 1 : 2)

function table(head, rows) {
  const lines = [head, ...rows]
  const widths = head.map((_, i) => Math.max(3, ...lines.map(l => l[i].length)))
  const line = cells => `| ${cells.map((c, i) => (i ? c.padStart(widths[i]) : c.padEnd(widths[i]))).join(' | ')} |`
  const rule = widths.map((w, i) => (i ? `${'-'.repeat(w - 1)}:` : '-'.repeat(w)))
  return [line(head), line(rule), ...rows.map(line)].join('\n')
}

/** A line of the goals: what came out, and whether it is on the right side. */
const atMost = (most, unit = '') => ({ text: `≤ ${most}${unit}`, unit, met: n => n <= most })
const atLeast = (least, unit = '') => ({ text: `≥ ${least}${unit}`, unit, met: n => n >= least })

export function report({ sessions, cold, check }, { sizes, servers, failures, check: { files, lines } }) {
  /** The median of the passes; `of` picks a number out of one. */
  const middle = (passes, of) => (passes?.length ? median(passes.map(of)) : undefined)
  const at = (size, id, of) => middle(sessions[size]?.[id], r => of(r) ?? Number.NaN)
  /** The median of the ratios within the passes, which ran close to each other. */
  const ratio = (a, b, ofA, ofB = ofA) => {
    const n = Math.min(a?.length ?? 0, b?.length ?? 0)
    return n ? median(Array.from({ length: n }, (_, i) => ofA(a[i]) / ofB(b[i]))) : undefined
  }
  const ours = 'doorwright'
  const between = (size, a, b, ofA, ofB) => ratio(sessions[size]?.[a], sessions[size]?.[b], ofA, ofB)
  const p50 = r => r.edit.p50
  const p95 = r => r.edit.p95
  const cpu = r => r.edit.cpu
  const [small, middling, large] = [1000, 10_000, 50_000]

  const overFloor = (of, goal, byCpu) => [between(middling, ours, 'floor', of), goal, byCpu]
  const faster = (than, goal) => [between(middling, than, ours, p50), goal, between(middling, than, ours, cpu)]
  const flat = id => [p50, cpu].map(of => ratio(sessions[large]?.[id], sessions[small]?.[id], of))
  const twenty = id =>
    [p50, cpu].map((of, i) => between(middling, id, id, r => (i ? r.twenty?.cpu : r.twenty?.p50), of))
  /** What, measured, the goal, by processor time, and what the floor itself comes to. */
  const goals = [
    ['change → findings, p50 over the floor', ...overFloor(p50, atMost(2, 'x'), between(middling, ours, 'floor', cpu))],
    ['change → findings, p95 over the floor', ...overFloor(p95, atMost(3, 'x'))],
    ['change → findings, 50,000 over 1,000 lines', flat(ours)[0], atMost(1.5, 'x'), flat(ours)[1], flat('floor')[0]],
    ['change → findings, faster than JSON', ...faster('json', atLeast(10, 'x'))],
    ['change → findings, faster than YAML', ...faster('yaml', atLeast(50, 'x'))],
    ['change → findings, faster than Langium', ...faster('langium', atLeast(70, 'x'))],
    ['20 keys at once over one edit', twenty(ours)[0], atMost(1.2, 'x'), twenty(ours)[1], twenty('floor')[0]],
    ['completion right after an edit, p50', at(middling, ours, r => r.completion?.p50), atMost(5, ' ms')],
    [
      'all an editor asks after a key, p95',
      at(middling, ours, r => r.keystroke?.p95),
      atMost(25, ' ms'),
      at(middling, ours, r => r.keystroke?.cpu),
    ],
    ['cold start to findings, over the floor', ratio(cold[ours], cold.floor, r => r.found), atMost(1.5, 'x')],
    ...[
      ['memory after edits, 50,000 lines', r => r.rss, 110],
      ['memory at its peak, 50,000 lines', r => r.peak, 200],
    ].map(([what, of, most]) => [what, at(large, ours, of), atMost(most, ' MB'), undefined, at(large, 'floor', of)]),
    [`check, files of ${lines} lines a second`, middle(check, r => r.whole), atLeast(6000)],
    [
      'check, less the start of the program',
      middle(check, r => r.withoutStart),
      atLeast(6000),
      middle(check, r => r.processor),
    ],
  ].filter(([, n]) => n !== undefined && !Number.isNaN(n))

  const ids = servers.map(s => s.id)
  const count = n => n.toLocaleString('en')
  const columns = sizes.map(s => `${count(s)} lines`)
  const cells = of => sizes.map(s => of(s))
  const withP95 = name => (s, id) => {
    const middleOf = f => at(s, id, r => r[name]?.[f])
    const first = format(middleOf('p50'))
    return first && `${first} (${format(middleOf('p95'))})`
  }
  const perServer = of => ids.map(id => [id, ...cells(s => of(s, id))]).filter(([, ...c]) => c.some(Boolean))
  const times = (title, name) => [title, table(['ms: p50 (p95)', ...columns], perServer(withP95(name)))]
  const over = (title, of) => [
    title,
    table(
      ['times ours', ...columns],
      perServer((s, id) => (id === ours ? '' : format(between(s, id, ours, of)))),
    ),
  ]
  const memory = (title, field) => [
    title,
    table(
      ['MB', ...columns],
      perServer((s, id) => format(at(s, id, r => r[field]))),
    ),
  ]

  const sections = [
    [
      'Goals',
      table(
        ['at 10,000 lines where nothing else is said', 'measured', 'goal', '', 'by processor time', 'the floor'],
        goals.map(([what, n, goal, byCpu, floor]) => [
          what,
          format(n) + goal.unit,
          goal.text,
          goal.met(n) ? 'met' : 'not met',
          format(byCpu),
          format(floor),
        ]),
      ),
    ],
    times('Change to its findings', 'edit'),
    over('Change to its findings: the others by the clock', p50),
    over('Change to its findings: the others by processor time', cpu),
    [
      'Processor time of an edit',
      table(
        ['ms', ...columns],
        perServer((s, id) => format(at(s, id, cpu))),
      ),
    ],
    times('Twenty keys at once', 'twenty'),
    times('Completion sent with an edit', 'completion'),
    times('Hover after an edit', 'hover'),
    times('Inlay hints of what is visible, after an edit', 'hints'),
    times('All that an editor asks after a key, with the findings', 'keystroke'),
    [
      'The same: processor time',
      table(
        ['ms', ...columns],
        perServer((s, id) => format(at(s, id, r => r.keystroke?.cpu))),
      ),
    ],
    memory('Memory after the edits (resident)', 'rss'),
    memory('Memory after everything (resident)', 'rssAtEnd'),
    memory('Memory at its peak (resident)', 'peak'),
    memory('Live heap after everything, collected', 'heap'),
    [
      'Cold start, 100 lines',
      table(
        ['ms', 'answers', 'findings', 'findings over the floor'],
        ids
          .filter(id => cold[id])
          .map(id => [
            id,
            format(middle(cold[id], r => r.answered)),
            format(middle(cold[id], r => r.found)),
            format(ratio(cold[id], cold.floor, r => r.found)),
          ]),
      ),
    ],
    [
      `check: ${count(files)} files of ${lines} lines, one core, one thread, no cache`,
      table(
        ['files a second', 'by the clock', 'less the start', 'by processor time, less the start'],
        check.length
          ? [['doorwright', ...['whole', 'withoutStart', 'processor'].map(f => format(middle(check, r => r[f])))]]
          : [],
      ),
    ],
  ]
  const noise = `${process.version}, ${process.platform}, ${cpus().length} x ${cpus()[0]?.model}, load ${loadavg()[0].toFixed(1)}`
  return [
    '# Benchmark',
    noise,
    ...sections.filter(([, t]) => t.split('\n').length > 2).flatMap(([title, t]) => [`## ${title}`, t]),
    ...(failures.size ? ['## Failed', [...failures].map(f => `- ${f}`).join('\n')] : []),
    '',
  ].join('\n\n')
}
