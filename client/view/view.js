/** Runs inside the preview's page: puts in what changed and nothing else, and says what was chosen. */
const vscode = acquireVsCodeApi()
const $ = id => document.getElementById(id)
const [main, list, pin, message] = ['sections', 'mark', 'pin', 'message'].map($)

let state = vscode.getState() ?? {}
const remember = part => vscode.setState((state = { ...state, ...part }))

let line = 0
let uri
const written = new Map()

/** A section is made once; its body is written anew only when it differs. */
function sectionOf({ id, title }) {
  let section = $(id)
  if (!section) {
    section = document.createElement('details')
    section.id = id
    section.open = !(state.closed ?? []).includes(id)
    const summary = section.appendChild(document.createElement('summary'))
    summary.appendChild(document.createElement('h2')).textContent = title
    section.appendChild(document.createElement('div'))
    section.addEventListener('toggle', () =>
      remember({ closed: [...main.children].filter(s => !s.open).map(s => s.id) }),
    )
  }
  return section
}

function put(sections) {
  const focused = document.activeElement?.dataset?.key
  let changed = false
  sections.forEach((s, i) => {
    const section = sectionOf(s)
    if (main.children[i] !== section) main.insertBefore(section, main.children[i] ?? null)
    if (written.get(s.id) === s.html) return
    written.set(s.id, s.html)
    section.lastElementChild.innerHTML = s.html
    changed = true
  })
  for (const extra of [...main.children].slice(sections.length)) {
    written.delete(extra.id)
    extra.remove()
  }
  // What held the focus may have been written anew.
  if (changed && focused !== undefined && document.activeElement?.dataset?.key !== focused)
    main.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true })
}

function choices(marks, mark) {
  if (marks.join('\n') !== [...list.options].map(o => o.value).join('\n'))
    list.replaceChildren(...marks.map(m => new Option(m || '(no mark)', m)))
  if (list.value !== mark) list.value = mark
  list.disabled = marks.length === 0
}

addEventListener('message', ({ data }) => {
  if (data.type !== 'update') return
  const first = uri === undefined
  line = data.line
  uri = data.uri
  message.textContent = data.message ?? ''
  choices(data.marks, data.mark ?? '')
  pin.setAttribute('aria-pressed', String(data.pinned))
  pin.textContent = data.pinned ? 'Pinned' : 'Pin'
  put(data.sections)
  const scroll = first && state.uri === uri ? state.scroll : undefined
  if (scroll !== undefined) scrollTo(0, scroll)
  remember({ uri, mark: data.mark, pinned: data.pinned })
})

main.addEventListener('click', event => {
  const go = event.target.closest('[data-line]')
  if (go)
    vscode.postMessage({ type: 'go', line: line + Number(go.dataset.line), character: Number(go.dataset.character) })
})
list.addEventListener('change', () => vscode.postMessage({ type: 'choose', mark: list.value }))
pin.addEventListener('click', () =>
  vscode.postMessage({ type: 'pin', pinned: pin.getAttribute('aria-pressed') !== 'true' }),
)
$('sheet').addEventListener('click', () => vscode.postMessage({ type: 'sheet' }))
let pending
addEventListener('scroll', () => {
  clearTimeout(pending)
  pending = setTimeout(() => remember({ scroll: scrollY }), 100)
})

vscode.postMessage({ type: 'ready' })
