/** The requests of our own, asked of the built server as the editor asks them. */
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { TextEdit, WorkspaceEdit } from 'vscode-languageserver/node'
import { type Session, startSession, uriOf } from './client.ts'

let folder: string
let job: string
let text: string
let session: Session
// biome-ignore lint/suspicious/noExplicitAny: answers are looked at piece by piece
const ask = (method: string, params: object): Promise<any> =>
  session.client.connection.sendRequest(`doorwright/${method}`, { uri: uriOf(job), ...params })

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'doorwright-custom-'))
  cpSync(fileURLToPath(new URL('../../editor/workspace', import.meta.url)), folder, { recursive: true })
  job = join(folder, 'dock.door')
  text = readFileSync(job, 'utf8')
  session = startSession()
  await session.client.initialize(folder)
})
afterEach(async () => {
  session.child.kill()
  await session.ended
  rmSync(folder, { recursive: true })
})

const lineOf = (part: string): number => text.split('\n').findIndex(l => l.includes(part))

test('a preview is of the opening at the cursor, by its mark, or of the first', async () => {
  await session.client.open(job, text)
  const of = async (p: object): Promise<string> => (await ask('preview', p)).mark
  expect(await of({})).toBe('Dock 3')
  expect(await of({ position: { line: lineOf('survey {'), character: 0 } })).toBe('Dock 4')
  expect(await of({ position: { line: lineOf('holes'), character: 0 } })).toBe('Dock 3')
  expect(await of({ mark: 'Dock 4', position: { line: 0, character: 0 } })).toBe('Dock 4')
  expect(await of({ mark: 'no such mark' })).toBe('Dock 3')
  const { marks, line, sections } = await ask('preview', {})
  expect(marks).toEqual(['Dock 3', 'Dock 4'])
  expect(line).toBe(lineOf('opening "Dock 3"'))
  const ids = sections.map((s: { id: string }) => s.id)
  expect(ids).toEqual(['state', 'balance', 'elevation', 'section', 'margins', 'values'])
  // Lines count from the opening: that of the preload is found again in the job.
  const state = sections[0].html as string
  const at = Number(/data-line="(\d+)"[^>]*data-key="preload_increment/.exec(state)![1])
  expect(line + at).toBe(lineOf('preload = 1.7 turns'))
})

test('a file without an opening has no preview, no springs and no sheet', async () => {
  await session.client.open(job, 'job "HS-1" { }\n')
  expect(await ask('preview', {})).toBeNull()
  expect(await ask('sheet', {})).toBeNull()
  expect(await ask('size', {})).toMatchObject({ ok: false, reason: 'There is no opening in this file yet.' })
})

test('the openings of a file that nobody holds open are read from the disk, and it stays closed', async () => {
  const found = await ask('openings', {})
  expect(found.map((o: { mark: string; errors: number }) => [o.mark, o.errors])).toEqual([
    ['Dock 3', 1],
    ['Dock 4', 1],
  ])
  expect(session.client.published).toEqual([])
  expect(await ask('openings', { uri: uriOf(join(folder, 'gone.door')) })).toBeNull()
})

test('springs come with the caution and an edit that balances the door', async () => {
  await session.client.open(job, text)
  const sized = await ask('size', { mark: 'Dock 3' })
  expect(sized.caution).toMatch(/Trained door technicians only/)
  expect(sized.proposals.length).toBeGreaterThan(0)
  const edit = sized.proposals[0].edit as WorkspaceEdit
  const edits =
    edit.changes?.[uriOf(job)] ?? edit.documentChanges!.flatMap(c => ('edits' in c ? (c.edits as TextEdit[]) : []))
  await session.client.change(
    job,
    2,
    [...edits].reverse().map(e => ({ range: e.range, text: e.newText })),
  )
  expect((await ask('openings', {}))[0]).toMatchObject({ mark: 'Dock 3', errors: 0 })
})

test('a sheet is a whole page without a script, with a name for its file', async () => {
  await session.client.open(job, text)
  const { html, name } = await ask('sheet', {})
  expect(html).toMatch(/^<!doctype html>/i)
  expect(html).not.toMatch(/<script/i)
  expect(name).toMatch(/^HS-2207.*\.html$/)
})
