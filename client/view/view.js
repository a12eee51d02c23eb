/**
 * Runs inside the preview's page: puts in what changed and nothing else, and says what was chosen.
 *
 * @import { FromPage, Remembered, Section, Update } from './messages.ts'
 */

/**
 * What the editor gives its pages.
 * @type {{ postMessage(m: FromPage): void; getState(): Remembered | undefined; setState(s: Remembered): void }}
 */
const vscode = Reflect.get(globalThis, 'acquireVsCodeApi')()

/**
 * A part of the page that is there from the start.
 * @template {HTMLElement} E
 * @param {string} id
 * @param {new () => E} kind
 * @returns {E}
 */
function part(id, kind) {
  const element = document.getElementById(id)
  if (element instanceof kind) return element
  throw new Error(`The page has no ${id}.`)
}
const main = part('sections', HTMLElement)
const list = part('mark', HTMLSelectElement)
const pin = part('pin', HTMLButtonElement)
const message = part('message', HTMLParagraphElement)

let state = vscode.getState() ?? {}
/** @param {Remembered} fresh */
const remember = fresh => vscode.setState((state = { ...state, ...fresh }))

let line = 0
/** @type {string | undefined} */
let uri

/** @typedef {{ element: HTMLDetailsElement; body: HTMLElement; html?: string }} Shown */
/** @type {Map<string, Shown>} */
const shown = new Map()

/**
 * A section is made once; its body is written anew only when it differs.
 * @param {Section} section
 * @returns {Shown}
 */
function shownOf({ id, title }) {
  const old = shown.get(id)
  if (old) return old
  const element = document.createElement('details')
  element.id = id
  element.open = !(state.closed ?? []).includes(id)
  const summary = element.appendChild(document.createElement('summary'))
  summary.appendChild(document.createElement('h2')).textContent = title
  const made = { element, body: element.appendChild(document.createElement('div')) }
  element.addEventListener('toggle', () =>
    remember({ closed: [...shown].flatMap(([closed, s]) => (s.element.open ? [] : [closed])) }),
  )
  shown.set(id, made)
  return made
}

/** The key of what has the focus. */
const focusedKey = () =>
  document.activeElement instanceof HTMLElement ? document.activeElement.dataset.key : undefined

/** @param {readonly Section[]} sections */
function put(sections) {
  const focused = focusedKey()
  let changed = false
  sections.forEach((s, i) => {
    const section = shownOf(s)
    if (main.children[i] !== section.element) main.insertBefore(section.element, main.children[i] ?? null)
    if (section.html === s.html) return
    section.html = s.html
    section.body.innerHTML = s.html
    changed = true
  })
  for (const extra of [...main.children].slice(sections.length)) {
    shown.delete(extra.id)
    extra.remove()
  }
  // What held the focus may have been written anew.
  if (!changed || focused === undefined || focusedKey() === focused) return
  const again = main.querySelector(`[data-key="${CSS.escape(focused)}"]`)
  if (again instanceof HTMLElement) again.focus({ preventScroll: true })
}

/**
 * @param {readonly string[]} marks
 * @param {string} mark
 */
function choices(marks, mark) {
  if (marks.join('\n') !== [...list.options].map(o => o.value).join('\n'))
    list.replaceChildren(...marks.map(m => new Option(m || '(no mark)', m)))
  if (list.value !== mark) list.value = mark
  list.disabled = marks.length === 0
}

/** @param {Update} data */
function update(data) {
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
}

addEventListener('message', ({ data }) => {
  if (data.type === 'update') update(data)
})
main.addEventListener('click', event => {
  const go = event.target instanceof Element ? event.target.closest('[data-line]') : null
  if (go instanceof HTMLElement)
    vscode.postMessage({ type: 'go', line: line + Number(go.dataset.line), character: Number(go.dataset.character) })
})
list.addEventListener('change', () => vscode.postMessage({ type: 'choose', mark: list.value }))
pin.addEventListener('click', () =>
  vscode.postMessage({ type: 'pin', pinned: pin.getAttribute('aria-pressed') !== 'true' }),
)
part('sheet', HTMLButtonElement).addEventListener('click', () => vscode.postMessage({ type: 'sheet' }))
/** @type {ReturnType<typeof setTimeout> | undefined} */
let pending
addEventListener('scroll', () => {
  clearTimeout(pending)
  pending = setTimeout(() => remember({ scroll: scrollY }), 100)
})

vscode.postMessage({ type: 'ready' })
