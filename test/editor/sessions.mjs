/** What a person does with the extension, with keys and the mouse. */
import assert from 'node:assert/strict'
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import {
  command,
  eventually,
  goToLine,
  lineOf,
  openFile,
  openJob,
  toMistake,
  UNDERLINED,
  webview,
  written,
} from './drive.mjs'

/** A fast typist; without any pause the editor's own answers come too late, as they would for nobody. */
const SPEED = { delay: 15 }
const NO_LISTS = { '[doorwright]': { 'editor.quickSuggestions': false, 'editor.suggestOnTriggerCharacters': false } }
const cursorIs = (page, line) => page.locator('.statusbar-item', { hasText: `Ln ${line}, ` }).waitFor()

/** Types a block with what is in it; the editor closes brackets and indents by itself. */
async function typeBlock(page, header, body) {
  await page.keyboard.type(`${header} {`, SPEED)
  for (const part of body) {
    await page.keyboard.press('Escape') // the list of suggestions, if it is open
    await page.keyboard.press('Enter')
    if (typeof part === 'string') await page.keyboard.type(part, SPEED)
    else await typeBlock(page, ...part)
  }
  await page.keyboard.press('Escape')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('End')
}

async function fixAt(page, line, title) {
  const row = page.locator('.action-widget .monaco-list-row', { hasText: title }).first()
  // To the name at the line's start or the value at its end, whichever is underlined: both stand in one line.
  for (let left = 8; left > 0; left--) {
    await goToLine(page, line)
    await page.keyboard.press(left % 2 === 0 ? 'Home' : 'End')
    if (left % 2 === 1) await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Control+.')
    const offered = row.waitFor({ timeout: 2000 })
    if (await offered.then(() => true, () => false)) return row.click() // biome-ignore format: one question
    await page.keyboard.press('Escape')
  }
  throw new Error(`no quick fix "${title}" in line ${line}`)
}

/** A job from nothing: typed, with two mistakes that quick fixes put right, an undo, and saved; the preview goes along. */
export async function sessionTest(workbench, { folder, extension, shots }) {
  const file = join(folder, 'new.door')
  writeFileSync(file, '')
  // A list of suggestions that comes late would take keys that are meant for the text.
  mkdirSync(join(folder, '.vscode'))
  writeFileSync(join(folder, '.vscode', 'settings.json'), JSON.stringify(NO_LISTS))
  const { page, close, file: sample } = await openJob(workbench, { folder, extension })
  // Brackets and indentation are the editor's as soon as the extension has come up.
  await toMistake(page, sample)
  await openFile(page, 'new.door')
  await page.locator('.monaco-editor .view-lines').first().click()
  await page.locator('.monaco-editor.focused').first().waitFor()
  await page.keyboard.type('use "stock/house.door"', SPEED)
  await page.keyboard.press('Escape')
  await page.keyboard.press('End')
  await page.keyboard.press('Enter')
  await typeBlock(page, 'job "HS-9100"', ['units = imperial'])
  await page.keyboard.press('Enter')
  await typeBlock(page, 'opening "Dock 9"', [
    'widht = 12ft',
    'height = 11ft 6in',
    'headroom = 22in',
    ['curtain', ['slat = flat_20', 'engagement = 2 3/4in', 'bottom_bar = 3 lb/ft']],
    ['rails', ['between = 12ft 1in', 'depth = 3 1/4in']],
    ['drum', ['pipe = nps6_std', 'span = 12ft 8in']],
    ['spring', ['wire = 1/2in', 'diameter = 4.9in', 'coils = 110', 'hand = right']],
    ['adjuster', ['side = right', 'holes = 8', 'preload = 1.7 turns']],
  ])
  await page.keyboard.press('Control+s')
  await page.waitForSelector(UNDERLINED)
  await page.screenshot({ path: join(shots, 'session-typed.png') })
  await command(page, 'Doorwright: Preview this opening')
  const frame = await webview(page, '#state .incomplete')
  assert.match(await frame.locator('#state').textContent(), /width/)

  await fixAt(page, lineOf(file, 'widht'), 'width')
  // With the width known, the drawing is there.
  await frame.locator('#elevation svg').waitFor()
  await fixAt(page, lineOf(file, '1.7 turns'), '1 3/4 turns')
  const finding = frame.locator('#state li', { hasText: 'preload_increment' })
  await finding.waitFor({ state: 'detached' })
  await page.keyboard.press('Control+z')
  await finding.waitFor()
  await page.keyboard.press('Control+y')
  await finding.waitFor({ state: 'detached' })
  await page.keyboard.press('Control+s')
  const text = await written(file, /\n {2}width = 12ft\n/)
  assert.match(text, /\n {4}preload = 1 3\/4 turns\n/)
  await page.screenshot({ path: join(shots, 'session.png') })
  await close()
}

/** The preview: goes with the cursor, stays when pinned, leads to the lines, keeps its place while somebody types. */
export async function previewTest(workbench, { folder, extension, shots }) {
  const { page, close, file } = await openJob(workbench, { folder, extension })
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  await command(page, 'Doorwright: Preview this opening')
  const frame = await webview(page, '#balance svg')
  for (const id of ['state', 'balance', 'elevation', 'section', 'margins', 'values'])
    assert.ok((await frame.locator(`#${id}`).count()) === 1, `no ${id}`)
  assert.match(await frame.locator('#state').textContent(), /preload_increment/)
  assert.match(await frame.locator('#balance').textContent(), /Trained door technicians only/)
  assert.match(await frame.locator('#margins').textContent(), /drum sag/)

  // While something is typed that changes one value, what did not change stays the very same.
  await frame.evaluate(() => {
    document.querySelector('#section svg').marked = true
    document.querySelector('#margins').scrollIntoView()
  })
  const before = await frame.evaluate(() => scrollY)
  await goToLine(page, lineOf(file, 'preload = '))
  await page.keyboard.press('End')
  await page.keyboard.press('Shift+Home')
  await page.keyboard.type('preload = 2 turns', { delay: 15 })
  await page.keyboard.press('Escape')
  await frame.locator('#state li', { hasText: 'preload_increment' }).waitFor({ state: 'detached' })
  assert.equal(await frame.evaluate(() => document.querySelector('#section svg').marked), true, 'drawn anew')
  const moved = Math.abs((await frame.evaluate(() => scrollY)) - before)
  assert.ok(moved < 200, `the page moved by ${moved}`)

  // Enter on a value leads to its line, without the mouse.
  await frame.locator('#margins button', { hasText: 'drum sag' }).focus()
  await page.keyboard.press('Enter')
  await cursorIs(page, lineOf(file, 'drum {'))

  await frame.locator('#pin').click()
  await page.locator('.monaco-editor .view-lines').first().click() // back into the text
  await goToLine(page, lineOf(file, 'opening "Dock 4"'))
  await cursorIs(page, lineOf(file, 'opening "Dock 4"'))
  // The status bar goes with the cursor as the preview would.
  await page.locator('.statusbar-item', { hasText: /\bDock 4: / }).waitFor()
  assert.equal(await frame.locator('#mark').inputValue(), 'Dock 3', 'pinned')
  await frame.locator('#pin').click()
  await page.locator('.tab', { hasText: 'Preview of Dock 4' }).waitFor()

  await frame.locator('#sheet').click()
  const sheet = await webview(page, '.doorwright-save')
  assert.equal(await sheet.locator('script').count(), 0)
  assert.match(await sheet.locator('body').textContent(), /Dock 3/)
  await page.screenshot({ path: join(shots, 'sheet.png') })
  // Nothing is written until somebody says so.
  const saved = join(folder, 'HS-2207-B.html')
  assert.equal(existsSync(saved), false)
  await sheet.locator('.doorwright-save a').click()
  const name = page.locator('.quick-input-widget input').first()
  await eventually(() => name.inputValue(), v => v.endsWith('HS-2207-B.html'), 'no name for the sheet') // biome-ignore format: one question
  await page.keyboard.press('Enter')
  await eventually(() => existsSync(saved), Boolean, 'the sheet was not saved')
  assert.doesNotMatch(await written(saved, /<\/html>/), /doorwright-save/)
  await close()
}

/** Whether the editor has put the preview's place where it finds it after the window was closed: some seconds later. */
const kept = (page, place) =>
  page.evaluate(async scroll => {
    const answer = request =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result)
        request.onerror = () => reject(request.error)
      })
    for (const { name } of await indexedDB.databases()) {
      const db = await answer(indexedDB.open(name))
      const tables = [...db.objectStoreNames]
      const rows = tables.length > 0 ? await answer(db.transaction(tables).objectStore(tables[0]).getAll()) : []
      db.close()
      if (rows.some(r => new RegExp(`scroll\\\\*":${scroll}\\b`).test(String(r)))) return true
    }
    return false
  }, place)

/** The window is loaded anew: the preview shows the same opening, at the same place, pinned as it was, folded as it was. */
export async function reloadTest(workbench, { folder, extension }) {
  const { page, close, reload, file } = await openJob(workbench, { folder, extension })
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  await command(page, 'Doorwright: Preview this opening')
  const before = await webview(page, '#balance svg')

  // With the Tab key alone to the finding, and with Enter to its line.
  assert.equal(await before.locator('[data-line]:not(button)').count(), 0, 'something that no key reaches')
  await before.locator('#mark').focus()
  const focused = () => before.evaluate(() => document.activeElement.closest('#state li')?.textContent ?? '')
  for (let left = 10; left > 0 && !/13\.6 increments/.test(await focused()); left--) await page.keyboard.press('Tab')
  assert.match(await focused(), /13\.6 increments/)
  await page.keyboard.press('Enter')
  await cursorIs(page, lineOf(file, 'preload = '))

  await before.locator('#mark').selectOption('Dock 4')
  await page.locator('.tab', { hasText: 'Preview of Dock 4' }).waitFor()
  await before.locator('#elevation summary').click()
  // The page remembers its place a moment after it came to rest.
  const place = await before.evaluate(
    () =>
      new Promise(done => {
        addEventListener('scroll', () => setTimeout(() => done(scrollY), 200), { once: true })
        document.querySelector('#values').scrollIntoView()
      }),
  )
  assert.ok(place > 300, `only at ${place}`)
  // What the keys reach is not hidden behind the header.
  const [heading, header] = await before.evaluate(() => [
    document.querySelector('#values summary').getBoundingClientRect().top,
    document.querySelector('header').getBoundingClientRect().bottom,
  ])
  assert.ok(heading >= header, `at ${heading}, below ${header}`)

  await eventually(() => kept(page, place), Boolean, 'the window never kept the place')

  await reload()
  const after = await webview(page, '#balance svg')
  await page.locator('.tab', { hasText: 'Preview of Dock 4' }).waitFor()
  assert.equal(await after.locator('#mark').inputValue(), 'Dock 4')
  assert.equal(await after.locator('#pin').textContent(), 'Pinned')
  assert.equal(await after.locator('#elevation').evaluate(e => e.open), false, 'it was closed')
  const now = await eventually(() => after.evaluate(() => scrollY), y => Math.abs(y - place) < 3, `was at ${place}`) // biome-ignore format: one question
  assert.ok(now > 0)
  // And it lives: it leads to the text as before.
  await after.locator('#margins button', { hasText: 'drum sag' }).click()
  await cursorIs(page, lineOf(file, 'opening "Dock 4"'))
  await close()
}

/** The tree of openings, the status bar, and the list of springs. */
export async function aroundTest(workbench, { folder, extension, shots }) {
  const { page, close, file } = await openJob(workbench, { folder, extension })
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  const status = page.locator('.statusbar-item', { hasText: /Dock 3: 1 error/ })
  await status.waitFor()
  await page.locator('.pane-header', { hasText: 'Door Openings' }).click()
  const row = page.locator('.pane-body .monaco-list-row', { hasText: 'Dock 4' })
  await row.waitFor()
  // In words, for whoever cannot see the icon.
  assert.match((await row.getAttribute('aria-label')) ?? '', /Opening Dock 4: \d+ errors?/)
  await row.click()
  await cursorIs(page, lineOf(file, 'opening "Dock 4"'))
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  await command(page, 'Doorwright: Size springs for this opening')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'out of balance by' }).first().waitFor()
  assert.match(await page.locator('.quick-input-title').textContent(), /wound springs can maim or kill/)
  const row1 = page.locator('.quick-input-list .monaco-list-row .quick-input-list-rows .monaco-icon-label-container')
  const cut = await row1.first().evaluate(e => e.scrollWidth > e.clientWidth)
  assert.equal(cut, false, 'what springs are chosen by is cut off')
  await page.screenshot({ path: join(shots, 'size.png'), animations: 'disabled' })
  await page.keyboard.press('Enter')
  // Under test the editor shows no toasts; what was said stands in its list.
  await command(page, 'Notifications: Show Notifications')
  await page.locator('.notification-list-item', { hasText: 'Trained door technicians only' }).waitFor()
  await page.locator('.statusbar-item', { hasText: /Dock 3: .*out of balance/ }).waitFor()
  await page.screenshot({ path: join(shots, 'sized.png') })
  await close()
}

/** The extension as a browser has it: no program, only a worker. It finds what is wrong, through the file that is used. */
export async function browserTest(workbench, { folder, root, at }) {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
  delete manifest.main
  mkdirSync(at, { recursive: true })
  writeFileSync(join(at, 'package.json'), JSON.stringify(manifest))
  for (const part of ['dist/browser', 'dist/view.js', 'dist/view.css', 'grammar', 'client/snippets.json'])
    cpSync(join(root, part), join(at, part), { recursive: true })
  const { page, close, file } = await openJob(workbench, { folder, extension: at })
  await toMistake(page, file)
  await page.keyboard.press('Control+Shift+M')
  const problems = page.locator('.markers-panel')
  await problems.locator('.monaco-list-row', { hasText: '13.6 increments' }).first().waitFor()
  // The slat stands in the file that is used: were it not read, this would be a finding.
  await eventually(() => problems.textContent(), t => !/flat_20|use_failed|unknown_name/.test(t), 'not read') // biome-ignore format: one question
  await page.keyboard.press('Control+1')
  await goToLine(page, lineOf(file, 'opening "Dock 4"'))
  await command(page, 'Doorwright: Preview this opening')
  await webview(page, '#balance svg')
  // The opening at the cursor, and with the cursor to another.
  await page.locator('.tab', { hasText: 'Preview of Dock 4' }).waitFor()
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  await page.locator('.tab', { hasText: 'Preview of Dock 3' }).waitFor()
  await close()
}
