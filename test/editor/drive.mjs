/** Parts of the editor test that work as a person does: with keys, and by looking. */
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

export const UNDERLINED = '.monaco-editor .squiggly-error'
const FIXES = '.action-widget .monaco-list-row'

export async function openJob(workbench, { folder, extension, file = join(folder, 'dock.door') }) {
  const run = await workbench.page({ folder, extension, file })
  await run.page.waitForSelector('.monaco-editor .view-line')
  return { ...run, file }
}

/** Looks until it is as wanted; then says what it saw. */
export async function eventually(look, wanted, what, within = 30_000) {
  const end = Date.now() + within
  for (;;) {
    const seen = await look()
    if (wanted(seen)) return seen
    if (Date.now() > end) throw new Error(`${what}; seen: ${seen}`)
    await new Promise(resolve => setTimeout(resolve, 50))
  }
}
export const written = (file, wanted) =>
  eventually(
    () => readFileSync(file, 'utf8'),
    text => wanted.test(text),
    `${file} never had ${wanted}`,
  )

/**
 * Asks until it is there; while the editor is still coming up it may have to be asked again, as a person would.
 * @param ask what a person does; `selector` what then is to be seen
 */
async function insist(page, ask, selector, what) {
  for (let left = 5; left > 0; left--) {
    await ask()
    const shown = page.waitForSelector(selector, { timeout: 8000 })
    if (await shown.then(Boolean, () => false)) return
    await page.keyboard.press('Escape')
  }
  throw new Error(what)
}

export const openFixes = page =>
  insist(page, () => page.keyboard.press('Control+.'), FIXES, 'no quick fixes were offered')

export const lineOf = (file, part) =>
  readFileSync(file, 'utf8')
    .split('\n')
    .findIndex(l => l.includes(part)) + 1

/** To the sample's mistake; only what is in sight is underlined. */
export async function toMistake(page, file) {
  await goToLine(page, lineOf(file, 'preload = '))
  await page.waitForSelector(UNDERLINED)
}

/** A value typed with a mistake, the quick fix for it, and a worked-out value written by a double click beside it. */
export async function keysTest(workbench, options) {
  const { page, close, file } = await openJob(workbench, options)
  await toMistake(page, file)
  // Write the line anew.
  await page.keyboard.press('End')
  await page.keyboard.press('Shift+Home')
  await page.keyboard.type('preload = 1.6 turns', { delay: 25 })
  await page.keyboard.press('Escape') // the list of suggestions, if it is open
  await page.locator('.view-line', { hasText: /12\.8.incr/ }).waitFor()
  await page.waitForSelector(UNDERLINED)
  await page.keyboard.press('ArrowLeft')
  await openFixes(page)
  await page.screenshot({ path: join(options.shots, 'quick-fix.png') })
  await page.keyboard.press('Enter')
  await page.waitForFunction(s => !document.querySelector(s), UNDERLINED)
  await page.keyboard.press('Control+s')
  await written(file, /\n {4}preload = 1 3\/4 turns\n/)

  // The hint may be drawn anew between the two clicks.
  const hint = page.locator('.view-line span[class*="dyn-rule"]', { hasText: 'counterclockwise' }).first()
  const twice = () => hint.dblclick({ timeout: 4000 }).catch(() => {})
  await insist(page, twice, '.view-line:has-text("winding")', 'a double click on the hint wrote nothing')
  await page.keyboard.press('Control+s')
  await written(file, /\n {4}winding += counterclockwise\n/)
  await close()
}

/** The packaged extension, installed as a person installs it: it is enough to open a job, and it shows the way. */
export async function installedTest(workbench, options) {
  const { page, close, file } = await openJob(workbench, { folder: options.folder })
  await toMistake(page, file)
  await walkthrough(page, options.manifest, options.shots)
  await close()
}

/** The walkthrough opens, and each of its steps shows its page and a button for its command. */
async function walkthrough(page, { contributes }, shots) {
  const [{ title, steps }] = contributes.walkthroughs
  await command(page, 'Welcome: Open Walkthrough')
  const choice = page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first()
  await choice.waitFor()
  await choice.click()
  const started = page.locator('.gettingStartedContainer')
  await started.locator('.getting-started-category', { hasText: title }).first().waitFor()
  for (const step of steps) {
    const row = started.locator('.getting-started-step', { hasText: step.title })
    await row.locator('.step-title').click()
    const [, label] = /\[(.+)\]\(command:/.exec(step.description)
    await row.locator('.monaco-button', { hasText: label }).waitFor()
    // Its page begins with a title; what is in bold or set as code is drawn and not left as it is typed.
    const text = readFileSync(join(new URL('../..', import.meta.url).pathname, step.media.markdown), 'utf8')
    const [, heading] = /^# (.+)/.exec(text)
    const shown = await webview(page, `h1:text-is(${JSON.stringify(heading)})`)
    assert.doesNotMatch(await shown.locator('body').textContent(), /\*\*|```|\(command:/)
    if (step === steps[0]) await page.screenshot({ path: join(shots, 'walkthrough.png') })
  }
}

export async function goToLine(page, line) {
  await page.keyboard.press('Control+g')
  await page.waitForSelector('.quick-input-widget', { state: 'visible' })
  await page.keyboard.type(String(line))
  await page.keyboard.press('Enter')
  await page.waitForSelector('.quick-input-widget', { state: 'hidden' })
}

export async function openFile(page, name) {
  const row = page.locator('.quick-input-list .monaco-list-row', { hasText: name }).first()
  await insist(
    page,
    async () => {
      await page.keyboard.press('Control+p')
      await page.waitForSelector('.quick-input-widget', { state: 'visible' })
      await page.keyboard.type(name)
    },
    `.quick-input-list .monaco-list-row:has-text("${name}")`,
    `no file ${name}`,
  )
  await row.click()
  await page.locator('.tab.active', { hasText: name }).first().waitFor()
}

/** Runs a command by its name, as a person does. */
export async function command(page, name) {
  const ask = async () => {
    await page.keyboard.press('F1')
    await page.waitForSelector('.quick-input-widget', { state: 'visible' })
    await page.keyboard.type(name)
  }
  const row = `.quick-input-list .monaco-list-row:has-text("${name.replace(/^.*: /, '')}")`
  await insist(page, ask, row, `no command "${name}"`)
  await page.keyboard.press('Enter')
}

/** The inner page of a webview that shows something. */
export async function webview(page, selector, within = 30_000) {
  const visible = frame => frame.locator(selector).first().isVisible().catch(() => false) // biome-ignore format: one chain
  const end = Date.now() + within
  for (;;) {
    for (const frame of page.frames()) if (await visible(frame)) return frame
    if (Date.now() > end) throw new Error(`no webview with ${selector}`)
    await page.waitForTimeout(50)
  }
}

/** Each kind of theme: what it is called in the pictures, in the editor's list, and in the document. */
const THEMES = [
  ['dark', 'Dark Modern', 'vs-dark'],
  ['high-contrast', 'Dark High Contrast', 'hc-black'],
  ['high-contrast-light', 'Light High Contrast', 'hc-light'],
  ['light', 'Light Modern', 'vs'],
]

async function inEachTheme(page, look) {
  for (const [name, theme, kind] of THEMES) {
    await page.keyboard.press('Control+k')
    await page.keyboard.press('Control+t')
    await page.waitForSelector('.quick-input-widget', { state: 'visible' })
    await page.keyboard.type(theme)
    await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: theme }).waitFor()
    await page.keyboard.press('Enter')
    await page.waitForSelector('.quick-input-widget', { state: 'hidden' })
    await page.waitForSelector(`.monaco-workbench.${kind}`)
    await look(name)
  }
}

async function hover(page) {
  const ask = async () => {
    await page.keyboard.press('Control+k')
    await page.keyboard.press('Control+i')
  }
  await insist(page, ask, '.monaco-hover:has-text("Wound springs")', 'no hover')
}

/** Pictures for somebody to look at: mistakes, the views around them, a job and its preview, in every kind of theme. */
export async function pictures(workbench, options) {
  const shot = async (name, more = {}) => {
    await page.mouse.move(800, 999) // where it brings up nothing
    await page.screenshot({ path: join(options.shots, `${name}.png`), animations: 'disabled', ...more })
  }
  const wrong = join(options.folder, 'mistakes', 'preload_between_holes.door')
  const line = lineOf(wrong, 'preload = ')
  const { page, close } = await openJob(workbench, { ...options, file: wrong })
  await toMistake(page, wrong)
  await page.keyboard.press('End')
  await page.keyboard.press('ArrowLeft')
  // The piece that the README shows.
  await openFixes(page)
  const at = await page.locator(UNDERLINED).first().boundingBox()
  await shot('preload', { clip: { x: 352, y: at.y - 180, width: 980, height: 330 } })
  await page.keyboard.press('Escape')

  await page.locator('.pane-header', { hasText: 'Door Openings' }).click()
  await page.locator('.pane-body .monaco-list-row', { hasText: 'Dock 3' }).first().waitFor()
  await page.keyboard.press('Control+Shift+M')
  await page.locator('.markers-panel .monaco-list-row', { hasText: '13.6 increments' }).first().waitFor()
  await page.keyboard.press('Control+1')
  await inEachTheme(page, async name => {
    await goToLine(page, 1)
    await goToLine(page, line)
    await page.keyboard.press('Home')
    await hover(page)
    await shot(`around-${name}`)
    await page.keyboard.press('Escape')
  })
  await page.keyboard.press('Control+j') // without the panel
  await command(page, 'Doorwright: Preview this opening')
  const frame = await webview(page, '#state li.error')
  await page.keyboard.press('Control+b') // without the side bar
  await page.waitForSelector('#workbench\\.parts\\.sidebar', { state: 'hidden' })
  await shot('readme')
  await page.keyboard.press('Control+b')

  await openFile(page, 'dock.door')
  await goToLine(page, 13)
  // What stands beside the lines comes after the text.
  await page.locator('.view-line span[class*="dyn-rule"]', { hasText: /\w/ }).first().waitFor()
  await page.locator('.codelens-decoration', { hasText: 'nothing found' }).first().waitFor()
  await frame.locator('#state li.error').waitFor({ state: 'detached' })
  await shot('job')
  await inEachTheme(page, async name => {
    // The webview is told of the theme by itself.
    const own = { light: 'vscode-light', dark: 'vscode-dark' }[name] ?? `vscode-${name}`
    await frame.waitForFunction(kind => document.body.dataset.vscodeThemeKind === kind, own)
    for (const [part, id] of ['state', 'section', 'margins', 'values'].entries()) {
      await frame.evaluate(x => document.getElementById(x).scrollIntoView(), id)
      await shot(part === 0 ? `preview-${name}` : `preview-${name}-${part + 1}`)
    }
  })
  await close()
}
