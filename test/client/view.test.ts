/** The preview's page lives in a window, not in Node, so it is checked with the types of a window: strictly, as all else. */
import { join } from 'node:path'
import ts from 'typescript'
import { expect, test } from 'vitest'

test('the page of the preview has right types', { timeout: 60_000 }, () => {
  const config = join(import.meta.dirname, '../../client/view/tsconfig.json')
  const read = ts.getParsedCommandLineOfConfigFile(config, {}, { ...ts.sys, onUnRecoverableConfigFileDiagnostic() {} })!
  expect(read.options).toMatchObject({ checkJs: true, strict: true })
  expect(read.fileNames.map(f => f.slice(f.lastIndexOf('/') + 1))).toEqual(['view.js'])
  const program = ts.createProgram(read.fileNames, read.options)
  const found = [...read.errors, ...ts.getPreEmitDiagnostics(program)]
  expect(found.map(d => ts.flattenDiagnosticMessageText(d.messageText, '\n'))).toEqual([])
})
