/** Puts a new text in a file's place in one step: whoever reads meanwhile sees the old one or the new one, whole. */
import { closeSync, fsyncSync, openSync, realpathSync, renameSync, rmSync, statSync, writeSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { inWords, readText } from '../host.ts'
import type { InputFile } from './files.ts'
import { CallError } from './io.ts'

/** Writes `text` where it differs from what was read. @returns whether it was written @throws CallError in words */
export function writeChanged(input: InputFile, text: string): boolean {
  if (text === input.text) return false
  try {
    const now = readText(input.file)
    if (!now.ok || now.text !== input.text)
      throw new CallError(`${input.name} was changed by somebody else meanwhile. It was left as it is; run again.`)
    // A link stays a link: what it leads to is written.
    const file = realpathSync(input.file)
    const beside = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`)
    try {
      const handle = openSync(beside, 'wx', statSync(file).mode)
      try {
        const bytes = Buffer.from(input.mark ? `\ufeff${text}` : text)
        for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at)
        fsyncSync(handle)
      } finally {
        closeSync(handle)
      }
      renameSync(beside, file)
    } catch (error) {
      rmSync(beside, { force: true })
      throw error
    }
    return true
  } catch (error) {
    if (error instanceof CallError) throw error
    throw new CallError(`${input.name} could not be written: it ${inWords(error)}.`)
  }
}
