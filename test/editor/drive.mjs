/** Parts of the editor test that work as a person does: with keys, and by looking. */
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

export const UNDERLINED = '.monaco-editor .squiggly-error'
const FIXES = '.action-widget .monaco-list-row'

export async function openJob(workbench, { folder, extension, file = join(folder, 'dock.door') }) {
  const run = await workbench.page({ folder, extension, file })
  await run.page.waitForSelector('.monaco-editor .view-line', { timeout: 30_000 })
  return { ...run, file }
}

/** Asks for the quick fixes; while the editor is still coming up it may have to be asked again, as a person would. */
export async function openFixes(page) {
  for (let left = 4; left > 0; left--) {
    await page.keyboard.press('Control+.')
    const shown = page.waitForSelector(FIXES, { timeout: 3000 })
    if (await shown.then(Boolean, () => false)) return
    await page.keyboard.press('Escape')
  }
  throw new Error('no quick fixes were offered')
}

export async function keysTest(workbench, options) {
  const { page, close, file } = await openJob(workbench, options)
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  // To the preload's line, and write it anew.
  await goToLine(
    page,
    readFileSync(file, 'utf8')
      .split('\n')
      .findIndex(l => l.includes('preload')) + 1,
  )
  await page.keyboard.press('End')
  await page.keyboard.press('Shift+Home')
  await page.keyboard.type('preload = 1.7 turns', { delay: 25 })
  await page.keyboard.press('Escape') // the list of suggestions, if it is open
  await page.waitForFunction(s => document.querySelector(s), UNDERLINED, { timeout: 10_000 })
  await page.waitForTimeout(300)
  await page.keyboard.press('ArrowLeft')
  await openFixes(page)
  await page.waitForTimeout(200)
  await page.screenshot({ path: join(options.shots, 'quick-fix.png') })
  await page.keyboard.press('Enter')
  await page.waitForFunction(s => !document.querySelector(s), UNDERLINED, { timeout: 10_000 })
  await page.keyboard.press('Control+s')
  await page.waitForTimeout(500)
  assert.match(readFileSync(file, 'utf8'), /preload = 1 3\/4 turns/)
  await close()
}

/** A job as it is read, and one with a mistake in it with the pointer on the mistake, for somebody to look at. */
export async function pictures(workbench, options) {
  const right = await openJob(workbench, { ...options, file: join(options.folder, 'harbour', 'dock.door') })
  // What stands beside the lines comes after the text.
  await right.page.locator('.view-line span[class*="dyn-rule"]', { hasText: /\w/ }).first().waitFor({ timeout: 20_000 })
  await right.page.waitForTimeout(1000)
  await right.page.screenshot({ path: join(options.shots, 'job.png') })
  await right.close()

  const { page, close, file } = await openJob(workbench, {
    ...options,
    file: join(options.folder, 'mistakes', 'preload_between_holes.door'),
  })
  const line =
    readFileSync(file, 'utf8')
      .split('\n')
      .findIndex(l => /^\s*preload/.test(l)) + 1
  await goToLine(page, line)
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  await page.keyboard.press('Control+Shift+M')
  await page.waitForTimeout(1500)
  await page.screenshot({ path: join(options.shots, 'problems.png') })
  await page.keyboard.press('Control+Shift+M')
  await page.keyboard.press('Control+1')
  await goToLine(page, line)
  await page.keyboard.press('Home')
  await page.keyboard.press('Control+k')
  await page.keyboard.press('Control+i')
  await page.waitForSelector('.monaco-hover', { timeout: 10_000 })
  await page.waitForTimeout(800)
  await page.screenshot({ path: join(options.shots, 'hover.png') })
  // The piece of it that the README shows.
  await page.keyboard.press('Escape')
  await page.keyboard.press('End')
  await page.keyboard.press('ArrowLeft')
  await openFixes(page)
  await page.waitForTimeout(500)
  const at = await page.locator(UNDERLINED).first().boundingBox()
  const clip = { x: 352, y: at.y - 180, width: 980, height: 310 }
  await page.screenshot({ path: join(options.shots, 'preload.png'), clip })
  await close()
}

/** The packaged extension, installed as a person installs it: it is enough to open a job. */
export async function installedTest(workbench, { folder }) {
  const { page, close } = await openJob(workbench, { folder })
  await goToLine(page, 48)
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  await close()
}

export async function goToLine(page, line) {
  await page.keyboard.press('Control+g')
  await page.waitForSelector('.quick-input-widget', { state: 'visible' })
  await page.keyboard.type(String(line))
  await page.keyboard.press('Enter')
}

/** Runs a command by its name, as a person does. */
export async function command(page, name) {
  await page.keyboard.press('F1')
  await page.waitForSelector('.quick-input-widget', { state: 'visible' })
  await page.keyboard.type(name)
  await page
    .locator('.quick-input-list .monaco-list-row', { hasText: name.replace(/^.*: /, '') })
    .first()
    .waitFor()
  await page.keyboard.press('Enter')
}

/** The inner page of a webview that shows something. */
export async function webview(page, selector, within = 15_000) {
  const end = Date.now() + within
  for (;;) {
    for (const frame of page.frames())
      if (
        await frame
          .locator(selector)
          .first()
          .isVisible()
          .catch(() => false)
      )
        return frame
    if (Date.now() > end) throw new Error(`no webview with ${selector}`)
    await page.waitForTimeout(50)
  }
}

const THEMES = { light: 'Light Modern', dark: 'Dark Modern', 'high-contrast': 'Dark High Contrast' }

/** A mistake with the preview beside it: what the README shows. */
export async function readme(workbench, options) {
  const { page, close, file } = await openJob(workbench, {
    ...options,
    file: join(options.folder, 'mistakes', 'preload_between_holes.door'),
  })
  const lines = readFileSync(file, 'utf8').split('\n')
  await goToLine(page, lines.findIndex(l => /^\s*preload/.test(l)) + 1)
  await page.waitForSelector(UNDERLINED, { timeout: 20_000 })
  await command(page, 'Doorwright: Preview this opening')
  await webview(page, '#balance svg')
  await page.keyboard.press('Control+b') // without the side bar
  await page.waitForTimeout(1000)
  await page.screenshot({ path: join(options.shots, 'readme.png') })
  await close()
}

/** A job with its preview beside it, in every kind of theme, for somebody to look at. */
export async function themes(workbench, options) {
  const { page, close } = await openJob(workbench, {
    ...options,
    file: join(options.folder, 'harbour', 'dock.door'),
  })
  await goToLine(page, 13)
  await command(page, 'Doorwright: Preview this opening')
  const frame = await webview(page, '#balance svg')
  for (const [name, theme] of Object.entries(THEMES)) {
    await page.keyboard.press('Control+k')
    await page.keyboard.press('Control+t')
    await page.waitForSelector('.quick-input-widget', { state: 'visible' })
    await page.keyboard.type(theme)
    await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: theme }).waitFor({ timeout: 5000 })
    await page.keyboard.press('Enter')
    await page.waitForTimeout(900)
    await frame.evaluate(() => scrollTo(0, 0))
    await page.screenshot({ path: join(options.shots, `preview-${name}.png`) })
    await frame.evaluate(() => document.querySelector('#section').scrollIntoView())
    await page.waitForTimeout(200)
    await page.screenshot({ path: join(options.shots, `preview-${name}-2.png`) })
  }
  await close()
}
