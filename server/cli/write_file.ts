/** Puts a new text in a file's place in one step: whoever reads meanwhile sees the old one or the new one, whole. */
import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs'
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
    replace(realpathSync(input.file), input.mark ? `\ufeff${text}` : text)
    return true
  } catch (error) {
    if (error instanceof CallError) throw error
    throw new CallError(`${input.name} could not be written: it ${inWords(error)}.`)
  }
}

/** Writes what was asked for into a file, whether it is there or not. @param name how it is called towards the user @throws CallError in words */
export function writeNew(path: string, name: string, text: string | Iterable<string>): void {
  try {
    const there = statSync(path, { throwIfNoEntry: false })
    // a pipe or a device is written to, never replaced
    if (there && !there.isFile()) writeFileSync(path, typeof text === 'string' ? text : [...text].join(''))
    else replace(there ? realpathSync(path) : path, text)
  } catch (error) {
    throw new CallError(`${name} could not be written: it ${inWords(error)}.`)
  }
}

/** @param text whole or in parts, for what is too long for one string */
function replace(file: string, text: string | Iterable<string>): void {
  const beside = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`)
  try {
    const handle = openSync(beside, 'wx', existsSync(file) ? statSync(file).mode : 0o666)
    try {
      for (const part of typeof text === 'string' ? [text] : text) {
        const bytes = Buffer.from(part)
        for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at)
      }
      fsyncSync(handle)
    } finally {
      closeSync(handle)
    }
    renameSync(beside, file)
  } catch (error) {
    rmSync(beside, { force: true })
    throw error
  }
}
