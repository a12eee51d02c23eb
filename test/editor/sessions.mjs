/** What a person does with the extension, with keys and the mouse. */
import assert from 'node:assert/strict'
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { command, goToLine, openJob, UNDERLINED, webview } from './drive.mjs'

/** A fast typist; without any pause the editor's own answers come too late, as they would for nobody. */
const SPEED = { delay: 15 }
const lineOf = (file, part) =>
  readFileSync(file, 'utf8')
    .split('\n')
    .findIndex(l => l.includes(part)) + 1
const cursorIs = (page, line) => page.locator('.statusbar-item', { hasText: `Ln ${line}, ` }).waitFor({ timeout: 5000 })

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
  await goToLine(page, line)
  // To the name at the line's start or the value at its end, whichever is underlined: both stand in one line.
  await page.keyboard.press('Home')
  await page.keyboard.press('Control+.')
  const row = page.locator('.action-widget .monaco-list-row', { hasText: title }).first()
  if (
    !(await row.waitFor({ timeout: 1500 }).then(
      () => true,
      () => false,
    ))
  ) {
    await page.keyboard.press('Escape')
    await page.keyboard.press('End')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Control+.')
    await row.waitFor({ timeout: 5000 })
  }
  await row.click()
}

/** A job from nothing: typed, with two mistakes that quick fixes put right, an undo, and saved; the preview goes along. */
export async function sessionTest(workbench, { folder, extension, shots }) {
  const file = join(folder, 'new.door')
  writeFileSync(file, '')
  const { page, close } = await openJob(workbench, { folder, extension })
  // Brackets and indentation are the editor's as soon as the extension has come up.
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  await page.keyboard.press('Control+p')
  await page.keyboard.type('new.door')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'new.door' }).first().waitFor()
  await page.keyboard.press('Enter')
  await page.locator('.tab.active', { hasText: 'new.door' }).waitFor()
  await page.locator('.monaco-editor .view-lines').first().click()
  await page.waitForTimeout(300)
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
  await page.waitForSelector(UNDERLINED, { timeout: 10_000 })
  await page.screenshot({ path: join(shots, 'session-typed.png') })
  await command(page, 'Doorwright: Preview this opening')
  const frame = await webview(page, '#state .incomplete')
  assert.match(await frame.locator('#state').textContent(), /width/)

  await fixAt(page, lineOf(file, 'widht'), 'width')
  // With the width known, the drawing is there.
  await frame.locator('#elevation svg').waitFor({ timeout: 5000 })
  await fixAt(page, lineOf(file, '1.7 turns'), '1 3/4 turns')
  const finding = frame.locator('#state li', { hasText: 'preload_increment' })
  await finding.waitFor({ state: 'detached', timeout: 5000 })
  await page.keyboard.press('Control+z')
  await finding.waitFor({ timeout: 5000 })
  await page.keyboard.press('Control+y')
  await finding.waitFor({ state: 'detached', timeout: 5000 })
  await page.keyboard.press('Control+s')
  await page.waitForTimeout(500)
  const text = readFileSync(file, 'utf8')
  assert.match(text, /\n {2}width = 12ft\n/)
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
  await frame.locator('#state li', { hasText: 'preload_increment' }).waitFor({ state: 'detached', timeout: 5000 })
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
  await page.waitForTimeout(400)
  assert.equal(await frame.locator('#mark').inputValue(), 'Dock 3', 'pinned')
  await frame.locator('#pin').click()
  await page.locator('.tab', { hasText: 'Preview of Dock 4' }).waitFor({ timeout: 5000 })

  await frame.locator('#sheet').click()
  const sheet = await webview(page, '.doorwright-save')
  assert.equal(await sheet.locator('script').count(), 0)
  assert.match(await sheet.locator('body').textContent(), /Dock 3/)
  await page.waitForTimeout(500)
  await page.screenshot({ path: join(shots, 'sheet.png') })
  // Nothing is written until somebody says so.
  const saved = join(folder, 'HS-2207-B.html')
  assert.equal(existsSync(saved), false)
  await sheet.locator('.doorwright-save a').click()
  await page.locator('.quick-input-widget input').first().waitFor({ timeout: 5000 })
  await page.waitForTimeout(500)
  await page.keyboard.press('Enter')
  for (let i = 0; i < 50 && !existsSync(saved); i++) await page.waitForTimeout(100)
  assert.doesNotMatch(readFileSync(saved, 'utf8'), /doorwright-save/)
  await close()
}

/** The tree of openings, the status bar, and the list of springs. */
export async function aroundTest(workbench, { folder, extension, shots }) {
  const { page, close, file } = await openJob(workbench, { folder, extension })
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  const status = page.locator('.statusbar-item', { hasText: /Dock 3: 1 error/ })
  await status.waitFor({ timeout: 15_000 })
  await page.locator('.pane-header', { hasText: 'Door Openings' }).click()
  const row = page.locator('.pane-body .monaco-list-row', { hasText: 'Dock 4' })
  await row.waitFor({ timeout: 10_000 })
  // In words, for whoever cannot see the icon.
  assert.match((await row.getAttribute('aria-label')) ?? '', /Opening Dock 4: \d+ errors?/)
  await row.click()
  await cursorIs(page, lineOf(file, 'opening "Dock 4"'))
  await goToLine(page, lineOf(file, 'opening "Dock 3"'))
  await command(page, 'Doorwright: Size springs for this opening')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'worst out of balance' }).first().waitFor()
  assert.match(await page.locator('.quick-input-title').textContent(), /wound springs can maim or kill/)
  await page.waitForTimeout(300)
  await page.screenshot({ path: join(shots, 'size.png') })
  await page.keyboard.press('Enter')
  // Under test the editor shows no toasts; what was said stands in its list.
  await command(page, 'Notifications: Show Notifications')
  await page.locator('.notification-list-item', { hasText: 'Trained door technicians only' }).waitFor({ timeout: 5000 })
  await page.locator('.statusbar-item', { hasText: /Dock 3: .*out of balance/ }).waitFor({ timeout: 5000 })
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
  const { page, close } = await openJob(workbench, { folder, extension: at })
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  await page.keyboard.press('Control+Shift+M')
  const problems = page.locator('.markers-panel')
  await problems.locator('.monaco-list-row', { hasText: '13.6 increments' }).first().waitFor({ timeout: 10_000 })
  // The slat stands in the file that is used: were it not read, this would be a finding.
  assert.doesNotMatch(await problems.textContent(), /flat_20|use_failed|unknown_name/)
  await page.keyboard.press('Control+1')
  await command(page, 'Doorwright: Preview this opening')
  await webview(page, '#balance svg')
  await close()
}
